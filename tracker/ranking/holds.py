"""Places that models keep: "B1", "rank 2", "front", "back"."""

from __future__ import annotations

import re
from collections.abc import Sequence

from tracker.domain.problems import DataError, Problem
from tracker.domain.ranks import Block, RankModel, place_name
from tracker.domain.text import printable
from tracker.ranking.layout import Cell, places_of_blocks

_PLACE = re.compile(r"\s*(?P<letters>[A-Za-z]{1,2})\s*(?P<rank>\d{1,3})\s*")
_RANK = re.compile(r"\s*rank\s*(?P<rank>\d{1,3})\s*", re.IGNORECASE)
_WORDS = {"front": 1, "front rank": 1}
_LAST = ("back", "back rank", "last rank")
_WRITE = 'Write it like "B1", "rank 2", "front" or "back"'


def read_place(text: str) -> tuple[int, int] | Problem:
    """(file, rank) of a place as a person says it: "B1" is (2, 1)."""
    said = _PLACE.fullmatch(text)
    if not said or int(said["rank"]) < 1:
        return Problem("place", f'"{printable(text[:40])}" is no place', 'Write it like "B1"')
    file = 0
    for letter in said["letters"].upper():
        file = file * 26 + ord(letter) - ord("A") + 1
    return file, int(said["rank"])


def read_rank(text: str, ranks: int) -> int | None:
    """The rank that "rank 2", "front" or "back" means; None where it is no rank."""
    word = " ".join(text.casefold().split())
    if word in _LAST:
        return ranks
    said = _RANK.fullmatch(text)
    return int(said["rank"]) if said else _WORDS.get(word)


def read_hold(text: str, files: int, ranks: int) -> tuple[int | None, int] | Problem:
    """(file or None for a whole rank, rank) that a model is to keep."""
    rank = read_rank(text, ranks)
    if rank is not None:
        found: tuple[int | None, int] | Problem = (None, rank)
    else:
        found = read_place(text)
    if isinstance(found, Problem):
        return Problem("place", found.what, _WRITE)
    if not 1 <= found[1] <= ranks or (found[0] or 1) > files:
        what = f'"{printable(text[:40])}" lies outside {files} files and {ranks} ranks'
        return Problem("place", what, f"The last place is {place_name(files, ranks)}")
    return found


def _hold(model: RankModel, files: int, ranks: int) -> tuple[int | None, int]:
    found = read_hold(model.place, files, ranks)
    if isinstance(found, Problem):
        raise DataError(found)
    return found


def held_places(files: int, ranks: int, models: Sequence[RankModel]) -> dict[int, tuple[int, int]]:
    """(file, rank) by model id of those that keep one place; `DataError` where two keep the same."""
    out: dict[int, tuple[int, int]] = {}
    for model in models:
        if model.place:
            file, rank = _hold(model, files, ranks)
            if file is not None:
                if (file, rank) in out.values():
                    what = f"two models keep {place_name(file, rank)}"
                    raise DataError(Problem("place", what, "Free one: lastcoat ranks hold UNIT MODEL free"))
                out[model.model_id] = (file, rank)
    return out


def kept_places(
    files: int, ranks: int, models: Sequence[RankModel], blocks: Sequence[Block]
) -> list[tuple[int, int]]:
    """Places that must be filled: those that are kept, and as many of a rank as models keep that rank."""
    taken = places_of_blocks(files, ranks, blocks)
    out = list(held_places(files, ranks, models).values())
    for model in models:
        if model.place:
            file, rank = _hold(model, files, ranks)
            free = [
                (at, rank) for at in range(1, files + 1) if (at, rank) not in taken and (at, rank) not in out
            ]
            out += free[:1] if file is None else []
    return out


def held_cells(cells: Sequence[Cell], ranks: int, models: Sequence[RankModel]) -> list[frozenset[int] | None]:
    """Per model the cells it may stand in; None = any that is no block."""
    single = frozenset(number for number, cell in enumerate(cells) if cell.block is None)
    everywhere = None if len(single) == len(cells) else single
    files = max((cell.file + cell.files - 1 for cell in cells), default=0)
    out: list[frozenset[int] | None] = []
    in_rank: dict[int, int] = {}
    for model in models:
        if not model.place:
            out.append(everywhere)
            continue
        file, rank = _hold(model, max(files, 1), ranks)
        where = frozenset(
            n for n in single if cells[n].rank == rank and (file is None or cells[n].file == file)
        )
        if not where:
            what = f'"{printable(model.place)}" is no place for a single model: a larger base is there'
            raise DataError(Problem("place", what, "Hold it elsewhere, or clear the block"))
        in_rank[rank] = in_rank.get(rank, 0) + 1
        out.append(where)
    for rank, many in in_rank.items():
        room = sum(cells[n].rank == rank for n in single)
        if many > room:
            what = f"{many} models keep rank {rank}, which has {room} places"
            raise DataError(Problem("place", what, "Free some: lastcoat ranks hold UNIT MODEL free"))
    return out
