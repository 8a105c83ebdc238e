"""The units worth most points that are ready by a day: a knapsack under uncertainty.

The chosen units are worked first and nothing beside them, so all are ready on a path when their minutes
together fit into the minutes that path has up to the day. Waits are left out: a unit that has to dry on its
last evenings can be later. A choice is allowed when that holds on 8 paths in 10. Adding a unit never raises
the chance, so what is not allowed is never extended.

Exact for up to `EXACT_UNITS` units by meeting in the middle (Horowitz and Sahni 1974): the units are parted
into two halves, all choices of each half are added up once, and each allowed choice of the first half looks
for the one of the second that is worth most beside it. Most of these need no look at their paths. Of the b
tightest paths, where at most 20 % of all may fail, at least k hold; summed over those

    the k lowest minutes of a choice of the second half <= the k highest minutes that the first one leaves
"""

from __future__ import annotations

from math import ceil
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from tracker.domain.answers_goals import GOOD_CHANCE

EXACT_UNITS = 25
_TIGHTEST_SHARE = 0.4
"""Share of the paths, tightest first, on which all choices are added up; hardly any other path fails."""
_LINE_SHARES = (0.21, 0.23, 0.26, 0.3, 0.35, 0.4)
_CHUNK = 256
_ROOMY = 1e-5
"""More than single precision loses on a sum of 25 numbers, as a share of what is available."""

Paths = NDArray[np.float64]
Points = NDArray[np.float64]


class Choice(NamedTuple):
    """Units by their places, what they are worth, how sure they are."""

    chosen: tuple[int, ...]
    points: float
    chance: float
    exact: bool
    """Whether no allowed choice is worth more."""


def best_subset(points: Points, minutes: Paths, available: Paths) -> Choice:
    """The allowed choice worth most; `points` (units,), `minutes` (paths, units), `available` (paths,).

    Up to 25 units it is exact; beyond, units are taken by points for the hour while they fit.
    """
    search = _Search(points, minutes, available)
    best, exact = search.by_points_an_hour(), len(points) <= EXACT_UNITS
    if exact:
        best = search.best(best)
    slack = available - minutes[:, best].sum(axis=1)
    return Choice(tuple(sorted(best)), float(points[best].sum()), float((slack >= 0).mean()), exact)


class _Half(NamedTuple):
    """All choices of some units that are allowed by themselves, those worth most first."""

    units: NDArray[np.intp]
    codes: NDArray[np.intp]
    """Bit i of a code = the i-th unit is in it."""
    points: Points
    minutes: NDArray[np.float32]
    """Added up on the tightest paths, shape (choices, tightest paths); rounded to single precision."""

    def chosen(self, at: int) -> list[int]:
        """The units of a choice."""
        return [int(unit) for i, unit in enumerate(self.units) if self.codes[at] >> i & 1]


class _Line(NamedTuple):
    """Of the first `look` paths at least `hold` keep a choice."""

    look: int
    hold: int
    cost: Paths
    """The `hold` lowest minutes in these paths, summed, of every choice of the second half."""


