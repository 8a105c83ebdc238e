"""The order of least cost when goals, weights and set-ups count together.

Without goals and set-ups Smith's rule is the best order and is taken. Else every order is searched, by
bounds, up to 9 units; beyond that the best of the person's own order, Smith's, whole-family blocks and
goals first is improved by moving and exchanging units, one at a time, until nothing helps: no proof that it
is the best, though against the search it mostly is.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import inf
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from tracker.forecast.order import Cost, Job, Order, SetUps, cost_of, family_blocks, fewest_late, smith

SEARCHED_MOST = 9
"""Up to so many units every order is looked at."""
_MOVES_MOST = 1000


def best_order(jobs: Sequence[Job], set_ups: SetUps, own: Order | None = None) -> Order:
    """The order of least cost; the person's own where none is better."""
    own = own or tuple(range(len(jobs)))
    if _only_weights(jobs, set_ups):
        found = smith(jobs)
    else:
        starts = [own, smith(jobs), family_blocks(jobs, set_ups), _goals_first(jobs)]
        best = min(starts, key=lambda order: cost_of(order, jobs, set_ups))
        improve = _searched if is_proved(jobs, set_ups) else _improved
        found = improve(jobs, set_ups, best)
    return found if cost_of(found, jobs, set_ups).is_less(cost_of(own, jobs, set_ups)) else own


def is_proved(jobs: Sequence[Job], set_ups: SetUps) -> bool:
    """Whether `best_order` is proved: no order costs less."""
    return len(jobs) <= SEARCHED_MOST or _only_weights(jobs, set_ups)


def _only_weights(jobs: Sequence[Job], set_ups: SetUps) -> bool:
    return not any(job.due_minutes < inf or job.safe_minutes < inf or set_ups.get(job.family) for job in jobs)


def _goals_first(jobs: Sequence[Job]) -> Order:
    """Goals that can be kept by their dates, then everything else by Smith's rule."""
    dated = [i for i, job in enumerate(jobs) if job.due_minutes < inf]
    kept = [dated[i] for i in fewest_late([jobs[i] for i in dated])[0]]
    return (*kept, *(i for i in smith(jobs) if i not in kept))


class _Search:
    """Every order, left as soon as its beginning can end in nothing better (branch and bound)."""

    def __init__(self, jobs: Sequence[Job], set_ups: SetUps, best: Order) -> None:
        self.jobs, self.set_ups = jobs, set_ups
        self.best, self.least = best, cost_of(best, jobs, set_ups)
        self.by_ratio = smith(jobs)

    def go(self, order: Order, clock: float, so_far: Cost) -> None:
        left = [i for i in self.by_ratio if i not in order]
        if not left:
            self.best, self.least = order, so_far
            return
        family = self.jobs[order[-1]].family if order else None
        for i in left:
            job = self.jobs[i]
            at = clock + job.minutes + (self.set_ups.get(job.family, 0.0) if job.family != family else 0.0)
            cost = Cost(
                so_far.late + (at > job.due_minutes),
                so_far.unsafe + (at > job.safe_minutes),
                so_far.weighted_minutes + at * job.weight,
            )
            if self._at_least(cost, at, [j for j in left if j != i]).is_less(self.least):
                self.go((*order, i), at, cost)

    def _at_least(self, cost: Cost, clock: float, left: Sequence[int]) -> Cost:
        """No end of this beginning costs less: what is left by Smith's rule, without any set-up."""
        late, unsafe, weighted = cost
        for i in left:
            job = self.jobs[i]
            late += clock + job.minutes > job.due_minutes
            unsafe += clock + job.minutes > job.safe_minutes
        for i in left:
            clock += self.jobs[i].minutes
            weighted += clock * self.jobs[i].weight
        return Cost(late, unsafe, weighted)


def _searched(jobs: Sequence[Job], set_ups: SetUps, best: Order) -> Order:
    search = _Search(jobs, set_ups, best)
    search.go((), 0.0, Cost(0, 0, 0.0))
    return search.best


class _Table(NamedTuple):
    """Jobs as arrays, to cost many orders at once."""

    minutes: NDArray[np.float64]
    weight: NDArray[np.float64]
    due: NDArray[np.float64]
    safe: NDArray[np.float64]
    family: NDArray[np.int64]
    set_up: NDArray[np.float64]

    def best(self, orders: NDArray[np.int64]) -> tuple[Cost, Order]:
        """The order of least cost; orders have shape (orders, jobs)."""
        family = self.family[orders]
        changed = np.ones(orders.shape, dtype=bool)
        changed[:, 1:] = family[:, 1:] != family[:, :-1]
        ready = np.cumsum(self.minutes[orders] + changed * self.set_up[orders], axis=1)
        late, unsafe = (ready > self.due[orders]).sum(axis=1), (ready > self.safe[orders]).sum(axis=1)
        weighted = (ready * self.weight[orders]).sum(axis=1)
        at = np.lexsort((weighted, unsafe, late))[0]
        return Cost(int(late[at]), int(unsafe[at]), float(weighted[at])), tuple(map(int, orders[at]))


def _table(jobs: Sequence[Job], set_ups: SetUps) -> _Table:
    names = {job.family: i for i, job in enumerate(jobs)}
    return _Table(
        np.array([job.minutes for job in jobs]),
        np.array([job.weight for job in jobs]),
        np.array([job.due_minutes for job in jobs]),
        np.array([job.safe_minutes for job in jobs]),
        np.array([names[job.family] for job in jobs]),
        np.array([set_ups.get(job.family, 0.0) for job in jobs]),
    )


def _improved(jobs: Sequence[Job], set_ups: SetUps, start: Order) -> Order:
    """The start with units moved and exchanged, one at a time, until nothing helps."""
    table, order = _table(jobs, set_ups), start
    least = cost_of(order, jobs, set_ups)
    for _ in range(_MOVES_MOST):
        found = min(table.best(np.array(_neighbours(order, place))) for place in range(len(order)))
        if not found[0].is_less(least):
            break
        least, order = found
    return order


def _neighbours(order: Order, place: int) -> list[Order]:
    """The order with the unit at one place moved to every other, and exchanged with every other."""
    rest = [*order[:place], *order[place + 1 :]]
    out = [(*rest[:to], order[place], *rest[to:]) for to in range(len(order))]
    for other in range(place):
        swapped = list(order)
        swapped[place], swapped[other] = swapped[other], swapped[place]
        out.append(tuple(swapped))
    return out
