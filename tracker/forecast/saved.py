"""What a wish saves one unit: hours and days, under the same luck with it and without."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

import numpy as np

from tracker.domain.answers import LEVELS, Doubt
from tracker.domain.records import Records
from tracker.domain.wished import unit_named, wished
from tracker.domain.wishes import UnitWish
from tracker.forecast.doubts import date_doubts
from tracker.forecast.evenings import evenings_of
from tracker.forecast.outlook import DRAWS, Futures, Pace, date_quantiles, simulate

SAVED_LEVELS = (10, 50, 90)
_MINUTES_AN_HOUR = 60.0


class Saved(NamedTuple):
    """What the wish takes off a unit; below 0 it puts on."""

    hours: tuple[float, float, float]
    """At SAVED_LEVELS."""
    days: int | None
    """By how many days the middle of its table-ready dates comes sooner; None = beyond two years."""
    doubts: tuple[Doubt, ...] = ()


def saved_by(
    known: Records, pace: Pace, as_of: date, wish: UnitWish, *, seed: int = 1, draws: int = DRAWS
) -> Saved:
    """Hours and days that a wish about one unit saves it; `known` holds nothing later than `as_of`.

    Both plans are simulated from one seed, so path i meets the same pace and the same evenings in both.
    Hours are quantiles of the differences (minutes before - minutes after) / 60 path by path, which spread
    far less than the difference of two ranges. `DataError` for a wish that cannot come true.
    """
    unit_id = unit_named(known, wish.unit, wish.army).id
    before = simulate(known, pace, as_of, seed, draws)
    after = simulate(wished(known, [wish], as_of), pace, as_of, seed, draws)
    then, now = _place(before, unit_id), _place(after, unit_id)
    minutes = before.minutes[:, then].astype(np.float64) - after.minutes[:, now]
    low, middle, high = (float(hours) for hours in np.percentile(minutes / _MINUTES_AN_HOUR, SAVED_LEVELS))
    ready, ready_then = _middle(before, then), _middle(after, now)
    beyond = ready is None or ready_then is None
    working = any(work.lines for work in (before.work[then], after.work[now]))
    return Saved(
        (low, middle, high),
        (ready - ready_then).days if ready and ready_then else None,
        date_doubts(evenings_of(known), as_of, working=working, beyond=beyond),
    )


def _place(futures: Futures, unit_id: int) -> int:
    return next(place for place, work in enumerate(futures.work) if work.unit.id == unit_id)


def _middle(futures: Futures, place: int) -> date | None:
    dates = date_quantiles(futures.ready_days[:, place], futures.rhythm.start, futures.calendar.days)
    return dates[len(LEVELS) // 2]