class _Search:
    """The paths come tightest first: those that have least time for all that could be chosen."""

    def __init__(self, points: Points, minutes: Paths, available: Paths) -> None:
        tightest = np.argsort(available / np.maximum(minutes.sum(axis=1), 1.0), kind="stable")
        self.points = points
        self.minutes = np.ascontiguousarray(minutes[tightest].T)
        self.available = available[tightest]
        paths = len(available)
        # The small allowance keeps 0.8 of 500 at 400.
        self.may_fail = paths - ceil(GOOD_CHANCE * paths - 1e-9)
        self.look = max(ceil(_TIGHTEST_SHARE * paths), 1)
        self.whole = float(self.available.sum()) + 1.0

    def fails(self, chosen: list[int]) -> int:
        """On how many paths a choice is too much."""
        return int((self.minutes[chosen].sum(axis=0) > self.available).sum())

    def by_points_an_hour(self) -> list[int]:
        """Units by points for the hour, each taken if it still fits."""
        rate = self.points / np.maximum(self.minutes.mean(axis=1), 1e-9)
        chosen: list[int] = []
        for place in map(int, np.argsort(-rate, kind="stable")):
            if self.points[place] > 0 and self.fails([*chosen, place]) <= self.may_fail:
                chosen.append(place)
        return chosen

    def best(self, chosen: list[int]) -> list[int]:
        """The best choice, from one that is allowed."""
        worth = np.flatnonzero(self.points > 0)
        worth = worth[[self.fails([int(unit)]) <= self.may_fail for unit in worth]]
        first, second = self.half(worth[::2]), self.half(worth[1::2])
        lines = self.lines(second)
        most = [self.bound(first, second, at, lines) for at in range(len(first.points))]
        won = float(self.points[chosen].sum())
        for at in sorted(range(len(most)), key=lambda at: -most[at]):
            if most[at] <= won:
                break
            found = self.beside(first, second, at, lines, won)
            if found is not None:
                chosen = first.chosen(at) + second.chosen(found)
                won = float(first.points[at] + second.points[found])
        return chosen

    def half(self, units: NDArray[np.intp]) -> _Half:
        """All choices of these units; each unit doubles them, and what is not allowed goes no further."""
        codes, points = np.zeros(1, dtype=np.intp), np.zeros(1)
        minutes: NDArray[np.float32] = np.zeros((1, self.look), dtype=np.float32)
        own = self.minutes[:, : self.look].astype(np.float32)
        roomy = (self.available[: self.look] * (1 + _ROOMY) + _ROOMY).astype(np.float32)
        for i, unit in enumerate(units):
            more = minutes + own[unit]
            fits = _count(more > roomy) <= self.may_fail
            minutes = np.concatenate([minutes, more[fits]])
            codes = np.concatenate([codes, codes[fits] | (1 << i)])
            points = np.concatenate([points, points[fits] + self.points[unit]])
        order = np.argsort(-points, kind="stable")
        return _Half(units, codes[order], points[order], minutes[order])

    def lines(self, second: _Half) -> list[_Line]:
        """The lines that look at some path that has to hold."""
        out = []
        for look in sorted({min(ceil(share * len(self.available)), self.look) for share in _LINE_SHARES}):
            hold = look - self.may_fail
            if hold > 0:
                lowest = np.partition(second.minutes[:, :look], hold - 1, axis=1)[:, :hold]
                out.append(_Line(look, hold, lowest.sum(axis=1, dtype=np.float64)))
        return out

    def bound(self, first: _Half, second: _Half, at: int, lines: list[_Line]) -> float:
        """No choice that has this one of the first half is worth more."""
        can = self.keeping(first, at, lines, len(second.points))
        return float(first.points[at] + second.points[can[0]]) if can.size else 0.0

    def keeping(self, first: _Half, at: int, lines: list[_Line], among: int) -> NDArray[np.intp]:
        """Of the second half's choices worth most those that keep every line."""
        left = self.available[: self.look] - first.minutes[at]
        keeps = np.ones(among, dtype=bool)
        for line in lines:
            room = float(np.partition(left[: line.look], line.look - line.hold)[-line.hold :].sum())
            keeps &= line.cost[:among] <= room + _ROOMY * self.whole
        return np.flatnonzero(keeps)

    def beside(self, first: _Half, second: _Half, at: int, lines: list[_Line], won: float) -> int | None:
        """The second half's choice worth most beside one of the first; None = none that beats `won`."""
        among = int(np.searchsorted(-second.points, first.points[at] - won, side="left"))
        can = self.keeping(first, at, lines, among)
        left = self.available[: self.look] - first.minutes[at]
        # In single precision with some room: what fails so fails for sure, the others are looked at closely.
        roomy = (left + _ROOMY * np.abs(self.available[: self.look]) + _ROOMY).astype(np.float32)
        for start in range(0, len(can), _CHUNK):
            places = can[start : start + _CHUNK]
            fails = _count(second.minutes[places] > roomy)
            for place in map(int, places[fails <= self.may_fail]):
                if self.fails(first.chosen(at) + second.chosen(place)) <= self.may_fail:
                    return place
        return None


def _count(marks: NDArray[np.bool_]) -> NDArray[np.intp]:
    """How many are true in each row; eight are added at a time, which takes a quarter of a plain sum."""
    rows, columns = marks.shape
    eights = columns // 8
    if not eights or eights > 255:
        return np.asarray(marks.sum(axis=1))
    lanes = marks[:, : eights * 8].copy().view(np.uint64).sum(axis=1, dtype=np.uint64)
    rest = marks[:, eights * 8 :].sum(axis=1)
    return np.asarray(lanes.view(np.uint8).reshape(rows, 8).sum(axis=1) + rest, dtype=np.intp)
