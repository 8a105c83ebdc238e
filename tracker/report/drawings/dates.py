"""The dates: the fan of the coming months, the ready dates of every unit, the chances of the goals."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from tracker.domain.answers import Outlook
from tracker.report.drawings.axes import TimeAxis, height_marks, nice_steps, stairs
from tracker.report.drawings.ranges import Bar, range_rows, room_for, rows_height
from tracker.report.drawings.svg import Drawing, Figure, line, rect, shape, text
from tracker.report.fan import FanPoint, at_day, last_day
from tracker.report.goal_rows import GoalRow
from tracker.report.plain import at_level, chance_words, count_words, date_words

_FIVE = (10, 25, 50, 75, 90)


def ready_figure(outlooks: Sequence[Outlook], today: date, *, has_middle: bool = True) -> Figure:
    """Ready dates of each unit; goals as diamonds, today as a dotted line."""

    def draw(width: int) -> Drawing:
        room = room_for(width)
        axis = TimeAxis(today - timedelta(days=5), _horizon(outlooks, today), room.left, room.right)
        bars = [_bar(outlook, axis)._replace(has_middle=has_middle) for outlook in outlooks]
        height = rows_height(room, len(bars))
        now = line(axis.x(today), 0, axis.x(today), height, "now", "today")
        return Drawing(height + 24, [*axis.marks(0, height), now, *range_rows(bars, room)])

    words = "; ".join(
        f"{outlook.unit or outlook.army}: {date_words(at_level(outlook.ready, 10))}"
        f" to {date_words(at_level(outlook.ready, 90))}"
        for outlook in outlooks
    )
    return Figure("ready", "When things are table-ready", f"8 times in 10 within these dates. {words}.", draw)


def _bar(outlook: Outlook, axis: TimeAxis) -> Bar:
    days = [at_level(outlook.ready, level) for level in _FIVE]
    told = f"{date_words(days[0])} to {date_words(days[4])}"
    goal = outlook.goal_date
    return Bar(
        outlook.unit or outlook.army,
        [None if day is None else axis.x(day) for day in days],
        told,
        None if goal is None else axis.x(goal),
        f"goal {date_words(goal)}" if goal else "",
    )


def _horizon(outlooks: Sequence[Outlook], today: date) -> date:
    days = [day for outlook in outlooks for day in (at_level(outlook.ready, 90), outlook.goal_date) if day]
    days += [day for outlook in outlooks for day in [at_level(outlook.ready, 50)] if day]
    return max([today + timedelta(days=28), *days]) + timedelta(days=3)


def fan_figure(points: Sequence[FanPoint]) -> Figure:
    """Models not yet table-ready in the coming months: a band from quick to slow, a line in the middle."""

    def draw(width: int) -> Drawing:
        steps = nice_steps(max(point.slow for point in points))
        floor, top = 220.0, 22.0
        axis = TimeAxis(points[0].day, last_day(points), 44, width - 12)

        def y(models: float) -> float:
            return floor - (floor - top) * models / steps[-1]

        quick = stairs([(axis.x(p.day), y(p.quick)) for p in points], axis.right)
        slow = stairs([(axis.x(p.day), y(p.slow)) for p in points], axis.right)
        middle = stairs([(axis.x(p.day), y(p.middle)) for p in points], axis.right)
        return Drawing(floor + 24, [
            *height_marks(steps, y, axis.left, axis.right), *axis.marks(top, floor),
            shape([*quick, *reversed(slow)], "band"),
            shape(middle, "course", closed=False), text(axis.left + 4, 12, "models to go", "quiet"),
        ])  # fmt: skip

    end = at_day(points, last_day(points))
    words = (
        f"Today {count_words(int(points[0].middle), 'model')} to go. By {date_words(last_day(points))}"
        f" {end.middle:,.0f} left, {end.quick:,.0f} to {end.slow:,.0f}."
    )
    return Figure("fan", "The coming months", words, draw)


def goals_figure(goals: Sequence[GoalRow]) -> Figure:
    """The chance of each goal as the filled share of a bar."""
    known = [goal for goal in goals if goal.chance is not None]

    def draw(width: int) -> Drawing:
        marks: list[str] = []
        for place, goal in enumerate(known):
            y, chance = 6 + 50 * place, goal.chance or 0.0
            told = chance_words(chance)
            marks += [
                text(12, y + 12, f"{goal.name}, {date_words(goal.date)}", room=width - 110),
                text(width - 12, y + 12, told, "strong", anchor="end"),
                rect(12, y + 20, width - 24, 14, "empty"),
                rect(12, y + 20, (width - 24) * chance, 14, "full", f"{told} by {date_words(goal.date)}"),
            ]
        return Drawing(50 * len(known) + 6, marks)

    words = "; ".join(
        f"{goal.name} by {date_words(goal.date)}: {chance_words(goal.chance or 0.0)}" for goal in known
    )
    return Figure("goals", "Goals and their chances", f"{words}.", draw)
