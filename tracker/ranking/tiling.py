"""Larger bases on places: how many a block takes, and what to say when sizes do not add up.

A block of W x D on places of w x d takes W / w by D / d of them when both are whole numbers within half a
millimetre; it is also tried turned. Else it takes the next whole number and leaves room (arithmetic).
"""

from __future__ import annotations

from math import ceil
from typing import NamedTuple

from tracker.domain.bases import Base, written
from tracker.ranking.footprint import Formation

SLACK_MM = 0.5
_TOGETHER_MOST = 3
"""So many blocks beside each other are thought of, where one alone does not add up."""
_NUMBERS = {2: "two", 3: "three"}


class Tiling(NamedTuple):
    """The places that one block takes."""

    files: int
    ranks: int
    spare_mm: tuple[float, float]
    """Room it leaves in width and in depth; below half a millimetre: 0."""
    turned: bool = False
    """Whether it lies across: its depth along the front."""

    @property
    def places(self) -> int:
        """Places in all."""
        return self.files * self.ranks

    @property
    def is_exact(self) -> bool:
        """Whether it fills its places."""
        return self.spare_mm == (0.0, 0.0)


def tiling(block: Base, place: Base) -> Tiling:
    """The places a block takes, straight if that adds up, else turned if that does, else the fewer."""
    straight = _laid(block.width_mm, block.depth_mm, place)
    turned = _laid(block.depth_mm, block.width_mm, place)._replace(turned=True)
    return min(straight, turned, key=lambda one: (not one.is_exact, one.places, one.turned))


def tiling_warning(block: Base, place: Base) -> str:
    """What does not add up of a block on places, in one sentence; empty where it does.

    As in "50 on 20 = 2.5 places: takes 3 and leaves 10 mm; two side by side make 5 places".
    """
    laid = tiling(block, place)
    if laid.is_exact:
        return ""
    width, depth = block.width_mm, block.depth_mm
    if laid.turned:
        width, depth = depth, width
    said = []
    if laid.spare_mm[0]:
        said.append(_side(width, place.width_mm, laid.files, "side by side"))
    if laid.spare_mm[1] and not (width == depth and place.width_mm == place.depth_mm):
        said.append(_side(depth, place.depth_mm, laid.ranks, "one behind the other"))
    return f"{written(block)} on {written(place)} does not add up: {'; '.join(said)}."


def uneven_rows(formation: Formation) -> tuple[str, ...]:
    """Ranks that are narrower than the widest, one sentence each.

    A last rank that lacks whole bases of its own size is short, which is no fault.
    """
    widest = max(formation.widths_mm)
    out = []
    for rank, (width, row) in enumerate(zip(formation.widths_mm, formation.rows, strict=True), start=1):
        lacks = widest - width
        if lacks <= SLACK_MM:
            continue
        if rank == formation.ranks and any(_whole(lacks, base.width_mm + formation.gap_mm) for base in row):
            continue
        out.append(f"Rank {rank} is {width:g} mm wide, the widest {widest:g} mm: {lacks:g} mm stay open.")
    return tuple(out)


def _laid(width: float, depth: float, place: Base) -> Tiling:
    files, ranks = _takes(width, place.width_mm), _takes(depth, place.depth_mm)
    spare = (_spare(files * place.width_mm - width), _spare(ranks * place.depth_mm - depth))
    return Tiling(files, ranks, spare)


def _takes(side: float, place: float) -> int:
    return max(ceil((side - SLACK_MM) / place), 1)


def _spare(room: float) -> float:
    return round(room, 6) if room > SLACK_MM else 0.0


def _side(side: float, place: float, takes: int, how: str) -> str:
    said = f"{side:g} on {place:g} = {round(side / place, 2):g} places: takes {takes} and leaves "
    said += f"{_spare(takes * place - side):g} mm"
    for blocks in range(2, _TOGETHER_MOST + 1):
        if _whole(blocks * side, place):
            return f"{said}; {_NUMBERS[blocks]} {how} make {round(blocks * side / place)} places"
    return said


def _whole(side: float, place: float) -> bool:
    """Whether places of that size fill the side within the slack."""
    return round(side / place) >= 1 and abs(side - round(side / place) * place) <= SLACK_MM
