"""A puzzle laid out for speed: neighbours of every cell, links of one pair of cells merged into one kind."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from random import Random
from typing import NamedTuple

from tracker.ranking.puzzle import Puzzle

Part = tuple[int, int, bool]
"""(table, weight, turned over): one link as seen from one of its cells."""

Rows = list[list[int]]
"""`rows[my state][your state]`."""


class Wiring(NamedTuple):
    """What every method of the solver reads; cells, pieces and states keep their numbers."""

    puzzle: Puzzle
    piece_of: tuple[int, ...]
    """Piece of every state."""
    poses: tuple[tuple[int, ...], ...]
    """States of every piece."""
    near: tuple[tuple[tuple[int, int], ...], ...]
    """Per cell: (other cell, kind) of each neighbour."""
    kinds: tuple[tuple[Part, ...], ...]
    """What the links between a pair of cells are, seen from the first; pairs alike share a kind."""
    may: tuple[tuple[bool, ...], ...]
    """Per cell and state: whether it may stand there."""
    values: tuple[int, ...]
    """Every value a link can take, weight included, least first."""


def wire(puzzle: Puzzle) -> Wiring:
    """Lay a puzzle out."""
    seen: dict[tuple[int, int], list[Part]] = defaultdict(list)
    for link in puzzle.links:
        seen[link.first, link.second].append((link.table, link.weight, False))
        seen[link.second, link.first].append((link.table, link.weight, True))
    kinds: dict[tuple[Part, ...], int] = {}
    near: list[list[tuple[int, int]]] = [[] for _ in range(puzzle.cells)]
    for (cell, other), parts in seen.items():
        near[cell].append((other, kinds.setdefault(tuple(sorted(parts)), len(kinds))))
    poses: list[list[int]] = [[] for _ in range(puzzle.cells)]
    for state, (piece, _) in enumerate(puzzle.states):
        poses[piece].append(state)
    used = {(link.table, link.weight) for link in puzzle.links}
    return Wiring(
        puzzle,
        tuple(piece for piece, _ in puzzle.states),
        tuple(map(tuple, poses)),
        tuple(map(tuple, near)),
        tuple(kinds),
        tuple(
            tuple((cells := puzzle.allowed[piece]) is None or cell in cells for piece, _ in puzzle.states)
            for cell in range(puzzle.cells)
        ),
        tuple(sorted({weight * value for table, weight in used for value in _values(puzzle, table)})),
    )


def _values(puzzle: Puzzle, table: int) -> set[int]:
    """Every value in a table."""
    return {value for row in puzzle.tables[table] for value in row}


def rows_of(
    wiring: Wiring, cost: Callable[[int], int], merge: Callable[[Iterable[int]], int] = sum
) -> list[Rows]:
    """One table per kind: its links summed (or merged otherwise), where `cost` prices the clash of a link."""
    price = {value: cost(value) for value in wiring.values}
    made: dict[Part, Rows] = {}
    for part in {(table, weight, False) for kind in wiring.kinds for table, weight, _ in kind}:
        table, weight, _ = part
        worth = {value: price[weight * value] for value in _values(wiring.puzzle, table)}
        made[part] = [[worth[value] for value in row] for row in wiring.puzzle.tables[table]]
        made[table, weight, True] = [list(column) for column in zip(*made[part], strict=True)]
    return [_merged([made[part] for part in kind], merge) for kind in wiring.kinds]


def _merged(parts: Sequence[Rows], merge: Callable[[Iterable[int]], int]) -> Rows:
    """Several tables made one."""
    if len(parts) == 1:
        return parts[0]
    return [[merge(values) for values in zip(*rows, strict=True)] for rows in zip(*parts, strict=True)]


def any_arrangement(wiring: Wiring, random: Random) -> list[int]:
    """A legal arrangement by chance: shuffled, then pieces out of place are led home along a chain.

    Raises ValueError when the allowed cells leave no arrangement at all. The chains are augmenting paths
    in the graph of pieces and their cells.
    """
    cells = list(range(wiring.puzzle.cells))
    random.shuffle(cells)
    pieces = sorted(cells, key=lambda piece: (wiring.puzzle.allowed[piece] is None, random.random()))
    held: dict[int, int] = {}
    for piece in pieces:
        if not _seat(wiring, piece, cells, held, set()):
            raise ValueError("no arrangement keeps every piece where it may stand")
    return [random.choice(wiring.poses[held[cell]]) for cell in range(len(cells))]


def _seat(wiring: Wiring, piece: int, cells: Sequence[int], held: dict[int, int], tried: set[int]) -> bool:
    """Find the piece a cell, moving pieces that already have one if need be."""
    state = wiring.poses[piece][0]
    fits = [cell for cell in cells if cell not in tried and wiring.may[cell][state]]
    for cell in fits:
        if cell not in held:
            held[cell] = piece
            return True
    for cell in fits:
        if cell not in tried:
            tried.add(cell)
            if _seat(wiring, held[cell], cells, held, tried):
                held[cell] = piece
                return True
    return False
