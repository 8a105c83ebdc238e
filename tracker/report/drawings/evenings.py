"""The evenings of the last year: a column per week, a row per weekday, a larger square for a longer one."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from datetime import date, timedelta

from tracker.report.drawings.svg import Drawing, Figure, dot, rect, text
from tracker.report.plain import count_words, date_words, minutes_words, month_words
from tracker.report.sitting import Sitting

WEEKS = 53
_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_STEPS_MINUTES = (30.0, 60.0, 120.0)
"""A day's square grows at these minutes."""
_SIDES = (0.4, 0.6, 0.8, 1.0)
_LEFT = 32.0


def evenings_figure(sittings: Sequence[Sitting], as_of: date, planned: Sequence[date] = ()) -> Figure:
    """Squares for evenings that were, rings for evenings of unknown length and for planned ones."""
    ahead = max([as_of, *(day for day in planned if day <= as_of + timedelta(weeks=8))])
    last = ahead - timedelta(days=ahead.weekday())
    known = {
        sitting.date: sitting
        for sitting in sittings
        if last - timedelta(weeks=WEEKS - 1) <= sitting.date <= as_of
    }

    def draw(width: int) -> Drawing:
        weeks = WEEKS if width >= 560 else WEEKS // 2 + 1
        monday = last - timedelta(weeks=weeks - 1)
        pitch = (width - _LEFT - 10) / weeks
        across = pitch
        marks = [text(0, 30 + across * i, name, "quiet") for i, name in enumerate(_DAYS) if not i % 2]
        marks += _months(monday, pitch, weeks)
        marks += [_square(s, monday, pitch, across) for s in known.values() if s.date >= monday]
        marks += [_ring(day, monday, pitch, across) for day in planned if as_of < day <= ahead]
        return Drawing(across * 7 + 30, marks)

    minutes = sum(sitting.minutes or 0 for sitting in known.values())
    words = (
        f"{count_words(len(known), 'evening')} in the last year, {minutes_words(minutes)} that were noted."
    )
    return Figure("evenings", "Evenings at the desk", words, draw)


def _place(day: date, monday: date, pitch: float, across: float) -> tuple[float, float]:
    week, weekday = divmod((day - monday).days, 7)
    return _LEFT + pitch * (week + 0.5), 26 + across * weekday


def _square(sitting: Sitting, monday: date, pitch: float, across: float) -> str:
    day = sitting.date
    x, y = _place(day, monday, pitch, across)
    if sitting.minutes is None:
        return dot(x, y, 0.32 * pitch, "goal", f"{date_words(day)}: length not noted")
    side = pitch * 0.92 * _SIDES[bisect_right(_STEPS_MINUTES, sitting.minutes - 0.5)]
    told = f"{date_words(day)}: {minutes_words(sitting.minutes)}"
    return rect(x - side / 2, y - side / 2, side, side, "full", told)


def _ring(day: date, monday: date, pitch: float, across: float) -> str:
    x, y = _place(day, monday, pitch, across)
    return dot(x, y, 0.28 * pitch, "middle", f"{date_words(day)}: planned")


def _months(monday: date, pitch: float, weeks: int) -> list[str]:
    """Names of months where they begin, as many as have room."""
    out, free = [], 0.0
    for week in range(weeks - 2):
        day = monday + timedelta(days=7 * week + 6)
        x = _LEFT + pitch * week
        if day.day <= 7 and x >= free:
            out.append(text(x, 12, month_words(day).partition(" ")[0], "quiet"))
            free = x + 34
    return out
