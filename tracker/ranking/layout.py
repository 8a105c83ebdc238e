"""The places of a unit: single ones, blocks, and the bench beside it for models that find none."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from tracker.domain.problems import DataError, Problem
from tracker.domain.ranks import FILES_MOST, MODELS_MOST, Block, place_name

WHERE = "ranks"


class Cell(NamedTuple):
    """A place, or a block of places; on the bench file and rank are 0."""

    file: int
    rank: int
    files: int = 1
    ranks: int = 1
    block: Block | None = None

    @property
    def is_bench(self) -> bool:
        """Whether it lies beside the unit."""
        return self.file == 0


class Neighbours(NamedTuple):
    """Two cells of a layout, by their numbers."""

    first: int
    """The left one, or the one in front."""
    second: int
    beside: bool
    """Side by side; else one behind the other."""
    apart: int = 1
    """1 = edge to edge, 2 = with one place between, and so on."""


def lay_out(
    files: int, ranks: int, models: int, blocks: Sequence[Block], kept: Sequence[tuple[int, int]]
) -> tuple[Cell, ...]:
    """Cells for so many single models: the unit's places from the front left, its blocks, then the bench.

    Where models are fewer than places, places (file, rank) in `kept` are filled first, in that order, then
    the others from the front left.
    """
    refuse_sizes(files, ranks, models)
    taken = places_of_blocks(files, ranks, blocks)
    places = [
        (file, rank)
        for rank in range(1, ranks + 1)
        for file in range(1, files + 1)
        if (file, rank) not in taken
    ]
    filled = set(list(dict.fromkeys((*(place for place in kept if place in places), *places)))[:models])
    cells = [Cell(*place) for place in places if place in filled]
    cells += [Cell(block.file, block.rank, block.files, block.ranks, block) for block in blocks]
    bench = max(0, models - len(places))
    return (*cells, *(Cell(0, 0) for _ in range(bench)))


def refuse_sizes(files: int, ranks: int, models: int) -> None:
    """A `DataError` where no unit is so large or so small."""
    if not 1 <= files <= FILES_MOST or not 1 <= ranks <= FILES_MOST:
        what = f"{files} files and {ranks} ranks are no unit"
        raise DataError(Problem(WHERE, what, f"Give 1 to {FILES_MOST} of each"))
    if models > MODELS_MOST:
        what = f"{models} models are too many to plan"
        raise DataError(Problem(WHERE, what, f"Plan units of up to {MODELS_MOST}; split it"))


def places_of_blocks(files: int, ranks: int, blocks: Sequence[Block]) -> dict[tuple[int, int], Block]:
    """Which (file, rank) is under which block; a `DataError` where one does not fit or two overlap."""
    taken: dict[tuple[int, int], Block] = {}
    for block in blocks:
        at = place_name(block.file, block.rank)
        what = f"the {block.kind} at {at} takes {block.files}x{block.ranks} places"
        if (
            min(block.file, block.rank, block.files, block.ranks) < 1
            or block.file + block.files - 1 > files
            or block.rank + block.ranks - 1 > ranks
        ):
            raise DataError(
                Problem(WHERE, f"{what}, the unit has {files}x{ranks}", "Move it, or take a smaller one")
            )
        for rank in range(block.rank, block.rank + block.ranks):
            for file in range(block.file, block.file + block.files):
                if (other := taken.get((file, rank))) is not None:
                    there = f"{place_name(file, rank)} is under the {other.kind}"
                    mend = f"Clear it first, or choose another place than {at}"
                    raise DataError(Problem(WHERE, there, mend))
                taken[file, rank] = block
    return taken


def neighbours(cells: Sequence[Cell], apart_most: tuple[int, int] = (1, 1)) -> list[Neighbours]:
    """Every two cells of one rank or file that are at most so many places apart (side by side, behind)."""
    at = {
        (file, rank): number
        for number, cell in enumerate(cells)
        if not cell.is_bench
        for file in range(cell.file, cell.file + cell.files)
        for rank in range(cell.rank, cell.rank + cell.ranks)
    }
    out: dict[tuple[int, int, bool], Neighbours] = {}
    for beside, (right, back), most in ((True, (1, 0), apart_most[0]), (False, (0, 1), apart_most[1])):
        for apart in range(1, most + 1):
            for (file, rank), number in sorted(at.items(), key=lambda item: (item[0][1], item[0][0])):
                other = at.get((file + apart * right, rank + apart * back))
                if other is not None and other != number:
                    out.setdefault((number, other, beside), Neighbours(number, other, beside, apart))
    return list(out.values())


def touching(first: Cell, second: Cell, *, beside: bool) -> tuple[tuple[int, int], tuple[int, int]]:
    """(file, rank) of the two single places at which two cells face each other, the foremost or leftmost.

    For a larger base that is not its own place, the front left one, but the one next to its neighbour.
    """
    if beside:
        rank = max(first.rank, second.rank)
        return (first.file + first.files - 1, rank), (second.file, rank)
    file = max(first.file, second.file)
    return (file, first.rank + first.ranks - 1), (file, second.rank)
