"""The units worth most points that are ready by a day: a knapsack under uncertainty.

The chosen units are worked first and nothing beside them, so all are ready on a path when their minutes
together fit into the minutes that path has up to the day. Waits are left out: a unit that has to dry on its
last evenings can be later. A choice is allowed when that holds on 8 paths in 10. Adding a unit never raises
the chance, so a choice that is not allowed is never extended.

Exact by branch and bound for up to `EXACT_UNITS` units. What still can be won below a choice is bounded by
the units that fit beside it one by one, and by a line: let B be b of the paths, the tightest ones, of which
at most 20 % of all may fail; then at least k of B hold, and summed over these

    sum over chosen i of (the k lowest minutes of i in B) <= the k highest minutes left in B

which is an ordinary knapsack whose fractional optimum (Dantzig 1957) is no less than the true one.
"""

from __future__ import annotations

from math import ceil
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from tracker.domain.answers_goals import GOOD_CHANCE

EXACT_UNITS = 25
_NODES_MOST = 60_000
"""Choices looked at before it is said that the best found is not proved: some 10 to 20 seconds."""
_SHARES = (0.22, 0.25, 0.3, 0.4, 0.6, 1.0)
"""How many of the tightest paths each line looks at."""

Paths = NDArray[np.float64]


class Choice(NamedTuple):
    """Units by their places, what they are worth, how sure they are."""

    chosen: tuple[int, ...]
    points: float
    chance: float
    exact: bool
    """Whether no allowed choice is worth more."""


def best_subset(points: NDArray[np.float64], minutes: Paths, available: Paths) -> Choice:
    """The allowed choice worth most; `points` (units,), `minutes` (paths, units), `available` (paths,).

    Up to 25 units it is exact; beyond, units are taken by points for the hour while they fit.
    """
    search = _Search(points, minutes, available)
    first = search.by_points_an_hour()
    best, exact = first, False
    if len(points) <= EXACT_UNITS:
        best, exact = search.best(first)
    slack = available - minutes[:, best].sum(axis=1)
    chosen = tuple(sorted(int(place) for place in best))
    return Choice(chosen, float(points[best].sum()), float((slack >= 0).mean()), exact)


class _Node(NamedTuple):
    """A choice and what may still join it."""

    won: float
    left: Paths
    """Minutes that it leaves on each path."""
    units: NDArray[np.intp]
    chosen: tuple[int, ...]


class _Search:
    """Branch and bound; the paths come tightest first, so that each line looks at the first b of them."""

    def __init__(self, points: NDArray[np.float64], minutes: Paths, available: Paths) -> None:
        whole = np.maximum(minutes.sum(axis=1), 1.0)
        tightest = np.argsort(available / whole, kind="stable")
        self.minutes = np.ascontiguousarray(minutes[tightest].T)
        self.available = available[tightest]
        self.points = points
        self.paths = len(available)
        # At least so many must hold; the small allowance keeps 0.8 * 500 at 400.
        self.must_hold = ceil(GOOD_CHANCE * self.paths - 1e-9)
        self.lines = [_Line.of(self, share) for share in _SHARES]
        self.lines = [line for line in self.lines if line.hold > 0]
        self.rate = points / np.maximum(self.minutes.mean(axis=1), 1e-9)

    def fits(self, left: Paths, units: NDArray[np.intp]) -> NDArray[np.intp]:
        """Those of the units of which each alone is allowed beside what took all but `left`."""
        held = (self.minutes[units] <= left).sum(axis=1)
        return np.asarray(units[held >= self.must_hold])

    def by_points_an_hour(self) -> list[int]:
        """Units by points for the hour, each taken if it still fits."""
        left, chosen = self.available.copy(), []
        for place in np.argsort(-self.rate, kind="stable"):
            if self.points[place] > 0 and self.fits(left, np.array([place])).size:
                chosen.append(int(place))
                left = left - self.minutes[place]
        return chosen

    def best(self, first: list[int]) -> tuple[list[int], bool]:
        """The best choice and whether it is proved, from a first one."""
        best, worth = first, float(self.points[first].sum())
        order = np.argsort(-self.rate, kind="stable")
        todo: list[_Node] = [_Node(0.0, self.available, order[self.points[order] > 0], ())]
        for _ in range(_NODES_MOST):
            if not todo:
                return best, True
            won, left, units, chosen = todo.pop()
            units = self.fits(left, units)
            if won > worth:
                best, worth = list(chosen), won
            if not units.size or self.bound(won, left, units) <= worth:
                continue
            head, rest = int(units[0]), units[1:]
            with_it = won + float(self.points[head])
            todo.append(_Node(won, left, rest, chosen))
            todo.append(_Node(with_it, left - self.minutes[head], rest, (*chosen, head)))
        return best, not todo

    def bound(self, won: float, left: Paths, units: NDArray[np.intp]) -> float:
        """No choice that adds some of these units is worth more."""
        most = float(self.points[units].sum())
        for line in self.lines:
            most = min(most, line.bound(left, units, self.points[units]))
        return won + most


class _Line(NamedTuple):
    """A line that every allowed choice keeps, over the first `look` paths."""

    look: int
    hold: int
    cost: Paths
    """Per unit its `hold` lowest minutes in these paths, summed."""

    @classmethod
    def of(cls, search: _Search, share: float) -> _Line:
        """The line over that share of the paths."""
        look = ceil(share * search.paths)
        hold = look - (search.paths - search.must_hold)
        within = np.sort(search.minutes[:, :look], axis=1)
        return cls(look, hold, within[:, : max(hold, 0)].sum(axis=1))

    def bound(self, left: Paths, units: NDArray[np.intp], points: NDArray[np.float64]) -> float:
        """Points of the fractional knapsack."""
        fail = self.look - self.hold
        within = left[: self.look]
        room = float((np.partition(within, fail)[fail:] if fail else within).sum())
        cost = self.cost[units]
        order = np.argsort(-points / np.maximum(cost, 1e-9), kind="stable")
        summed = np.cumsum(cost[order])
        whole = int(np.searchsorted(summed, room * (1 + 1e-12) + 1e-9, side="right"))
        won = float(points[order[:whole]].sum())
        if whole < len(order):
            before = float(summed[whole - 1]) if whole else 0.0
            part = max(room - before, 0.0) / max(float(cost[order[whole]]), 1e-9)
            won += float(points[order[whole]]) * min(part, 1.0)
        return won * (1 + 1e-12)
