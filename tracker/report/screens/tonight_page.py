"""Tonight in words: where you left off, what is ready, what dries, what is near, and the next goal."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from tracker.domain.answers import ForecastAnswer, Outlook
from tracker.domain.ready import ReadyLine
from tracker.domain.tonight import Finishable, LeftOff, TonightAnswer, other_curing
from tracker.report.charts import range_bars
from tracker.report.curing_words import curing_sentence
from tracker.report.little_history import may_name_a_day
from tracker.report.plain import (
    cells,
    chance_words,
    clip,
    count_words,
    date_words,
    left_words,
    minutes_words,
    pad,
    span_words,
)
from tracker.report.screens.chrome import clock_words, short_day
from tracker.report.screens.line import BLANK, PageLine, charted, head, sentences
from tracker.report.words import date_ranges

_NAME_MOST = 30
_STEP_MOST = 18
_CURING_MOST = 4
_MORE_ROOM = 30
"""Lines of a page on which a chart has room as well."""


def line_key(army: str, unit: str, step: str = "") -> str:
    """What a row of a unit, or of one of its steps, stands for."""
    return "\t".join((army, unit, step))


def read_key(key: str) -> tuple[str, str, str]:
    """(army, unit, step) of a row."""
    army, unit, step, *_ = key.split("\t")
    return army, unit, step


def models_of_key(key: str) -> int | None:
    """The models that a row of what can be finished stands for; None on other rows."""
    more = key.split("\t")[3:]
    return int(more[0]) if more else None


def tonight_lines(
    answer: TonightAnswer,
    forecast: ForecastAnswer | None,
    width: int,
    height: int = 0,
    *,
    plain: bool = False,
) -> list[PageLine]:
    """The page of an evening."""
    out = _left_off(answer.left_off, answer.now, width)
    cures = _curing(answer, width)
    if not answer.models_left:
        done = sentences("Nothing left to do: everything on the desk is table-ready.", width, "good")
        return [*out, *done, *([BLANK, head("Drying"), *cures] if cures else [])]
    if answer.minutes is not None:
        out += _finishable(answer.finishable, answer.minutes, width)
    else:
        out += _part("You can take up", answer.ready, width, answer.now)
        out += _part("Waits for dry weather", answer.weather, width, answer.now)
    out += _drying(answer, cures, width)
    if not (answer.ready or answer.weather):
        out += [*sentences("Nothing is ready this moment: it all waits for something to dry.", width), BLANK]
    open_units = open_outlooks(forecast)
    out += _near(answer, open_units, width)
    if height >= _MORE_ROOM and forecast is not None and open_units:
        ranges = date_ranges(open_units, has_middle=may_name_a_day(forecast))
        bars = range_bars(ranges, forecast.as_of, width, plain=plain)
        out += [head("When it is table-ready"), *charted(bars)]
    return out


def usual_line(answer: TonightAnswer) -> tuple[str, int, str] | None:
    """(step, models, unit) that is offered: where it was left off, as many as then, else what is first."""
    left = answer.left_off
    ready = [*answer.ready, *answer.weather]
    if left is not None:
        ready.sort(key=lambda one: ((one.army, one.unit) != (left.army, left.unit), one.step != left.step))
    if not ready:
        return None
    first = ready[0]
    same_unit = left is not None and (first.army, first.unit) == (left.army, left.unit)
    batch = left.models if left is not None and same_unit and left.models else first.models
    return first.step, min(first.models, batch), first.unit


def _left_off(left: LeftOff | None, now: datetime, width: int) -> list[PageLine]:
    if left is None:
        return []
    words = f"You left off with {clip(left.step, 24)} on {clip(left.unit, _NAME_MOST)}, "
    words += f"{short_day(left.day, now.date())}; "
    words += f"{count_words(left.models_left, 'model')} to go." if left.models_left else "that step is done."
    out = sentences(words, width)
    if left.note:
        out += sentences(f"Your note: {clip(left.note, 120)}", width, "quiet")
    return [*out, BLANK]


def _finishable(found: Sequence[Finishable], minutes: float, width: int) -> list[PageLine]:
    said = minutes_words(minutes)
    if not found:
        return [
            *sentences(f"Nothing that is ready is likely to be finished in {said}.", width, "quiet"),
            BLANK,
        ]
    names = min(max(cells(clip(one.unit, _NAME_MOST)) for one in found), _NAME_MOST)
    steps = min(max(cells(clip(one.step, _STEP_MOST)) for one in found), _STEP_MOST)
    out = [head(f"You can finish in {said}")]
    for one in found:
        text = f"{pad(clip(one.unit, names), names)}  {pad(clip(one.step, steps), steps)}  "
        text += f"{one.models:>3} of {one.models_left:>2}  {span_words(one.low_minutes, one.high_minutes):>9}"
        text += f"  {chance_words(one.chance)}"
        text += f", makes {one.makes_ready} table-ready" if one.makes_ready else ""
        text += ", tools out" if one.tools_out else ""
        out.append(
            PageLine(clip(text, width), "row", line_key(one.army, one.unit, one.step) + f"\t{one.models}")
        )
    return [*out, BLANK]


def open_outlooks(forecast: ForecastAnswer | None) -> list[Outlook]:
    """Units that are not table-ready yet."""
    return [one for one in forecast.units if one.models_ready < one.models] if forecast else []


def _part(title: str, lines: Sequence[ReadyLine], width: int, now: datetime) -> list[PageLine]:
    if not lines:
        return []
    names = min(max(cells(clip(line.unit, _NAME_MOST)) for line in lines), _NAME_MOST)
    steps = min(max(cells(clip(line.step, _STEP_MOST)) for line in lines), _STEP_MOST)
    rows = [
        PageLine(
            clip(_row(line, names, steps, now), width), "quiet" if line.until else "row",
            line_key(line.army, line.unit, line.step),
        )
        for line in lines
    ]  # fmt: skip
    return [head(title), *rows, BLANK]


def _drying(answer: TonightAnswer, cures: Sequence[PageLine], width: int) -> list[PageLine]:
    """Steps that wait for something to dry, and in the same part what else cures."""
    rows = _part("Drying", answer.drying, width, answer.now)
    if not cures:
        return rows
    return [*(rows[:-1] or [head("Drying")]), *cures, BLANK]


def _curing(answer: TonightAnswer, width: int) -> list[PageLine]:
    now, found = answer.now.replace(tzinfo=None), other_curing(answer)
    out = [PageLine(clip(curing_sentence(one, now), width), "quiet") for one in found[:_CURING_MOST]]
    more = len(found) - _CURING_MOST
    return out + ([PageLine(f"… and {more} more", "quiet")] if more > 0 else [])


def _row(line: ReadyLine, names: int, steps: int, now: datetime) -> str:
    text = f"{pad(clip(line.unit, names), names)}  {pad(clip(line.step, steps), steps)}  "
    text += pad(count_words(line.models, "model"), 10, right=True)
    remarks = [f"{line.in_hand:,} in hand"] if line.in_hand else []
    remarks += [f"needs {line.gate}"] if line.gate else []
    remarks += [f"dry at {clock_words(line.until, now)}"] if line.until else []
    return f"{text}   {', '.join(remarks)}".rstrip()


def _near(answer: TonightAnswer, open_units: Sequence[Outlook], width: int) -> list[PageLine]:
    """The unit nearest its finish line and the next goal."""
    out: list[PageLine] = []
    near = answer.nearest
    if near is not None:
        left = [left_words(one) for one in open_units if (one.army, one.unit) == near[:2]]
        about = f", {left[0]} to go" if left else ""
        words = f"Nearest its finish line: {clip(near.unit, _NAME_MOST)}"
        out += sentences(f"{words}, {near.cells - near.cells_left} of {near.cells} steps done{about}.", width)
    goal = answer.goal
    if goal is not None:
        known = [one.chance_by_goal for one in open_units if (one.army, one.unit) == (goal.army, goal.unit)]
        chance = known[0] if known else goal.chance
        words = f"Next goal: {clip(goal.unit, _NAME_MOST)} by {date_words(goal.goal_date)}"
        words += f", {chance_words(chance)}" if chance is not None else ""
        words += f" ({clip(goal.goal, 30)})" if goal.goal else ""
        out += sentences(f"{words}.", width)
    return [*out, BLANK] if out else []
