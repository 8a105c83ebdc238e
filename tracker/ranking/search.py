"""The ways of bettering an arrangement: hunts below a limit, halving of the worst, runs on the total."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from math import isqrt, sqrt
from random import Random

from tracker.ranking.anneal import Costs, Heat, anneal
from tracker.ranking.depth_first import Fits, depth_first, fits_within
from tracker.ranking.exhaustive import First, key_of
from tracker.ranking.puzzle import Value, value_of
from tracker.ranking.wiring import Rows, Wiring, any_arrangement, rows_of

MOVES = 4_000
"""Of one annealing run in the first round; three times as many in each round after it."""
NODES = 500
"""Of one depth-first search, likewise."""
RESTARTS = 4
"""Depth-first searches in a round."""
TOTAL_MOVES = 32_000
"""Of one run that lowers the total."""
USUAL_NEIGHBOURS = 3.5
"""Of a place within a block of ranks."""
MOVES_PER_CELL = 1_500
"""The longest run on a small unit."""
HOT, COLD = 1.5, 0.25
WALL = 3
"""A link above the limit costs so many limits more while the total is lowered: passed through, not kept."""
PLEASE_MOVES = 24_000
"""Of the run that lowers the dislike."""


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

    def lower_worst(self, least: int = 0) -> None:
        """Halve again and again between the worst so far and what was not reached, or is known impossible."""
        values = self.wiring.values
        low, high = bisect_left(values, max(least, 1)) - 1, bisect_left(values, self.value.worst)
        while high - low > 1:
            middle = (low + high) // 2
            if self.within(values[middle], 1):
                high = bisect_left(values, self.value.worst)
            else:
                low = middle

    def lower_total(self, runs: int, least: int = 0, share: float = 1.0) -> None:
        """Lower the total; when the worst link comes first, mostly with none above the least worst.

        Small units take shorter runs, and more of them. Where the total comes first, every third run looks
        for the same total with a smaller worst link. Ends at a total that is known to be `least`; `share` of
        the moves are made.
        """
        length = min(TOTAL_MOVES, MOVES_PER_CELL * self.wiring.puzzle.cells)
        for run in range(runs * TOTAL_MOVES // length):
            if self.value.total > least:
                begin = any_arrangement(self.wiring, self.random) if run else self.best
                tie = self.first == "total" and run % 3 == 2
                wall = int(tie) if self.first == "total" else WALL
                limit = self.value.worst - tie
                # Hot enough to pass through arrangements with a link above the limit.
                heat = Heat(HOT * limit, COLD * limit) if self.first == "worst" else None
                self._anneal(
                    self._capped(limit, 1, wall), round(share * length * self.effort), begin, heat=heat
                )

    def please(self) -> None:
        """Lower the dislike at no cost in worst or total: any clash outweighs all dislike."""
        dislike = self.wiring.puzzle.dislike
        most = sum(max(row) for row in dislike)
        if self.value.dislike:
            usual = most / len(dislike)
            heat = Heat(0.5 * usual, 0.05 * usual)
            self._anneal(
                self._capped(self.value.worst, 1 + most, len(self.wiring.puzzle.links)),
                PLEASE_MOVES * self.effort,
                self.best,
                dislike,
                heat,
            )

    def _capped(self, limit: int, factor: int, wall: int) -> list[Rows]:
        """Clash in micrometres times a factor; a link above the limit costs so many limits more."""
        high = factor * (1 + limit) * wall
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
    """From about a third of the usual cost of a link that costs anything, to a twelfth: tuned by trial."""
    costs = [
        rows[kind][now[cell]][now[other]] for cell in range(len(now)) for other, kind in wiring.near[cell]
    ]
    some = [cost for cost in costs if cost]
    usual = sum(some) / len(some) if some else 1.0
    # A swap changes as many links as a cell has neighbours; their sum varies with the root of that.
    usual *= sqrt(max(1.0, len(costs) / len(now) / USUAL_NEIGHBOURS))
    return Heat(0.3 * usual, 0.08 * usual)
