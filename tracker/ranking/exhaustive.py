"""Every arrangement of a small puzzle, less those that cannot be better than the best so far."""

from __future__ import annotations

from collections.abc import Sequence
from math import factorial, prod
from random import Random
from typing import Literal, NamedTuple

from tracker.ranking.puzzle import Arrangement, Puzzle, Value, value_of
from tracker.ranking.wiring import Rows, Wiring, any_arrangement, rows_of, wire

First = Literal["worst", "total"]
Key = tuple[int, int, int]


class Found(NamedTuple):
    """An arrangement and how it was come by."""

    arrangement: Arrangement
    value: Value
    proved: bool
    """No arrangement has less clash: all were tried, or this one has none."""
    moves: int
    """Moves and nodes tried."""


def key_of(value: Value, first: First) -> Key:
    """What is compared, less is better: what comes first, then the other clash, then dislike."""
    worst, total, dislike = value
    return (worst, total, dislike) if first == "worst" else (total, worst, dislike)


def count_of(wiring: Wiring) -> int:
    """How many arrangements there are at most; pieces held to one cell do not multiply them."""
    held = sum(cells is not None and len(cells) == 1 for cells in wiring.puzzle.allowed)
    return factorial(wiring.puzzle.cells - held) * prod(map(len, wiring.poses))


def exhaustive(puzzle: Puzzle, first: First = "worst") -> Found:
    """The best of all arrangements. Raises ValueError when none keeps every piece where it may stand.

    Branch and bound: cells are filled in turn, and a branch ends when what stands already is no better than
    the best whole arrangement. Clashes are never below nought, so what is added later cannot mend that.
    """
    wiring = wire(puzzle)
    return branch(wiring, first, any_arrangement(wiring, Random(0)))  # noqa: S311 - no secret


def branch(wiring: Wiring, first: First, start: Sequence[int], nodes: int | None = None) -> Found:
    """The best arrangement by branch and bound from a known one; not proved when the nodes ran out."""
    search = _Search(wiring, first, start, nodes)
    finished = search.fill(0, (0, 0, 0), 0)
    value = value_of(wiring.puzzle, search.best)
    return Found(tuple(search.best), value, finished or value.total == 0, search.spent)


class _Search:
    """One run of branch and bound."""

    def __init__(self, wiring: Wiring, first: First, start: Sequence[int], nodes: int | None) -> None:
        self.wiring, self.nodes, self.spent = wiring, nodes, 0
        self.best, self.now = list(start), [-1] * len(start)
        self.worst_first = first == "worst"
        self.best_key = key_of(value_of(wiring.puzzle, start), first)
        self.order = _order(wiring)
        self.before = _before(wiring, self.order)
        least = [
            min((d for d, may in zip(row, ok, strict=True) if may), default=0)
            for row, ok in zip(wiring.puzzle.dislike, wiring.may, strict=True)
        ]
        self.to_come = [sum(least[cell] for cell in self.order[at:]) for at in range(len(self.order) + 1)]

    def fill(self, at: int, value: Key, used: int) -> bool:
        """Fill the cells from this one on; False = the nodes ran out."""
        if at == len(self.order):
            self.best, self.best_key = self.now[:], self._key(*value)
            return True
        cell = self.order[at]
        may = self.wiring.may[cell]
        for piece, poses in enumerate(self.wiring.poses):
            if used >> piece & 1 or not may[poses[0]]:
                continue
            for state in poses:
                worst, total, dislike = after = self._after(at, cell, state, value)
                if self._key(worst, total, dislike + self.to_come[at + 1]) >= self.best_key:
                    continue
                self.now[cell] = state
                if not self.fill(at + 1, after, used | 1 << piece):
                    return False
        return self.nodes is None or self.spent < self.nodes

    def _after(self, at: int, cell: int, state: int, value: Key) -> Key:
        """Worst, total and dislike with one more cell filled."""
        self.spent += 1
        worst, total, dislike = value
        for other, totals, worsts in self.before[at]:
            stands = self.now[other]
            total += totals[state][stands]
            worst = max(worst, worsts[state][stands])
        return worst, total, dislike + self.wiring.puzzle.dislike[cell][state]

    def _key(self, worst: int, total: int, dislike: int) -> Key:
        return (worst, total, dislike) if self.worst_first else (total, worst, dislike)


def _order(wiring: Wiring) -> list[int]:
    """Cells so that each has as many neighbours before it as can be: clashes show early."""
    order: list[int] = []
    left = set(range(wiring.puzzle.cells))
    while left:
        cell = max(left, key=lambda at: (sum(other in order for other, _ in wiring.near[at]), -at))
        order.append(cell)
        left.remove(cell)
    return order


def _before(wiring: Wiring, order: Sequence[int]) -> list[list[tuple[int, Rows, Rows]]]:
    """Per step: neighbours already filled, with the rows of their total and of their worst link."""
    totals = rows_of(wiring, lambda value: value)
    worsts = rows_of(wiring, lambda value: value, max)
    step = {cell: at for at, cell in enumerate(order)}
    return [
        [(other, totals[kind], worsts[kind]) for other, kind in wiring.near[cell] if step[other] < at]
        for at, cell in enumerate(order)
    ]
