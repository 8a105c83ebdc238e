"""Ranges as bars, one row for each thing: thin 8 times in 10, thick 5 times in 10, a dot in the middle."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from tracker.report.drawings.svg import diamond, dot, line, shape, text


class Bar(NamedTuple):
    """A row: its name, where its five quantiles (10, 25, 50, 75, 90 %) lie, and what is said of it."""

    name: str
    places: Sequence[float | None]
    """In pixels; None = beyond the right end."""
    told: str = ""
    goal: float | None = None
    goal_told: str = ""
    has_middle: bool = True


class Room(NamedTuple):
    """How rows share a sheet: names beside the bars, or above them where it is narrow."""

    left: float
    right: float
    pitch: float
    is_narrow: bool


def room_for(width: int, names: float = 190.0) -> Room:
    """Names get a column of their own from 560 pixels on."""
    return Room(12, width - 22, 46, True) if width < 560 else Room(names, width - 26, 32, False)


def rows_height(room: Room, rows: int) -> float:
    """Pixels that the rows take."""
    return room.pitch * rows + 8


def range_rows(bars: Sequence[Bar], room: Room) -> list[str]:
    """The rows from the top of the sheet."""
    out: list[str] = []
    for place, bar in enumerate(bars):
        top = 4 + room.pitch * place
        y = top + (32 if room.is_narrow else 17)
        if room.is_narrow:
            out.append(text(room.left, top + 16, bar.name, "name", room=room.right - room.left))
        else:
            out.append(text(room.left - 12, y + 4, bar.name, anchor="end", room=room.left - 16))
        out += _bar(bar, y, room.right)
    return out


def _bar(bar: Bar, y: float, end: float) -> list[str]:
    low, quarter, middle, three_quarters, high = (end if x is None else x for x in bar.places)
    out = [line(low, y, high, y, "thin", bar.told), line(quarter, y, three_quarters, y, "thick", bar.told)]
    if bar.places[-1] is None:  # an arrow: it goes on beyond what is drawn
        out.append(shape(((end + 12, y), (end, y - 7), (end, y + 7)), "full", bar.told))
    if bar.has_middle and bar.places[2] is not None:
        out.append(dot(middle, y, 6, "middle", bar.told))
    if bar.goal is not None:
        out.append(diamond(bar.goal, y, 9, "goal", bar.goal_told))
    return out
