"""The best arrangement that can be found: annealing and depth-first search in growing rounds.

Neither method wins everywhere: annealing is at once there when a unit is loose, and depth-first search
when it is so tight that few arrangements have no clash.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from math import isqrt
from random import Random

from tracker.ranking.anneal import Costs, Heat, anneal
from tracker.ranking.depth_first import Fits, depth_first, fits_within
from tracker.ranking.exhaustive import First, Found, branch, count_of, key_of
from tracker.ranking.puzzle import Arrangement, Puzzle, Value, is_legal, value_of
from tracker.ranking.wiring import Rows, Wiring, any_arrangement, rows_of, wire

__all__ = ["First", "Found", "solve"]

SMALL = 6_000
"""So many arrangements are simply all tried."""
MEDIUM = 4_000_000
"""So many are all tried at the end, unless the nodes run out."""
BRANCH_NODES = 60_000
ROUNDS = 3
MOVES = 4_000
"""Of one annealing run in the first round; three times as many in each round after it."""
NODES = 500
"""Of one depth-first search, likewise."""
RESTARTS = 4
"""Depth-first searches in a round."""


def solve(
    puzzle: Puzzle,
    *,
    seed: int = 0,
    first: First = "worst",
    start: Arrangement | None = None,
    effort: int = 1,
) -> Found:
    """The best arrangement found; the same seed finds the same one, as it stops on moves, not on seconds.

    `first` = "worst": least worst link, then least total under that worst; "total": the other way round.
    Least dislike decides between equals. `start` is an arrangement to better, `effort` multiplies the moves.
    Raises ValueError when no arrangement keeps every piece where it may stand. With more than about eight
    pieces the answer is only known to be best when `proved` says so.
    """
    wiring = wire(puzzle)
    search = Search(wiring, Random(seed), first, effort)  # noqa: S311 - no secret
    search.keep(start if start and is_legal(puzzle, start) else any_arrangement(wiring, search.random))
    count = count_of(wiring)
    if count <= SMALL:
        return branch(wiring, first, search.best)
    search.within(0, ROUNDS)
    if search.value.total:
        if first == "worst":
            search.lower_worst()
        search.lower_total()
    if search.value.total and count <= MEDIUM:
        tried = branch(wiring, first, search.best, BRANCH_NODES * effort)
        if tried.proved:
            return tried._replace(moves=search.moves + tried.moves)
        search.keep(tried.arrangement)
    search.please()
    return Found(tuple(search.best), search.value, search.value.total == 0, search.moves)


class Search:
    """The best so far, and the ways of bettering it."""

    def __init__(self, wiring: Wiring, random: Random, first: First, effort: int) -> None:
        self.wiring, self.random, self.first, self.effort = wiring, random, first, effort
        self.best: list[int] = []
        self.value = Value(0, 0, 0)
        self.moves = 0
        self.nothing: list[list[int]] = [[0] * len(wiring.piece_of)] * wiring.puzzle.cells

    def keep(self, arrangement: Sequence[int]) -> None:
        """Take the arrangement if it is better than the best so far."""
        value = value_of(self.wiring.puzzle, arrangement)
        if not self.best or key_of(value, self.first) < key_of(self.value, self.first):
            self.best, self.value = list(arrangement), value

    def within(self, limit: int, rounds: int) -> bool:
        """Look for an arrangement with no link above the limit, in growing rounds."""
        if self.value.worst <= limit:
            return True
        excess = rows_of(self.wiring, lambda value: isqrt(1000 * max(0, value - limit)))
        over = rows_of(self.wiring, lambda value: 1000 * (value > limit))
        fits = fits_within(self.wiring, limit)
        for number in range(rounds):
            grown = self.effort * 3**number
            self._anneal(excess, MOVES * grown)
            if self.value.worst <= limit or self._hunt(fits, NODES * grown):
                break
            self._anneal(over, MOVES * grown)
            if self.value.worst <= limit:
                break
        return self.value.worst <= limit

    def _hunt(self, fits: Fits, nodes: int) -> bool:
        """Depth-first searches, each with other luck; True = nothing more to find."""
        for _ in range(RESTARTS):
            hunted = depth_first(self.wiring, fits, self.random, nodes=nodes)
            self.moves += hunted.nodes
            if hunted.arrangement:
                self.keep(hunted.arrangement)
            if hunted.finished:
                return True
        return False

    def lower_worst(self) -> None:
        """Halve again and again between the worst so far and what was not reached."""
        values = self.wiring.values
        low, high = bisect_left(values, 1) - 1, bisect_left(values, self.value.worst)
        while high - low > 1:
            middle = (low + high) // 2
            if self.within(values[middle], 1):
                high = bisect_left(values, self.value.worst)
            else:
                low = middle

    def lower_total(self) -> None:
        """Lower the total; when the worst link comes first, with none above the least worst."""
        limit = self.value.worst if self.first == "worst" else max(self.wiring.values)
        rows = self._capped(limit, 1)
        for number in range(ROUNDS):
            if self.value.total:
                moves = MOVES * self.effort * 3**number
                self._anneal(rows, moves, self.best)
                self._anneal(rows, moves)

    def please(self) -> None:
        """Lower the dislike at no cost in worst or total: any clash outweighs all dislike."""
        dislike = self.wiring.puzzle.dislike
        most = sum(max(row) for row in dislike)
        if self.value.dislike:
            heat = Heat(max(1.0, most / len(dislike)), 0.1)
            self._anneal(
                self._capped(self.value.worst, 1 + most), MOVES * self.effort, self.best, dislike, heat
            )

    def _capped(self, limit: int, factor: int) -> list[Rows]:
        """Clash in micrometres times a factor; a link above the limit costs more than all those below it."""
        high = factor * (1 + limit) * len(self.wiring.puzzle.links)
        return rows_of(self.wiring, lambda value: factor * value if value <= limit else high + factor * value)

    def _anneal(
        self,
        rows: Sequence[Rows],
        moves: int,
        start: Sequence[int] | None = None,
        alone: Sequence[Sequence[int]] | None = None,
        heat: Heat | None = None,
    ) -> None:
        """One run, from a chance arrangement unless told where from."""
        begin = any_arrangement(self.wiring, self.random) if start is None else start
        run = anneal(
            self.wiring,
            Costs(rows, alone or self.nothing),
            begin,
            self.random,
            moves=moves,
            heat=heat or heat_of(self.wiring, rows, begin),
        )
        self.moves += run.moves
        self.keep(run.arrangement)


def heat_of(wiring: Wiring, rows: Sequence[Rows], now: Sequence[int]) -> Heat:
    """From about the usual cost of a link that costs anything, to a thirtieth of it."""
    costs = [
        rows[kind][now[cell]][now[other]] for cell in range(len(now)) for other, kind in wiring.near[cell]
    ]
    some = [cost for cost in costs if cost]
    usual = sum(some) / len(some) if some else 1.0
    return Heat(0.3 * usual, 0.08 * usual)
