"""Text charts: pure functions from numbers to lines of text, for the command line and the terminal UI.

Nothing here needs colour to be read. With `plain` only ASCII signs are used, for terminals and files
that have no others.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from typing import NamedTuple

from tracker.report.plain import clip, month_words, pad

_BLOCKS = " ▁▂▃▄▅▆▇█"


class Signs(NamedTuple):
    """The signs a chart is drawn with."""

    outer: str
    inner: str
    middle: str
    today: str
    goal: str
    beyond: str


FINE = Signs("─", "━", "●", "│", "◇", "→")
ASCII = Signs("-", "=", "O", "|", "G", ">")


class DateRange(NamedTuple):
    """One bar: quantiles of a date at 10, 25, 50, 75 and 90 %, and the date it is wanted for."""

    label: str
    days: tuple[date | None, date | None, date | None, date | None, date | None]
    goal: date | None = None


def range_bars(bars: Sequence[DateRange], today: date, width: int = 80, *, plain: bool = False) -> list[str]:
    """Ready dates as bars on one axis of time, today at the left end; empty without bars.

    A thin line spans 10 to 90 %, a thick one 25 to 75 %, a dot is the middle; an arrow at the right
    end means that the rest lies beyond the horizon.
    """
    if not bars:
        return []
    signs = ASCII if plain else FINE
    label_width = min(max(len(clip(bar.label, 24)) for bar in bars) + 1, 25)
    room = max(width - label_width - 2, 10)
    known = [day for bar in bars for day in (*bar.days, bar.goal) if day is not None]
    last = max([today + timedelta(days=28), *known])
    scale = (room - 1) / (last - today).days
    out = [
        pad(clip(bar.label, label_width - 1), label_width) + _bar(bar, today, scale, room, signs).rstrip()
        for bar in bars
    ]
    return [*out, *time_axis(today, last, scale, room, label_width, start="today")]


def _bar(bar: DateRange, today: date, scale: float, room: int, signs: Signs) -> str:
    def place(day: date | None) -> int:
        return room if day is None else min(max(round((day - today).days * scale), 0), room - 1)

    row = [signs.today] + [" "] * room
    low, quarter, middle, three_quarters, high = map(place, bar.days)
    for i in range(low, min(high, room - 1) + 1):
        row[i] = signs.inner if quarter <= i <= three_quarters else signs.outer
    if bar.goal is not None:
        row[place(bar.goal)] = signs.goal
    if middle < room:
        row[middle] = signs.middle
    if high == room:
        row[room] = signs.beyond
    return "".join(row)


def time_axis(first: date, last: date, scale: float, room: int, indent: int, *, start: str = "") -> list[str]:
    """One line with as many months as have room, each beginning at its first day."""
    row = list(start.ljust(room + 2))
    free_from = len(start) + 2 if start else 0
    month = date(first.year, first.month, 1)
    while month <= last:
        place = max(round((month - first).days * scale), 0)
        words = month_words(month)
        if (month >= first or not (place or start)) and place >= free_from and place + len(words) <= len(row):
            row[place : place + len(words)] = words
            free_from = place + len(words) + 3
        month = (month + timedelta(days=32)).replace(day=1)
    return [(" " * indent + "".join(row)).rstrip()]


def course(
    points: Sequence[tuple[date, float]], last: date, width: int = 80, height: int = 6, *, plain: bool = False
) -> list[str]:
    """A quantity over time as columns of blocks, from the first point to `last`; empty without points.

    A point holds until the next one. The left margin names the highest value and zero.
    """
    if not points:
        return []
    first = points[0][0]
    top = max(value for _, value in points)
    margin = max(len(f"{top:,.0f}"), 1) + 1
    room = max(width - margin - 1, 10)
    values = _sampled(points, first, last, room)
    rows = []
    for level in range(height - 1, -1, -1):
        name = f"{top:,.0f}" if level == height - 1 else "0" if level == 0 else ""
        rows.append(pad(name, margin - 1, right=True) + " " + _blocks(values, top, level, height, plain))
    scale = (room - 1) / max((last - first).days, 1)
    return [row.rstrip() for row in rows] + time_axis(first, last, scale, room - 1, margin)


def _sampled(points: Sequence[tuple[date, float]], first: date, last: date, room: int) -> list[float]:
    """The value that holds at each of `room` evenly spaced days."""
    span = max((last - first).days, 0)
    out, i = [], 0
    for column in range(room):
        day = first + timedelta(days=round(span * column / max(room - 1, 1)))
        while i + 1 < len(points) and points[i + 1][0] <= day:
            i += 1
        out.append(points[i][1])
    return out


def _blocks(values: Sequence[float], top: float, level: int, height: int, plain: bool) -> str:
    signs = []
    for value in values:
        eighths = round(8 * height * value / top) if top > 0 else 0
        if value > 0:
            eighths = max(eighths, 1)  # something left is never drawn as nothing
        part = min(max(eighths - 8 * level, 0), 8)
        signs.append(("#" if part >= 4 or (part and level == 0) else " ") if plain else _BLOCKS[part])
    return "".join(signs)
