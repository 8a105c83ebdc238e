"""Footprints: how much room a formed unit takes, base edge to base edge.

Width is the widest rank: its bases' widths and the gaps between them. Depth is every rank's deepest base
and the gaps between ranks. For files x ranks of one base that is

    width = files * w + (files - 1) * gap,    depth = ranks * d + (ranks - 1) * gap
"""

from __future__ import annotations

from math import sqrt
from typing import NamedTuple

from tracker.domain.bases import Base, Footprint, parse_base
from tracker.domain.problems import DataError, Problem
from tracker.domain.ranks import FILES_MOST, MODELS_MOST

GAP_MOST_MM = 100.0
STAGGERED_PITCH = sqrt(3) / 2
"""Rows of circles that lie in each other's hollows stand 0.866 diameters apart (geometry)."""


class Formation(NamedTuple):
    """The bases of a unit, rank by rank, the front rank first and each from the left."""

    rows: tuple[tuple[Base, ...], ...]
    gap_mm: float = 0.0

    @property
    def files(self) -> int:
        """Bases in the fullest rank."""
        return max(map(len, self.rows))

    @property
    def ranks(self) -> int:
        """Ranks from front to back."""
        return len(self.rows)

    @property
    def models(self) -> int:
        """Bases in all."""
        return sum(map(len, self.rows))

    @property
    def last_rank(self) -> int:
        """Bases in the last rank, which may be short."""
        return len(self.rows[-1])

    @property
    def widths_mm(self) -> tuple[float, ...]:
        """Each rank's width, gaps included."""
        return tuple(
            sum(base.width_mm for base in row) + (len(row) - 1) * self.gap_mm for row in self.rows
        )  # fmt: skip

    @property
    def footprint(self) -> Footprint:
        """The outer rectangle."""
        depth = sum(max(base.depth_mm for base in row) for row in self.rows)
        return Footprint(max(self.widths_mm), depth + (self.ranks - 1) * self.gap_mm)


def formed(
    base: Base, files: int, ranks: int | None = None, models: int | None = None, gap_mm: float = 0.0
) -> Formation:
    """Files by ranks of one base; with a model count the last rank may be short, and ranks may be left out.

    `DataError` for 0 files, more places than one unit can have, or models that do not make these ranks.
    """
    _within("files", files, FILES_MOST)
    if ranks is None:
        if models is None:
            raise DataError(Problem("ranks", "neither ranks nor models are said", "Say one of them"))
        _within("models", models, MODELS_MOST)
        ranks = -(-models // files)
    _within("ranks", ranks, FILES_MOST)
    _good_gap(gap_mm)
    _few_enough(files * ranks)
    if models is None:
        return Formation(((base,) * files,) * ranks, gap_mm)
    last = models - files * (ranks - 1)
    if not 1 <= last <= files:
        what = f"{_count(models, 'model')} cannot stand {files} wide and {ranks} deep"
        mend = f"Say {files * (ranks - 1) + 1} to {files * ranks} models, or other files and ranks"
        raise DataError(Problem("models", what, mend))
    return Formation((*((base,) * files,) * (ranks - 1), (base,) * last), gap_mm)


def mixed(text: str, gap_mm: float = 0.0) -> Formation:
    """Ranks of mixed bases from "50+30, 20+20+20+20": a size alone is square, the front rank stands first.

    A base that is deeper than its neighbours makes its whole rank as deep; one that reaches into the next
    rank is a block of places (`tiling`) and not written so. `DataError` for what is no base.
    """
    _good_gap(gap_mm)
    rows = tuple(
        tuple(_base(word, number) for word in rank.split("+"))
        for number, rank in enumerate(text.split(","), start=1)
    )
    _within("ranks", len(rows), FILES_MOST)
    _within("files", max(map(len, rows)), FILES_MOST)
    _few_enough(sum(map(len, rows)))
    return Formation(rows, gap_mm)


def staggered(formation: Formation) -> Footprint | None:
    """The room of round bases whose ranks lie in the hollows of the rank before; None for other bases.

    For two ranks or more, every other one moved by half a pitch p = diameter + gap (geometry):

        width = files * p - gap + p / 2,    depth = diameter + (ranks - 1) * p * sqrt(3) / 2
    """
    base = formation.rows[0][0]
    if base.shape != "round" or any(one != base for row in formation.rows for one in row):
        return None
    if formation.ranks == 1:
        return formation.footprint
    pitch = base.width_mm + formation.gap_mm
    # A short second rank may end below the front rank's last base, so that nothing stands out.
    out = max(
        len(row) * pitch - formation.gap_mm + (pitch / 2 if at % 2 else 0.0)
        for at, row in enumerate(formation.rows)
    )
    return Footprint(out, base.depth_mm + (formation.ranks - 1) * pitch * STAGGERED_PITCH)


def _base(word: str, rank: int) -> Base:
    base = parse_base(word)
    if isinstance(base, Problem):
        mend = 'Write rows like "50+30, 20+20+20+20" (mm)'
        raise DataError(base._replace(where=f"rank {rank}", mend=mend))
    return base


def _within(what: str, count: int, most: int) -> None:
    if not 1 <= count <= most:
        raise DataError(Problem(what, f"{count} {what} cannot be", f"Say 1 to {most}"))


def _few_enough(places: int) -> None:
    if places > MODELS_MOST:
        what = f"{places} places are more than one unit has here"
        raise DataError(Problem("files", what, f"Say files and ranks of {MODELS_MOST} places or fewer"))


def _good_gap(gap_mm: float) -> None:
    if not 0 <= gap_mm <= GAP_MOST_MM:
        what = f"a gap of {gap_mm:g} mm cannot be"
        raise DataError(Problem("gap", what, f"Say 0 to {GAP_MOST_MM:g} mm"))


def _count(number: int, thing: str) -> str:
    return f"{number} {thing}" if number == 1 else f"{number} {thing}s"
