"""What comes in: at which rate this person adds models, and simulated lots of the future."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from datetime import date, timedelta
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from tracker.domain.records import Records

_WINDOW_DAYS = 364
# A lot a quarter, worth a quarter of watching: weak on purpose. Common practice, no source.
_PRIOR_LOTS = 1.0
_PRIOR_WEEKS = 13.0
_FEWEST_LOTS = 3


class Lot(NamedTuple):
    """Models of one unit that came in on one day."""

    unit_id: int
    models: int


class Arrivals(NamedTuple):
    """Lots per week ~ Gamma(shape, weeks); each lot is like one of `lots`."""

    shape: float
    weeks: float
    lots: tuple[Lot, ...]

    @property
    def models_a_week(self) -> float:
        """Expected models coming in per week."""
        if not self.lots:
            return 0.0
        return self.shape / self.weeks * sum(lot.models for lot in self.lots) / len(self.lots)


def learn_arrivals(records: Records, as_of: date) -> Arrivals:
    """The rate of adding, from the lots of the last year: Gamma(1 + lots, 13 weeks + weeks seen).

    What was there on the first day of the record is stock, not an arrival; when there are fewer than
    three lots since, its units still tell what a lot is like. Source of the update: Hoff, A First
    Course in Bayesian Statistical Methods, 2009, ch. 3.
    """
    added = Counter((m.unit_id, m.added_on) for m in records.models if m.unit_id is not None)
    if not added:
        return Arrivals(_PRIOR_LOTS, _PRIOR_WEEKS, ())
    first = min([day for _, day in added] + [session.date for session in records.sessions])
    since = max(first, as_of - timedelta(days=_WINDOW_DAYS))
    every = sorted(added.items())
    recent = [Lot(unit or 0, n) for (unit, day), n in every if day > since]
    pool = recent if len(recent) >= _FEWEST_LOTS else [Lot(unit or 0, n) for (unit, _), n in every]
    weeks = (as_of - since).days / 7
    return Arrivals(_PRIOR_LOTS + len(recent), _PRIOR_WEEKS + weeks, tuple(pool))


def simulate_arrivals(
    arrivals: Arrivals,
    lot_minutes: NDArray[np.float64],
    rng: np.random.Generator,
    shape: tuple[int, int],
    kept_share: float = 1.0,
) -> NDArray[np.float32]:
    """Minutes of work that came in by the end of each day, shape (paths, days) = `shape`.

    `lot_minutes`, shape (draws, lots): minutes to finish a lot like each of the arrivals' lots. With a
    smaller `kept_share` only that share of the lots comes in: of the same ones, under the same luck.
    """
    paths, days = shape
    if not arrivals.lots:
        return np.zeros(shape, dtype=np.float32)
    rate = rng.standard_gamma(arrivals.shape, paths) / arrivals.weeks
    path = np.repeat(np.arange(paths), rng.poisson(rate * days / 7))
    day = rng.integers(0, days, len(path))
    which = rng.integers(0, len(arrivals.lots), len(path))
    minutes = lot_minutes[path % len(lot_minutes), which] * (rng.random(len(path)) < kept_share)
    came = np.bincount(path * days + day, weights=minutes, minlength=paths * days)
    return np.cumsum(came.reshape(shape), axis=1, dtype=np.float32)


def lots_minutes(
    lots: Sequence[Lot], per_model: dict[int, NDArray[np.float64]], draws: int
) -> NDArray[np.float64]:
    """Minutes of each lot, shape (draws, lots), from minutes per model by unit id, each (draws,)."""
    out = np.zeros((draws, len(lots)))
    for place, lot in enumerate(lots):
        if lot.unit_id in per_model:
            out[:, place] = per_model[lot.unit_id] * lot.models
    return out
