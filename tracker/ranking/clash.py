"""The clash of two neighbours by their reaches.

Across a shared edge: max over height bands of (my reach + your facing reach), less the spare room at the
joint, plus the measuring margin, never below 0. A band in which either has nothing never clashes. Two
models with other places between them: the same, less the width of those. Corners are not looked at.
"""

from __future__ import annotations

from tracker.ranking.puzzle import UM_PER_MM
from tracker.ranking.reach import Bands

NEVER_MM = -1_000_000


def overlap_mm(mine: Bands, yours: Bands) -> int | None:
    """The greatest sum of facing reaches over the bands in which both have something; None = in none."""
    return max(
        (a + b for a, b in zip(mine, yours, strict=True) if a is not None and b is not None), default=None
    )


def claim_um(mine: Bands, yours: Bands, room_mm: float, margin_mm: float) -> int:
    """What a ruler claims: micrometres of clash with so much room between the two edges."""
    overlap = overlap_mm(mine, yours)
    return 0 if overlap is None else claimed_um(overlap, room_mm, margin_mm)


def claimed_um(overlap_mm: int, room_mm: float, margin_mm: float) -> int:
    """Micrometres of clash that so much overlap of the facing reaches claims."""
    return max(0, round((overlap_mm - room_mm + margin_mm) * UM_PER_MM))


def filled(bands: Bands | None, many: int) -> tuple[int, ...]:
    """So many bands as plain numbers: where nothing is, one so low that no sum with it clashes."""
    return tuple(NEVER_MM if mm is None else mm for mm in bands or (None,) * many)
