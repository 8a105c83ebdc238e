"""Which units to pick for a day: those worth most points that are ready by it 8 times in 10."""

from __future__ import annotations

from collections.abc import Collection
from datetime import date

import numpy as np

from tracker.domain.answers_goals import PickAnswer, Picked
from tracker.domain.records import Records
from tracker.forecast.best_subset import best_subset
from tracker.forecast.doubts import date_doubts
from tracker.forecast.evenings import evenings_of
from tracker.forecast.outlook import DRAWS, Futures, Pace, simulate

DRAWS_MOST = 4000


def pick_answer(
    known: Records,
    pace: Pace,
    as_of: date,
    day: date,
    *,
    among: Collection[int] = (),
    seed: int = 1,
    draws: int = DRAWS,
) -> PickAnswer:
    """The best choice for a day by points, of units that have points; `known` ends with `as_of`.

    `among`: ids of the units to choose from; none = all.
    """
    futures = simulate(known, pace, as_of, seed, draws)
    armies = {army.id: army.name for army in known.armies}
    units = [_picked(place, futures, armies) for place in range(len(futures.work))]
    here = [i for i, work in enumerate(futures.work) if not among or work.unit.id in among]
    is_open = [bool(work.lines) for work in futures.work]
    weighed = [i for i in here if is_open[i] and units[i].points > 0]
    last = min((day - futures.rhythm.start).days, futures.calendar.days - 1)
    available = futures.calendar.put_in[:, last] if last >= 0 else np.zeros(draws)
    choice = best_subset(
        np.array([units[i].points for i in weighed], dtype=np.float64),
        futures.minutes[:, weighed].astype(np.float64),
        available.astype(np.float64),
    )
    chosen = {weighed[place] for place in choice.chosen}
    return PickAnswer(
        as_of,
        day,
        tuple(units[i] for i in sorted(chosen)),
        choice.chance,
        tuple(units[i] for i in weighed if i not in chosen),
        tuple(units[i] for i in here if not is_open[i] and units[i].points > 0),
        tuple(units[i].unit for i in here if is_open[i] and units[i].points <= 0),
        choice.exact,
        date_doubts(evenings_of(known), as_of, working=any(is_open)),
        seed,
        draws,
    )


def _picked(place: int, futures: Futures, armies: dict[int, str]) -> Picked:
    unit = futures.work[place].unit
    median = float(np.median(futures.minutes[:, place]))
    return Picked(armies[unit.army_id], unit.name, unit.points or 0.0, median)
