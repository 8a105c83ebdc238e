"""When the table-ready points of an army reach a target, and which units reach it with the least work.

On each simulated path units come in the order of their ready days; the target is reached on the day on which
the points of all that are ready by then come to it. Only whole units count. Points that differ by less than
a millionth are the same: shares of a unit that was split need not add up to the last bit.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from tracker.domain.answers import Dates
from tracker.domain.answers_points import ArmyPoints, PointsAnswer, Soonest
from tracker.domain.list_points import SAME_POINTS
from tracker.domain.records import Records
from tracker.domain.wished import in_order
from tracker.forecast.again import Again
from tracker.forecast.doubts import date_doubts
from tracker.forecast.evenings import evenings_of
from tracker.forecast.least_work import least_work
from tracker.forecast.outlook import DRAWS, Futures, Pace, date_quantiles

Days = NDArray[np.int32]


class Reached(NamedTuple):
    """When a target is reached, path by path."""

    days: Days
    """Shape (paths,); the horizon = not within it, or never."""
    order: tuple[int, ...]
    """Places of the units as they come on the middle path, up to the one that reaches the target."""


def reached(ready: Days, points: Sequence[float], target: float, horizon_days: int) -> Reached:
    """When units of `points`, ready on `ready` (paths, units), come to `target`; days below `horizon_days`.

    The middle path is the order statistic ceil(n / 2) of the days. Where it does not reach the target within
    the horizon, the units not ready by then follow in the order they stand.
    """
    worth = np.asarray(points, dtype=np.float64)
    order = np.argsort(ready, axis=1, kind="stable")
    enough = np.cumsum(worth[order], axis=1) >= target - SAME_POINTS
    first = enough.argmax(axis=1)
    last = np.take_along_axis(order, first[:, None], axis=1)
    found = np.take_along_axis(ready, last, axis=1)[:, 0]
    days = np.where(enough.any(axis=1), found, horizon_days).astype(np.int32)
    middle = int(np.argsort(days, kind="stable")[-(-len(days) // 2) - 1])
    return Reached(days, tuple(map(int, order[middle, : first[middle] + 1])))


def dated(
    known: Records,
    pace: Pace,
    as_of: date,
    lists: Sequence[ArmyPoints],
    *,
    seed: int = 1,
    draws: int = DRAWS,
) -> PointsAnswer:
    """The lists with the days of the targets that are open; `known` ends with `as_of`."""
    again = Again(known, pace, as_of, seed, draws)
    army_ids = {army.name: army.id for army in known.armies}
    told = tuple(_dated(one, army_ids[one.army], again) for one in lists)
    beyond = any(one.reached and one.reached[len(one.reached) // 2] is None for one in told)
    return PointsAnswer(as_of, told, date_doubts(evenings_of(known), as_of, beyond=beyond), seed, draws)


def _dated(one: ArmyPoints, army_id: int, again: Again) -> ArmyPoints:
    if one.state != "open" or one.target is None:
        return one
    futures = again.futures
    places = _places(futures, army_id)
    worth = [futures.work[place].unit.points or 0.0 for place in places]
    found = reached(futures.ready_days[:, places], worth, one.target, futures.calendar.days)
    way = [places[place] for place in found.order if futures.work[places[place]].lines]
    names = tuple(futures.work[place].unit.name for place in way)
    return one._replace(
        reached=_dates(found.days, futures), on_the_way=names, soonest=_soonest(one, army_id, again)
    )


def _soonest(one: ArmyPoints, army_id: int, again: Again) -> Soonest | None:
    """The units with the least work that reach the target, worked before all others, in their own order."""
    futures = again.futures
    places = [place for place in _places(futures, army_id) if futures.work[place].lines]
    worth = [futures.work[place].unit.points or 0.0 for place in places]
    minutes = [float(futures.minutes[:, place].mean(dtype=np.float64)) for place in places]
    choice = least_work(worth, minutes, one.missing)
    chosen = [places[place] for place in choice.chosen]
    first = [place for place, work in enumerate(futures.work) if work.lines][: len(chosen)]
    if chosen == first:
        return None  # they come first already
    plan = again.of(in_order(again.known, [futures.work[place].unit.id for place in chosen]))
    mine = _places(plan, army_id)
    points = [plan.work[place].unit.points or 0.0 for place in mine]
    days = reached(plan.ready_days[:, mine], points, one.target or 0.0, plan.calendar.days).days
    names = tuple(futures.work[place].unit.name for place in chosen)
    return Soonest(names, _dates(days, plan), choice.exact)


def _places(futures: Futures, army_id: int) -> list[int]:
    """Places of an army's units that have points."""
    return [i for i, work in enumerate(futures.work) if work.unit.army_id == army_id and work.unit.points]


def _dates(days: Days, futures: Futures) -> Dates:
    return date_quantiles(days, futures.rhythm.start, futures.calendar.days)
