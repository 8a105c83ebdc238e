"""Trays: inside and outside for a footprint, and how many bases lie on a tray that is there.

    inside  = footprint + play + build-up * bases along that side
    outside = inside + 2 * wall

Play is 1 to 2 mm in all; texture and paint on the edges of bases add 0.1 to 0.4 mm per base (both common
practice, no source): measure a painted rank before a tray is cut.
"""

from __future__ import annotations

from typing import NamedTuple

from tracker.domain.answers_ranks import FitAnswer, TraySize
from tracker.domain.bases import Base, written
from tracker.domain.problems import DataError, Problem
from tracker.ranking.footprint import Formation

PLAY_MM = (1.0, 2.0)
"""Least and most."""
BUILD_UP_MM = (0.1, 0.4)
"""Per base along a side, least and most."""
WALL_MM = 2.0
"""Ours: a wall that is not said."""
WALL_MOST_MM = 50.0
SLACK_MM = 1e-6
"""What a sum of decimal fractions may be off by."""

_Side = tuple[float, float]


class _Lying(NamedTuple):
    """Bases of one size on a tray, all the same way round."""

    files: int
    ranks: int
    spare_mm: _Side


def tray_for(formation: Formation, wall_mm: float = WALL_MM) -> TraySize:
    """The tray at the least play and build-up, and at the most; `DataError` for a wall that cannot be."""
    if not 0 <= wall_mm <= WALL_MOST_MM:
        what = f"a wall of {wall_mm:g} mm cannot be"
        raise DataError(Problem("wall", what, f"Say 0 to {WALL_MOST_MM:g} mm"))
    least, most = (
        _inside(formation, play, build_up) for play, build_up in zip(PLAY_MM, BUILD_UP_MM, strict=True)
    )
    outside = tuple((width + 2 * wall_mm, depth + 2 * wall_mm) for width, depth in (least, most))
    return TraySize((least, most), (outside[0], outside[1]), wall_mm)


def on_tray(tray_mm: _Side, base: Base) -> FitAnswer:
    """Files by ranks of a base on a tray by its inside, bare bases edge to edge; oblong ones also across.

    They lie across only where more fit so. Nothing fits: 0 files, 0 ranks.
    """
    along = _lying(tray_mm, base.width_mm, base.depth_mm)
    across = _lying(tray_mm, base.depth_mm, base.width_mm)
    turned = across.files * across.ranks > along.files * along.ranks
    best = across if turned else along
    return FitAnswer(tray_mm, written(base), best.files, best.ranks, best.spare_mm, turned)


def _inside(formation: Formation, play: float, build_up: float) -> _Side:
    widths = (
        width + len(row) * build_up for width, row in zip(formation.widths_mm, formation.rows, strict=True)
    )
    return max(widths) + play, formation.footprint.depth_mm + formation.ranks * build_up + play


def _lying(tray_mm: _Side, width: float, depth: float) -> _Lying:
    files, ranks = int((tray_mm[0] + SLACK_MM) // width), int((tray_mm[1] + SLACK_MM) // depth)
    if not files or not ranks:
        return _Lying(0, 0, tray_mm)
    spare = (tray_mm[0] - files * width, tray_mm[1] - ranks * depth)
    return _Lying(files, ranks, (max(spare[0], 0.0), max(spare[1], 0.0)))
