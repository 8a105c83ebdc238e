"""The placing puzzle: which piece stands in which cell, in which of its states, so that least clashes.

Conventions
-----------
- A *piece* is a model, a block or a blank; a *state* is a piece in one of its poses (turn, stem). A *cell*
  is a place, a block's place, or a place on the bench beside the unit. There are as many pieces as cells.
- An *arrangement* is one state per cell, every piece exactly once.
- A *link* joins two cells by a table `table[state of first][state of second]`; its value times `weight` is
  the clash there. Tables hold whole numbers (micrometres of clash), so sums are exact on every machine.
- The value of an arrangement is (worst link, total of links, total dislike), less is better.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

UM_PER_MM = 1000

Table = Sequence[Sequence[int]]


class Link(NamedTuple):
    """Two cells that can clash."""

    first: int
    second: int
    table: int
    """Index into `Puzzle.tables`."""
    weight: int = 1


class Puzzle(NamedTuple):
    """Everything the solver needs to know."""

    states: tuple[tuple[int, int], ...]
    """(piece, pose) of every state; the states of a piece stand together."""
    cells: int
    links: tuple[Link, ...]
    tables: tuple[Table, ...]
    allowed: tuple[frozenset[int] | None, ...]
    """Per piece: the cells it may stand in; None = any."""
    dislike: tuple[tuple[int, ...], ...]
    """Per cell, per state: how little it is liked there; the last tie-break."""


class Value(NamedTuple):
    """How good an arrangement is; compares in order, less is better."""

    worst: int
    total: int
    dislike: int


Arrangement = tuple[int, ...]
"""State in each cell."""


def value_of(puzzle: Puzzle, arrangement: Sequence[int]) -> Value:
    """Worst link, total of links, total dislike."""
    clashes = [
        link.weight * puzzle.tables[link.table][arrangement[link.first]][arrangement[link.second]]
        for link in puzzle.links
    ]
    dislike = sum(puzzle.dislike[cell][state] for cell, state in enumerate(arrangement))
    return Value(max(clashes, default=0), sum(clashes), dislike)


def is_legal(puzzle: Puzzle, arrangement: Sequence[int]) -> bool:
    """Whether every piece stands exactly once, and where it may."""
    pieces = [puzzle.states[state][0] for state in arrangement]
    return (
        len(pieces) == puzzle.cells
        and sorted(pieces) == list(range(puzzle.cells))
        and all(
            (cells := puzzle.allowed[piece]) is None or cell in cells for cell, piece in enumerate(pieces)
        )
    )
