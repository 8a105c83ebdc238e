"""What a ruler says of a model: read, written, turned, lifted on a stem, and put into other height bands.

A band's number holds for all heights of the band, so whatever is put into other bands takes the greatest
number of those it touches: it may claim too much, never too little.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from math import inf

from tracker.domain.bases import Base
from tracker.domain.problems import Problem
from tracker.domain.ranks import EDGES, Edge, Reach, own_edge
from tracker.domain.text import printable

BANDS_MOST = 6
REACH_MOST_MM = 200
NOTHING = "."
_NUMBER = re.compile(r"[+-]?\d{1,4}")
_MEND = 'Say front right back left like "6 -4 0 2", or low/middle/high like "6/2/. -4/-4/-1 0/0/0 2/./."'

Bands = tuple[int | None, ...]


def read_reach(text: str) -> Reach | Problem:
    """A reach from the person's words: four edges clockwise from the front, bands from the base up."""
    columns = [column.split("/") for column in text.replace("\u2212", "-").split()]
    if len(columns) != len(EDGES):
        return Problem("reach", f'"{printable(text[:60])}" is not four edges', _MEND)
    bands = {len(column) for column in columns}
    if len(bands) > 1 or max(bands) > BANDS_MOST:
        return Problem("reach", f'"{printable(text[:60])}" has not as many bands at each edge', _MEND)
    read: list[Bands] = []
    for column in columns:
        if not all(number == NOTHING or _NUMBER.fullmatch(number) for number in column):
            wrong = next(n for n in column if n != NOTHING and not _NUMBER.fullmatch(n))
            return Problem("reach", f'"{printable(wrong[:20])}" is no whole mm', _MEND)
        read.append(tuple(None if number == NOTHING else int(number) for number in column))
    if any(mm is not None and abs(mm) > REACH_MOST_MM for column in read for mm in column):
        return Problem("reach", "no model reaches so far", f"Give whole mm up to {REACH_MOST_MM}")
    return Reach(*read)


def reach_text(reach: Reach) -> str:
    """The reach as it is typed."""
    return " ".join(
        "/".join(NOTHING if mm is None else str(mm) for mm in getattr(reach, edge)) for edge in EDGES
    )


def off_base(reach: Reach, base: Base) -> Problem | None:
    """What is wrong with a reach that stops further inside an edge than the base is wide."""
    for edge in EDGES:
        across = base.depth_mm if edge in ("front", "back") else base.width_mm
        least = min((mm for mm in at_edge(reach, edge) if mm is not None), default=0)
        if least < -across:
            what = f"{-least} mm short of the {edge} edge is off a base of {across:g} mm"
            return Problem("reach", what, "Measure it again: mm past (6) or short (-4) of the edge")
    return None


def off_bands(reach: Reach, cuts_mm: Sequence[int]) -> Problem | None:
    """What is wrong with a reach that has neither one band nor as many as its cuts part."""
    many = len(reach.front)
    if many in (1, len(cuts_mm) + 1) and {len(at_edge(reach, edge)) for edge in EDGES} == {many}:
        return None
    return Problem("reach", f"{many} height bands were measured in other bands", "Measure it again")


def at_edge(reach: Reach, edge: Edge) -> Bands:
    """The numbers at one of the model's own edges."""
    bands: Bands = getattr(reach, edge)
    return bands


def turned(reach: Reach, turn: int) -> Reach:
    """The reach past each side of its place, of a model turned by so many degrees clockwise."""
    return Reach(*(at_edge(reach, own_edge(side, turn)) for side in EDGES))


def in_bands(reach: Reach, cuts_from: Sequence[int], cuts_to: Sequence[int], stem_mm: int = 0) -> Reach:
    """The reach in other height bands, of a model lifted by so many mm."""
    return Reach(*(_binned(at_edge(reach, edge), cuts_from, cuts_to, stem_mm) for edge in EDGES))


def lifted(reach: Reach, cuts_mm: Sequence[int], stem_mm: int) -> Reach:
    """The reach of a model on a stem higher by so many mm, in the same bands."""
    return in_bands(reach, cuts_mm, cuts_mm, stem_mm)


def _binned(bands: Bands, cuts_from: Sequence[int], cuts_to: Sequence[int], stem_mm: int) -> Bands:
    if len(bands) == 1:  # One band means all heights, wherever they part.
        return bands * (len(cuts_to) + 1)
    old = [(low + stem_mm, high + stem_mm) for low, high in _spans(cuts_from)]
    out: list[int | None] = []
    for low, high in _spans(cuts_to):
        there = [
            mm for mm, (from_mm, to_mm) in zip(bands, old, strict=True)
            if mm is not None and from_mm < high and to_mm > low
        ]  # fmt: skip
        out.append(max(there, default=None))
    return tuple(out)


def _spans(cuts_mm: Sequence[int]) -> list[tuple[float, float]]:
    return list(zip((0.0, *cuts_mm), (*cuts_mm, inf), strict=True))
