"""Fillers: larger bases that stand in for models, and how many a minimum model count allows.

    least  = ceil(share * places), or a fixed number, the larger where both are asked for
    most   = floor((places - least - places saved already) / places saved by one)

and no more than have room behind a front rank of models alone. Which numbers an event asks for, the person
types; none is ours.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import ceil, floor
from typing import NamedTuple

from tracker.domain.problems import DataError, Problem
from tracker.domain.ranks import Block

_ROUNDING = 1e-9
"""60 % of 30 places are 18 models, whatever binary fractions make of it."""

_Cell = tuple[int, int]


class FillersAllowed(NamedTuple):
    """What a minimum count and the room behind the front rank allow, beside the blocks that stand already."""

    least_models: int
    most_fillers: int
    models_left: int
    """Models that stand with that many."""


def least_models(places: int, *, fixed: int | None = None, percent: float | None = None) -> int:
    """The fewest models that a rule asks for; 0 without a rule. `DataError` for more than the places."""
    if percent is not None and not 0 <= percent <= 100:
        what = f"a minimum of {percent:g} % cannot be"
        raise DataError(Problem("minimum", what, "Say 0 to 100 %"))
    if fixed is not None and fixed < 0:
        raise DataError(Problem("minimum", f"a minimum of {fixed} models cannot be", "Say 0 or more"))
    share = 0 if percent is None else ceil(percent * places / 100 - _ROUNDING)
    least = max(share, fixed or 0)
    if least > places:
        what = f"a minimum of {least} models is more than the {places} places"
        raise DataError(Problem("minimum", what, f"Say {places} or fewer"))
    return least


def saved_by(blocks: Sequence[Block]) -> int:
    """Models that blocks save: the places they take less the models they hold.

    `DataError` for a block that holds more models than it takes places.
    """
    for block in blocks:
        if not 0 <= block.models <= block.files * block.ranks:
            places = block.files * block.ranks
            what = f"a base on {places} places cannot hold {block.models} models"
            raise DataError(Problem("models", what, f"Say 0 to {places}"))
    return sum(block.files * block.ranks - block.models for block in blocks)


def models_left(places: int, blocks: Sequence[Block]) -> int:
    """Models that stand when these blocks do; `DataError` for blocks that take more places than there are."""
    taken = sum(block.files * block.ranks for block in blocks)
    if taken > places:
        what = f"the larger bases take {taken} places, and there are {places}"
        raise DataError(Problem("fillers", what, "Take fewer or smaller ones"))
    return places - saved_by(blocks)


def fillers_allowed(
    files: int, ranks: int, block: tuple[int, int], least: int, *, blocks: Sequence[Block] = (),
    may_turn: bool = False,
) -> FillersAllowed:  # fmt: skip
    """How many fillers of (files, ranks) places may stand more than do already, and the models then left.

    `may_turn`: it takes its places lying across as well. `DataError` for one that is larger than the unit.
    """
    ways = {block, block[::-1]} if may_turn else {block}
    if not any(wide <= files and deep <= ranks for wide, deep in ways):
        what = f"a filler of {block[0]} by {block[1]} places is larger than {files} files by {ranks} ranks"
        raise DataError(Problem("filler", what, "Take a smaller base"))
    stand = models_left(files * ranks, blocks)
    by_count = max(floor((stand - least) / (block[0] * block[1])), 0)
    most = min(by_count, room_for(files, ranks, block, blocks, may_turn=may_turn))
    return FillersAllowed(least, most, stand - most * block[0] * block[1])


def room_for(
    files: int, ranks: int, block: tuple[int, int], blocks: Sequence[Block] = (), *, may_turn: bool = False
) -> int:
    """How many blocks of (files, ranks) places find room behind the front rank, beside those that stand.

    They are laid from the left and the front, so now and then one more would find room in another pattern;
    in an empty unit there are never fewer than side by side and one behind the other.
    """
    ways = [block, block[::-1]] if may_turn and block[0] != block[1] else [block]
    taken = {cell for one in blocks for cell in _cells((one.file, one.rank), (one.files, one.ranks))}
    return max(_laid(files, ranks, order, taken) for order in (ways, ways[::-1]))


def _laid(files: int, ranks: int, ways: Sequence[tuple[int, int]], taken: set[_Cell]) -> int:
    """Blocks laid place by place, each the first of these ways round that fits."""
    full, laid = set(taken), 0
    for rank in range(2, ranks + 1):
        for file in range(1, files + 1):
            for wide, deep in ways:
                cells = set(_cells((file, rank), (wide, deep)))
                inside = file + wide - 1 <= files and rank + deep - 1 <= ranks
                if inside and full.isdisjoint(cells):
                    full |= cells
                    laid += 1
                    break
    return laid


def _cells(at: _Cell, size: tuple[int, int]) -> Iterator[_Cell]:
    for file in range(at[0], at[0] + size[0]):
        for rank in range(at[1], at[1] + size[1]):
            yield file, rank
