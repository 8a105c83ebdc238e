"""The pace: minutes per model of each step; and how often past estimates held."""

from __future__ import annotations

import math

from tracker.domain.answers import PaceAnswer, StepPace, TrackRecordAnswer
from tracker.report.drawings.axes import height_marks, nice_steps
from tracker.report.drawings.ranges import Bar, Room, range_rows, room_for, rows_height
from tracker.report.drawings.svg import Drawing, Figure, line, rect, text
from tracker.report.plain import at_level, count_words, per_model_words

_LEAST_MINUTES = 0.05
_TICKS = (0.1, 0.3, 1, 3, 10, 30, 100, 300, 1000)


def pace_figure(answer: PaceAnswer) -> Figure:
    """Minutes per model of each step on an axis where every doubling is as wide (logarithmic)."""
    ends = [_minutes(step, level) for step in answer.steps for level in (10, 90)]
    low, high = math.log(min(ends) / 1.15), math.log(max(ends) * 1.15)

    def draw(width: int) -> Drawing:
        room = room_for(width)
        height = rows_height(room, len(answer.steps))
        scale = (room.right - room.left) / max(high - low, 0.1)

        def x(minutes: float) -> float:
            return room.left + (math.log(minutes) - low) * scale

        bars = [
            Bar(step.step, [x(_minutes(step, level)) for level in (10, 25, 50, 75, 90)], _told(step))
            for step in answer.steps
        ]
        ticks = [tick for tick in _TICKS if low <= math.log(tick) <= high]
        marks = [line(x(tick), 0, x(tick), height, "grid") for tick in ticks]
        marks += [text(x(tick), height + 15, f"{tick:,g}", "quiet", anchor="middle") for tick in ticks]
        return Drawing(height + 40, [*marks, *range_rows(bars, room), _unit(room, height)])

    words = "; ".join(f"{step.step} {_told(step)}" for step in answer.steps)
    return Figure("pace", "Your pace", f"Minutes per model, 8 times in 10: {words}.", draw)


def _unit(room: Room, height: float) -> str:
    return text((room.left + room.right) / 2, height + 34, "minutes per model", "quiet", anchor="middle")


def _minutes(step: StepPace, level: int) -> float:
    return max(at_level(step.minutes_per_model, level), _LEAST_MINUTES)


def _told(step: StepPace) -> str:
    low, high = (per_model_words(at_level(step.minutes_per_model, level)) for level in (10, 90))
    return f"{low} to {high} min"


def record_figure(answer: TrackRecordAnswer) -> Figure:
    """How many outcomes fell in each tenth of their range, with what luck allows as broken lines."""

    def draw(width: int) -> Drawing:
        steps = nice_steps(max([*answer.tenths, *answer.tenths_luck]))
        floor, top, left, right = 190.0, 22.0, 44.0, width - 12.0
        pitch = (right - left) / 10

        def y(count: float) -> float:
            return floor - (floor - top) * count / steps[-1]

        bars = [
            rect(left + pitch * i + 3, y(count), pitch - 6, floor - y(count), "full",
                 f"{10 * i} to {10 * i + 10} %: {count_words(count, 'outcome')}")
            for i, count in enumerate(answer.tenths)
        ]  # fmt: skip
        ends = [
            text(left + pitch * i, floor + 16, f"{10 * i}", "quiet", anchor="middle") for i in range(0, 11, 2)
        ]
        luck = [
            line(left, y(count), right, y(count), "luck", "what luck allows") for count in answer.tenths_luck
        ]
        axis = text((left + right) / 2, floor + 34, "place in the range, %", "quiet", anchor="middle")
        head = text(left + 4, 12, "outcomes", "quiet")
        return Drawing(floor + 42, [*height_marks(steps, y, left, right), *bars, *luck, *ends, axis, head])

    counts = ", ".join(f"{count:,}" for count in answer.tenths)
    low, high = answer.tenths_luck
    words = f"Outcomes in each tenth of the range, lowest first: {counts}. Luck allows {low:,} to {high:,}."
    return Figure("record", "Track record of the pace", words, draw)
