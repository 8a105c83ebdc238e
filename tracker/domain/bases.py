"""Bases and their footprints in millimetres; an inch is 25.4 mm exactly (ISO 80000-3)."""

from __future__ import annotations

import re
from typing import Literal, NamedTuple

from tracker.domain.problems import Problem

MM_PER_INCH = 25.4
_SIZE = re.compile(
    r"^\s*(?P<width>\d+(?:[.,]\d+)?)\s*(?:mm)?\s*"
    r"(?:[x×*]\s*(?P<depth>\d+(?:[.,]\d+)?)\s*(?:mm)?)?\s*(?P<shape>round|oval|square)?\s*$",
    re.IGNORECASE,
)


class Base(NamedTuple):
    """A base: its shape, width along the front and depth along the side, in millimetres."""

    shape: Literal["rectangle", "round", "oval"]
    width_mm: float
    depth_mm: float


class Footprint(NamedTuple):
    """The outer rectangle of a formed unit, in millimetres."""

    width_mm: float
    depth_mm: float

    @property
    def inches(self) -> tuple[float, float]:
        """Width and depth in inches."""
        return self.width_mm / MM_PER_INCH, self.depth_mm / MM_PER_INCH


def parse_base(text: str) -> Base | Problem:
    """A base from the person's words: "20x20", "25", "32 round", "60x35 oval"."""
    said = _SIZE.match(text)
    if not said:
        return Problem("base", f'"{text}" is not a base size', 'Write it like "25x50" or "32 round" (mm)')
    width = float(said["width"].replace(",", "."))
    depth = float(said["depth"].replace(",", ".")) if said["depth"] else width
    if not (0 < width <= 1000 and 0 < depth <= 1000):
        return Problem("base", f'"{text}" is no size a base can have', "Give 1 to 1000 mm")
    shape = (said["shape"] or "").lower()
    if shape == "round" and width != depth:
        shape = "oval"
    return Base("round" if shape == "round" else "oval" if shape == "oval" else "rectangle", width, depth)


def footprint(base: Base, files: int, ranks: int, gap_mm: float = 0.0) -> Footprint:
    """The rectangle of `files` columns by `ranks` rows, base edge to base edge plus gaps.

    width = files * base width + (files - 1) * gap, depth likewise with ranks.
    """
    return Footprint(
        files * base.width_mm + (files - 1) * gap_mm, ranks * base.depth_mm + (ranks - 1) * gap_mm
    )
