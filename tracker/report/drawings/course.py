"""The backlog's course: hours left by day, and marks where models came in or went elsewhere."""

from __future__ import annotations

from tracker.domain.answers import BacklogAnswer, BacklogDay
from tracker.report.drawings.axes import TimeAxis, height_marks, nice_steps, stairs
from tracker.report.drawings.svg import Drawing, Figure, shape, text
from tracker.report.plain import count_words, date_words, minutes_words
from tracker.report.words import end_words


def backlog_figure(answer: BacklogAnswer) -> Figure:
    """A stair of hours left; a triangle up where models came in, down where they went elsewhere."""
    days = [*answer.days, answer.days[-1]._replace(date=answer.as_of)]

    def draw(width: int) -> Drawing:
        steps = nice_steps(max(day.minutes for day in days) / 60)
        floor, top = 210.0, 22.0
        axis = TimeAxis(days[0].date, max(answer.as_of, days[0].date), 44, width - 12)

        def y(hours: float) -> float:
            return floor - (floor - top) * hours / steps[-1]

        course = stairs([(axis.x(day.date), y(day.minutes / 60)) for day in days], axis.right)
        marks = [mark for day in answer.days for mark in _moved(day, axis.x(day.date), y(day.minutes / 60))]
        return Drawing(floor + 24, [
            *height_marks(steps, y, axis.left, axis.right), *axis.marks(top, floor),
            shape([(course[0][0], floor), *course, (axis.right, floor)], "band"),
            shape(course, "course", closed=False), text(axis.left + 4, 12, "hours left", "quiet"), *marks,
        ])  # fmt: skip

    now = answer.days[-1]
    words = (
        f"{count_words(now.models, 'model')} to go, about {minutes_words(now.minutes)}. {end_words(answer)}"
    )
    return Figure("backlog", "The backlog's course", words, draw)


def _moved(day: BacklogDay, x: float, y: float) -> list[str]:
    out = []
    if day.added:
        told = f"{count_words(day.added, 'model')} came in, {date_words(day.date)}"
        out.append(shape(((x - 6, y + 5), (x + 6, y + 5), (x, y - 6)), "in", told))
    if day.taken_away:
        told = f"{count_words(day.taken_away, 'model')} went elsewhere, {date_words(day.date)}"
        out.append(shape(((x - 6, y - 5), (x + 6, y - 5), (x, y + 6)), "out", told))
    return out
