"""Places a person names, and orders to be kept: refused where no model can stand like that."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from tracker.domain.problems import DataError, Problem
from tracker.domain.ranks import TURNS, Block, Placed, place_name
from tracker.ranking.holds import read_place
from tracker.workbench.naming import shown
from tracker.workbench.ranks import Seen

STEM_MOST_MM = 300


def said_place(place: str) -> tuple[int, int]:
    """(file, rank) of "B1"; a `DataError` where it is none."""
    read = read_place(place)
    if isinstance(read, Problem):
        raise DataError(read)
    return read


def single_place(it: Seen, place: str) -> tuple[int, int]:
    """(file, rank) of a place of the unit that no larger base takes; else a `DataError`."""
    file, rank = said_place(place)
    if file > it.files or rank > it.ranks:
        what = f"{place_name(file, rank)} lies outside {it.files} files and {it.ranks} ranks"
        raise DataError(Problem("place", what, f"The last place is {place_name(it.files, it.ranks)}"))
    block = block_at(it.notes.blocks, (file, rank))
    if block is not None:
        what = f"the {block.kind} takes {place_name(file, rank)}"
        mend = f"Choose another place, or clear it: {clear_command(it, block)}"
        raise DataError(Problem("place", what, mend))
    return file, rank


def block_at(blocks: Iterable[Block], at: tuple[int, int]) -> Block | None:
    """The larger base that takes a place, even one that lies outside of its unit."""
    file, rank = at
    return next(
        (
            block
            for block in blocks
            if 0 <= file - block.file < block.files and 0 <= rank - block.rank < block.ranks
        ),
        None,
    )


def clear_command(it: Seen, block: Block) -> str:
    """What to type so that a larger base goes."""
    return f"lastcoat ranks clear {shown(it.unit.name)} --at {place_name(block.file, block.rank)}"


def refuse_on_larger_bases(it: Seen, chosen: Sequence[tuple[int, int]]) -> None:
    """A `DataError` where one of these (id, number) stands on a larger base, or is its scenery."""
    larger = {block.model_id: block for block in it.notes.blocks if block.model_id is not None}
    for model, number in chosen:
        if block := larger.get(model):
            what = f"model {number} goes with the {block.kind} at {place_name(block.file, block.rank)}"
            raise DataError(Problem("models", what, f"Clear that first: {clear_command(it, block)}"))


def refuse_pose(turn: int | None, stem_mm: int | None) -> None:
    """A `DataError` for a turn or a stem that no model can have."""
    if turn is not None and turn not in TURNS["any"]:
        raise DataError(Problem("--turn", f"{turn} is no turn", "Say 0, 90, 180 or 270"))
    if stem_mm is not None and not 0 <= stem_mm <= STEM_MOST_MM:
        what = f"a stem higher by {stem_mm} mm cannot be"
        raise DataError(Problem("--stem", what, f"Say 0 to {STEM_MOST_MM}"))


def stored_order(it: Seen, placed: Iterable[Placed]) -> list[Placed]:
    """What is kept of an order: models on larger bases stand where their bases do."""
    larger = {block.model_id for block in it.notes.blocks}
    return [one for one in placed if one.model_id not in larger]


def refuse_unfit(it: Seen, placed: Sequence[Placed]) -> None:
    """A `DataError` for an order that the unit cannot stand in, as it is now."""
    places = {(one.file, one.rank) for one in placed}
    fits = all(
        1 <= file <= it.files and 1 <= rank <= it.ranks and block_at(it.notes.blocks, (file, rank)) is None
        for file, rank in places
    )
    if not fits or len(places) < len(placed) or len({one.model_id for one in placed}) < len(placed):
        mend = f"Plan it again: lastcoat ranks plan {shown(it.unit.name)}"
        raise DataError(Problem("ranks", "this order does not fit the unit any more", mend))
    for one in placed:
        refuse_pose(one.turn, one.stem_mm)
