"""The units that come to so many points with the least work: a covering knapsack.

Choices are built up unit by unit. One that has no more points than another and needs no fewer minutes can
never become the better one, so it is let go (dominance; Nemhauser and Ullmann 1969, from memory). Points
beyond what is wanted count as just that. The time it takes to dry is left out.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from tracker.domain.list_points import SAME_POINTS

KEPT_MOST = 4000
"""Choices that are carried on; beyond, those nearest together are thinned and the answer is not exact."""


class LeastWork(NamedTuple):
    """Units by their places, and their minutes together."""

    chosen: tuple[int, ...]
    minutes: float
    exact: bool


class _Choice(NamedTuple):
    points: float
    minutes: float
    units: int
    """Bit i = the i-th unit is in it."""


def least_work(points: Sequence[float], minutes: Sequence[float], wanted: float) -> LeastWork:
    """The choice of units of `points` that together have `wanted` and need the fewest `minutes`.

    All units where even they have too few points. Among equals the one that leaves out later units.
    """
    kept = [_Choice(0.0, 0.0, 0)]
    exact = True
    for unit, (worth, cost) in enumerate(zip(points, minutes, strict=True)):
        more = [
            _Choice(_up_to(one.points + worth, wanted), one.minutes + cost, one.units | 1 << unit)
            for one in kept
            if one.points < wanted
        ]
        kept = _undominated([*kept, *more])
        if len(kept) > KEPT_MOST:
            exact = False
            kept = _thinned(kept)
    best = kept[0]
    if best.points < wanted:
        return LeastWork(tuple(range(len(points))), sum(minutes), exact)
    return LeastWork(tuple(i for i in range(len(points)) if best.units >> i & 1), best.minutes, exact)


def _up_to(points: float, wanted: float) -> float:
    return wanted if points >= wanted - SAME_POINTS else points


def _undominated(choices: list[_Choice]) -> list[_Choice]:
    """Those that need fewer minutes than every choice with as many points; most points first."""
    out: list[_Choice] = []
    for one in sorted(choices, key=lambda one: (-one.points, one.minutes, one.units)):
        if not out or one.minutes < out[-1].minutes:
            out.append(one)
    return out


def _thinned(choices: list[_Choice]) -> list[_Choice]:
    """Every second choice, with the first, which has most points, and the last, which is empty."""
    return [*choices[:-1:2], choices[-1]]
