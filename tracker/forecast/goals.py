"""Goals: the chance of each, the days it may be met on, and the last day to begin.

What a goal asks for is counted unit by unit: models that are table-ready now count, and the remaining models
of a unit come all at once, on the day the unit is ready. With that a count of models is never too hopeful.
"""

from __future__ import annotations

from datetime import date, timedelta
from math import ceil

import numpy as np
from numpy.typing import NDArray

from tracker.domain.answers_goals import GOOD_CHANCE, GoalsAnswer, GoalStanding
from tracker.domain.goals import goals_of
from tracker.domain.records import Goal, Records
from tracker.domain.wished import in_order
from tracker.domain.work import UnitWork
from tracker.forecast.again import Again
from tracker.forecast.doubts import date_doubts
from tracker.forecast.evenings import evenings_of
from tracker.forecast.outlook import DRAWS, Futures, Pace, date_quantiles

Days = NDArray[np.int32]


def goals_answer(
    known: Records, pace: Pace, as_of: date, *, seed: int = 1, draws: int = DRAWS
) -> GoalsAnswer:
    """Every goal with its chance, its days and its last day to begin; `known` ends with `as_of`."""
    again = Again(known, pace, as_of, seed, draws)
    futures = again.futures
    goals = tuple(_standing(goal, again) for goal in goals_of(known))
    working = any(work.lines for work in futures.work)
    doubts = date_doubts(evenings_of(known), as_of, working=working) if goals else ()
    return GoalsAnswer(as_of, goals, doubts, seed, draws)


def units_of(goal: Goal, futures: Futures) -> list[int]:
    """Places of the units that count for a goal; all where it names none."""
    return [i for i, work in enumerate(futures.work) if not goal.unit_ids or work.unit.id in goal.unit_ids]


def met_days(futures: Futures, goal: Goal) -> Days | None:
    """The day number on which each path meets the goal, shape (paths,); None = none of its units is there.

    `calendar.days` = not within the horizon, or never. A goal that is met already is met on day 0.
    """
    places = units_of(goal, futures)
    if not places:
        return None
    days = futures.ready_days[:, places]
    work = [futures.work[place] for place in places]
    if goal.models is not None:
        now = sum(unit.models_ready for unit in work)
        to_come = np.array([float(unit.models - unit.models_ready) for unit in work])
        return _reached(days, to_come, goal.models - now, futures.calendar.days)
    if goal.points is not None:
        worth = np.array([unit.unit.points or 0.0 for unit in work])
        return _reached(days, worth, goal.points, futures.calendar.days)
    return np.asarray(days.max(axis=1))


def _reached(days: Days, worth: NDArray[np.float64], wanted: float, never: int) -> Days:
    """The day by which units worth enough together are ready, shape (paths,)."""
    if wanted <= 0:
        return np.zeros(len(days), dtype=np.int32)
    order = np.argsort(days, axis=1, kind="stable")
    summed = np.cumsum(worth[order], axis=1)
    enough = summed >= wanted
    first = enough.argmax(axis=1)
    found = np.take_along_axis(days, np.take_along_axis(order, first[:, None], axis=1), axis=1)[:, 0]
    return np.where(enough.any(axis=1), found, never).astype(np.int32)


def chance_by(met: Days, goal: Goal, futures: Futures) -> float:
    """Share of the paths on which the goal is met by the end of its day."""
    return float(_by(met, goal, futures).mean())


def chance_of(goal: Goal, futures: Futures) -> float | None:
    """The chance of a goal; None = none of its units is there. One that is met already is certain."""
    kept = paths_that_keep(goal, futures)
    return None if kept is None else float(kept.mean())


def paths_that_keep(goal: Goal, futures: Futures) -> NDArray[np.bool_] | None:
    """Which paths keep a goal, shape (paths,); None = none of its units is there."""
    met = met_days(futures, goal)
    if met is None:
        return None
    return np.ones(len(met), dtype=bool) if is_met(goal, futures) else _by(met, goal, futures)


