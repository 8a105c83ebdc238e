"""The day the backlog is empty, and what would let it end within the time that is simulated."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable
from math import ceil
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from tracker.domain.answers import LEVELS, Dates
from tracker.domain.answers_backlog import Change
from tracker.domain.wishes import MoreEvenings
from tracker.forecast.arrivals import Arrivals, simulate_arrivals
from tracker.forecast.flows import DAYS_A_MONTH
from tracker.forecast.outlook import Evenings, Futures, date_quantiles
from tracker.forecast.whatif import evenings_wished

MORE_EVENINGS_MOST = 3
"""More than these nobody is told to find: it is a pastime."""
_MIDDLE = LEVELS.index(50)

Play = Callable[[Evenings], Futures]
"""The futures with other evenings, under the same luck."""


class Coming(NamedTuple):
    """What comes in: the rate, the minutes of each lot (draws, lots), and the luck it is drawn with."""

    arrivals: Arrivals
    lot_minutes: NDArray[np.float64]
    seed: int

    def minutes(self, paths: int, days: int, kept_share: float = 1.0) -> NDArray[np.float32]:
        """Minutes of work that came in by the end of each day, shape (paths, days); always the same luck."""
        luck = np.random.default_rng(self.seed).spawn(4)[3]
        return simulate_arrivals(self.arrivals, self.lot_minutes, luck, (paths, days), kept_share)


def end_days(futures: Futures, came: NDArray[np.float32]) -> NDArray[np.int32]:
    """Day number on which each future's backlog is empty, shape (paths,); the horizon's length = not in it.

    The first day on which the minutes put in cover all that is there and all that came in meanwhile, and
    on which what is there has dried.
    """
    calendar = futures.calendar
    covered = calendar.put_in >= came + futures.minutes.sum(axis=1, keepdims=True)
    first = np.where(covered.any(axis=1), covered.argmax(axis=1), calendar.days)
    return np.asarray(np.maximum(first, futures.ready_days.max(axis=1)), dtype=np.int32)


def changes(futures: Futures, coming: Coming, play: Play) -> tuple[Change, ...]:
    """The least that puts the middle of the end within the horizon, by fewer models and by more evenings.

    Each by itself, in whole numbers, under the same luck as the answer: fewer models keep a share of the lots
    that come, more evenings only add some. Only what does it is there; nothing where the middle lies within
    the horizon as it is.
    """
    if _is_within(_end(futures, coming)):
        return ()
    return tuple(found for found in (_fewer_models(futures, coming), _more_evenings(coming, play)) if found)


def _fewer_models(futures: Futures, coming: Coming) -> Change | None:
    a_month = coming.arrivals.models_a_week * DAYS_A_MONTH / 7
    most = ceil(a_month)

    def end(fewer: int) -> Dates:
        return _end(futures, coming, kept_share=max(1 - fewer / a_month, 0.0))

    fewer = 1 + bisect_left(range(1, most + 1), True, key=lambda k: _is_within(end(k)))
    if fewer > most:
        return None
    return Change("fewer models", fewer, fewer == most, end(fewer))


def _more_evenings(coming: Coming, play: Play) -> Change | None:
    ends: dict[int, Dates] = {}

    def reaches(more: int) -> bool:
        futures = play(lambda rhythm, *luck: evenings_wished((MoreEvenings(more),), rhythm)(rhythm, *luck))
        ends[more] = _end(futures, coming)
        return _is_within(ends[more])

    more = 1 + bisect_left(range(1, MORE_EVENINGS_MOST + 1), True, key=reaches)
    return None if more > MORE_EVENINGS_MOST else Change("more evenings", more, False, ends[more])


def _end(futures: Futures, coming: Coming, kept_share: float = 1.0) -> Dates:
    calendar = futures.calendar
    came = coming.minutes(calendar.paths, calendar.days, kept_share)
    return date_quantiles(end_days(futures, came), futures.rhythm.start, calendar.days)


def _is_within(end: Dates) -> bool:
    return end[_MIDDLE] is not None
