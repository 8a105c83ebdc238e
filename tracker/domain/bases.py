"""Bases and their footprints in millimetres; an inch is 25.4 mm exactly (ISO 80000-3)."""

from __future__ import annotations

import re
from typing import Literal, NamedTuple

from tracker.domain.problems import Problem
from tracker.domain.text import printable

MM_PER_INCH = 25.4
"""Exactly, by the international yard and pound agreement of 1959."""
SIDE_MOST_MM = 1000
_LETTERS_MOST = 40
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
        mend = 'Write it like "25x50" or "32 round" (mm)'
        return Problem("base", f"{_quoted(text)} is not a base size", mend)
    width = float(said["width"].replace(",", "."))
    depth = float(said["depth"].replace(",", ".")) if said["depth"] else width
    if not (1 <= width <= SIDE_MOST_MM and 1 <= depth <= SIDE_MOST_MM):
        what = f"{_quoted(text)} is no size a base can have"
        return Problem("base", what, f"Give 1 to {SIDE_MOST_MM} mm")
    shape = (said["shape"] or "").lower()
    if shape == "round" and width != depth:
        shape = "oval"
    return Base("round" if shape == "round" else "oval" if shape == "oval" else "rectangle", width, depth)


def parse_tray(text: str) -> tuple[float, float] | Problem:
    """Width and depth of a tray's inside in mm, from "210x90" or "210 x 90 mm"."""
    said = _SIZE.match(text)
    mend = f'Write its inside like "210x90", each side 1 to {SIDE_MOST_MM} mm'
    if not said or not said["depth"] or said["shape"]:
        return Problem("tray", f"{_quoted(text)} is no tray size", mend)
    width, depth = (float(said[side].replace(",", ".")) for side in ("width", "depth"))
    if not (1 <= width <= SIDE_MOST_MM and 1 <= depth <= SIDE_MOST_MM):
        return Problem("tray", f"{_quoted(text)} is no size a tray can have", mend)
    return width, depth


def _quoted(text: str) -> str:
    """What was typed, harmless and on one line."""
    seen = printable(text)
    return f'"{seen if len(seen) <= _LETTERS_MOST else seen[: _LETTERS_MOST - 1] + "…"}"'


def footprint(base: Base, files: int, ranks: int, gap_mm: float = 0.0) -> Footprint:
    """The rectangle of `files` columns by `ranks` rows, base edge to base edge plus gaps.

    width = files * base width + (files - 1) * gap, depth likewise with ranks.
    """
    return Footprint(
        files * base.width_mm + (files - 1) * gap_mm, ranks * base.depth_mm + (ranks - 1) * gap_mm
    )


def written(base: Base) -> str:
    """The base as `parse_base` reads it: "20x20", "32 round", "60x35 oval"."""
    if base.shape == "round":
        return f"{base.width_mm:g} round"
    sides = f"{base.width_mm:g}x{base.depth_mm:g}"
    return sides if base.shape == "rectangle" else f"{sides} oval"