def _by(met: Days, goal: Goal, futures: Futures) -> NDArray[np.bool_]:
    last_day = min((goal.date - futures.rhythm.start).days, futures.calendar.days - 1)
    return np.asarray(met <= last_day)


def sure_amount(goal: Goal, futures: Futures) -> float | None:
    """So many models, or points, are ready by the goal's day 8 times in 10; None = it asks for units.

    The largest amount that at least 80 % of the paths reach: an order statistic of the amounts.
    """
    places = units_of(goal, futures)
    if not places or (goal.models is None and goal.points is None):
        return None
    ready = _by(futures.ready_days[:, places], goal, futures)
    work = [futures.work[place] for place in places]
    if goal.models is not None:
        to_come = np.array([float(unit.models - unit.models_ready) for unit in work])
        amounts = sum(unit.models_ready for unit in work) + ready @ to_come
    else:
        amounts = ready @ np.array([unit.unit.points or 0.0 for unit in work])
    return float(np.sort(amounts)[len(amounts) - ceil(GOOD_CHANCE * len(amounts) - 1e-9)])


def is_met(goal: Goal, futures: Futures) -> bool:
    """Whether what stands on the table today is all that the goal asks for."""
    work: list[UnitWork] = [futures.work[place] for place in units_of(goal, futures)]
    if not work:
        return False
    if goal.models is not None:
        return sum(unit.models_ready for unit in work) >= goal.models
    if goal.points is not None:
        return sum(unit.unit.points or 0.0 for unit in work if not unit.lines) >= goal.points
    return not any(unit.lines for unit in work)


def start_by(goal: Goal, again: Again) -> date | None:
    """The last day on which to begin what a goal asks for and still keep it 8 times in 10; None = too late.

    From that day on its units come before all others, in their own order; all minutes of the evenings
    before go into other work. By bisection: a later beginning never raises the chance.
    """
    futures = put_first(goal, again)
    low, high = again.as_of, goal.date + timedelta(days=1)
    if low > goal.date or (chance_of(goal, futures) or 0.0) < GOOD_CHANCE:
        return None
    while (high - low).days > 1:
        middle = low + timedelta(days=(high - low).days // 2)
        if (chance_of(goal, again.begun_on(middle, futures)) or 0.0) >= GOOD_CHANCE:
            low = middle
        else:
            high = middle
    return low


def put_first(goal: Goal, again: Again) -> Futures:
    """The futures of the units that count for a goal, worked before all others; only these are in them."""
    counted = [again.futures.work[place].unit.id for place in units_of(goal, again.futures)]
    whole = (
        again.of(in_order(again.known, counted)) if waits_for_others(goal, again.futures) else again.futures
    )
    last = max(units_of(goal, whole), default=-1) + 1
    return whole._replace(
        work=whole.work[:last], minutes=whole.minutes[:, :last], ready_days=whole.ready_days[:, :last]
    )


def waits_for_others(goal: Goal, futures: Futures) -> bool:
    """Whether open work that does not count for a goal stands before work that does."""
    is_open = [bool(work.lines) for work in futures.work]
    mine = [place for place in units_of(goal, futures) if is_open[place]]
    return sum(is_open[: max(mine, default=-1) + 1]) > len(mine)


def _standing(goal: Goal, again: Again) -> GoalStanding:
    futures = again.futures
    names = {unit.id: unit.name for unit in again.known.units}
    units = tuple(names[number] for number in goal.unit_ids if number in names)
    met = met_days(futures, goal)
    if met is None or is_met(goal, futures):
        return GoalStanding(goal, units, chance_of(goal, futures), is_met=met is not None)
    days = date_quantiles(met, futures.rhythm.start, futures.calendar.days)
    chance, waits = chance_by(met, goal, futures), waits_for_others(goal, futures)
    return GoalStanding(goal, units, chance, days, start_by(goal, again), waits=waits)
