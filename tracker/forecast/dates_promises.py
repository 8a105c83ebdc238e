"""What was forecast, and what rivals would have said, on the evening of a past day."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from tracker.domain.goals import goals_of
from tracker.domain.records import Records
from tracker.forecast.evenings import evenings_of, minutes_by_day
from tracker.forecast.futures import HORIZON_DAYS
from tracker.forecast.outlook import Futures, Pace, date_quantiles, simulate

BEYOND_DAYS = HORIZON_DAYS + 1
"""Stands for every date beyond the horizon."""
_USUAL_MINUTES = 60.0


class Promise(NamedTuple):
    """One unit's date as it was forecast; days are counted from the evening of `made_on`."""

    made_on: date
    unit_id: int
    model_ids: frozenset[int]
    """The models it is about: those that were not ready that evening."""
    days: NDArray[np.float64]
    """Quantiles at LEVELS, shape (19,), from 1 to BEYOND_DAYS."""
    constant_pace_days: float | None
    """Minutes left over minutes a day of the whole past; None without a timed evening."""
    hoped_days: float | None
    """The person's own goal date for it, if one lay ahead."""


def promises_of(known: Records, pace: Pace, day: date, seed: int, draws: int) -> tuple[Promise, ...]:
    """The dates of all units with work left; `known` holds nothing later than `day`."""
    futures = simulate(known, pace, day, seed, draws)
    a_day = minutes_a_day(known, day)
    hoped = _hoped_for(known, day)
    left = _middle_minutes(futures)
    out = []
    for place, work in enumerate(futures.work):
        models = frozenset(model for line in work.lines for model in line.model_ids)
        if models:
            steady = min(max(left[place] / a_day, 1.0), BEYOND_DAYS) if a_day else None
            out.append(
                Promise(
                    day, work.unit.id, models, _days(futures, place, day), steady, hoped.get(work.unit.id)
                )
            )
    return tuple(out)


def minutes_a_day(known: Records, day: date) -> float:
    """Constant pace: minutes of all evenings over the days since the first one, both ends counted.

    An evening that was not timed counts as the mean of the others. 0 without an evening.
    """
    held = minutes_by_day(evenings_of(known))
    timed = [minutes for minutes in held.values() if minutes is not None]
    usual = sum(timed) / len(timed) if timed else _USUAL_MINUTES
    total = sum(usual if minutes is None else minutes for minutes in held.values())
    return total / ((day - min(held)).days + 1) if held else 0.0


def _middle_minutes(futures: Futures) -> Sequence[float]:
    """Median minutes up to and with each unit, in the order they are worked."""
    return [float(m) for m in np.median(np.cumsum(futures.minutes, axis=1, dtype=np.float64), axis=0)]


def _days(futures: Futures, place: int, day: date) -> NDArray[np.float64]:
    dates = date_quantiles(futures.ready_days[:, place], futures.rhythm.start, futures.calendar.days)
    # What is forecast for the very evening is taken for the next one: it was not ready that evening.
    return np.array([BEYOND_DAYS if one is None else max((one - day).days, 1) for one in dates], dtype=float)


def _hoped_for(known: Records, day: date) -> dict[int, float]:
    """Days to the first goal that asks for the whole of a unit, by unit id."""
    out: dict[int, float] = {}
    for goal in goals_of(known):
        if goal.date > day and goal.models is None and goal.points is None:
            for unit in goal.unit_ids:
                out.setdefault(unit, min(float((goal.date - day).days), BEYOND_DAYS))
    return out
