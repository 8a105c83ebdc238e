"""How good a forecast was, once the minutes are known.

Conventions: y minutes that came, q quantiles that were forecast at levels p (19 of them, `LEVELS`),
lowest first. Scores are in the unit of y, or dimensionless when both are logs; lower is better.
After Gneiting and Raftery 2007, J. Am. Stat. Assoc. 102:359-378, unless said otherwise.
"""

from __future__ import annotations

import math
from statistics import NormalDist
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tracker.domain.answers import LEVELS, Held

Floats = NDArray[np.float64]


def pinball(minutes: ArrayLike, quantile: ArrayLike, level: ArrayLike) -> Floats:
    """Pinball loss of a quantile: (y - q) p where y is above it, (q - y) (1 - p) where below.

    Shapes broadcast. Raises ValueError for a level outside 0 … 1.
    """
    p = np.asarray(level, dtype=float)
    if ((p < 0) | (p > 1)).any():
        raise ValueError("a level lies between 0 and 1")
    above = np.asarray(minutes, dtype=float) - np.asarray(quantile, dtype=float)
    return np.asarray(np.maximum(p * above, (p - 1) * above))


def crps(minutes: ArrayLike, quantiles: ArrayLike, levels: ArrayLike | None = None) -> Floats:
    """Continuous ranked probability score (...) from quantiles (..., L): twice the mean pinball loss.

    levels: (L,) between 0 and 1, by default those of `LEVELS`. The few levels make it a little smaller
    than the score of the whole distribution, the same for every forecaster at the same levels.
    """
    p = np.array(LEVELS) / 100 if levels is None else np.asarray(levels, dtype=float)
    y = np.asarray(minutes, dtype=float)[..., None]
    return np.asarray(2 * pinball(y, quantiles, p).mean(axis=-1))


def crps_of_draws(minutes: float, draws: ArrayLike) -> float:
    """The score of a forecast given as n draws: mean |x - y| - mean |x - x'| / 2, all pairs counted.

    Sorted draws give the second part in n log n: sum over i of (2 i - n - 1) x_i / n^2. Raises
    ValueError without draws.
    """
    x = np.sort(np.asarray(draws, dtype=float))
    if x.size == 0:
        raise ValueError("no draws to score")
    rank = 2 * np.arange(1, x.size + 1) - x.size - 1
    return float(np.abs(x - minutes).mean() - rank @ x / x.size**2)


def interval_score(minutes: ArrayLike, low: ArrayLike, high: ArrayLike, miss: float) -> Floats:
    """Score of a central range meant to be missed with probability `miss`.

    (u - l) + 2 / miss * (l - y where y is below, y - u where above). Raises ValueError unless
    0 < miss < 1.
    """
    if not 0 < miss < 1:
        raise ValueError("a range is missed with a probability between 0 and 1")
    y, lower, upper = (np.asarray(part, dtype=float) for part in (minutes, low, high))
    outside = np.maximum(lower - y, 0) + np.maximum(y - upper, 0)
    return np.asarray(upper - lower + 2 / miss * outside)


class Coverage(NamedTuple):
    """How often a range held, and how often it might have by luck alone."""

    held: int
    forecasts: int
    nominal: float
    """Share that should hold."""
    least: int
    most: int
    """Central 95 % of the numbers that would hold if the nominal share were true."""
    share_low: float
    share_high: float
    """95 % interval of the true share (Wilson 1927, J. Am. Stat. Assoc. 22:209-212)."""

    @property
    def as_promised(self) -> bool:
        """Whether the number that held lies within the limits of luck."""
        return self.least <= self.held <= self.most


def coverage(
    minutes: ArrayLike, low: ArrayLike, high: ArrayLike, nominal: float, outcomes: int | None = None
) -> Coverage:
    """How often minutes lay from low to high (ends included), with the limits of luck.

    The limits take the forecasts as independent, which those of one stretch of time are not quite. Where
    the n forecasts are about only so many `outcomes`, m of them, a share of the n is as lucky as that of m:
    the limits are those of m, scaled by n / m and rounded outwards.
    """
    y = np.asarray(minutes, dtype=float)
    held = (y >= np.asarray(low, dtype=float)) & (y <= np.asarray(high, dtype=float))
    number, size = int(held.sum()), int(held.size)
    alone = size if outcomes is None else outcomes
    times = size / max(alone, 1)
    least, most = binomial_limits(alone, nominal)
    share = wilson_interval(number / max(times, 1), alone)
    return Coverage(number, size, nominal, math.floor(least * times), math.ceil(most * times), *share)


def held_range(outcome: ArrayLike, quantiles: Floats, percent: int, outcomes: int | None = None) -> Held:
    """How often the central `percent` % range of quantiles (n, 19), at `LEVELS`, held; see `coverage`."""
    low, high = (quantiles[:, LEVELS.index(level)] for level in (50 - percent // 2, 50 + percent // 2))
    found = coverage(outcome, low, high, percent / 100, outcomes)
    return Held(percent, found.held, found.least, found.most, found.share_low, found.share_high)


def binomial_limits(trials: int, chance: float, level: float = 0.95) -> tuple[int, int]:
    """Central limits of a binomial number: its quantiles at (1 - level) / 2 and (1 + level) / 2.

    Raises ValueError unless the chance lies between 0 and 1 and there are no fewer than 0 trials.
    """
    if not (0 <= chance <= 1 and trials >= 0):
        raise ValueError("a chance lies between 0 and 1, and trials are counted from 0")
    if chance in (0.0, 1.0):
        return round(trials * chance), round(trials * chance)
    chances = [
        math.exp(
            math.lgamma(trials + 1) - math.lgamma(k + 1) - math.lgamma(trials - k + 1)
            + k * math.log(chance) + (trials - k) * math.log1p(-chance)
        )
        for k in range(trials + 1)
    ]  # fmt: skip
    up_to = np.cumsum(chances)
    tails = ((1 - level) / 2, (1 + level) / 2)
    low, high = (min(int(np.searchsorted(up_to, tail)), trials) for tail in tails)
    return low, high


def wilson_interval(held: float, trials: int, level: float = 0.95) -> tuple[float, float]:
    """Interval of a share from a count: (p + z^2/2n ± z sqrt(p(1-p)/n + z^2/4n^2)) / (1 + z^2/n).

    Without trials nothing is known: 0 to 1. Wilson 1927; recommended by Newcombe 1998, Stat. Med.
    17:857-872.
    """
    if trials == 0:
        return 0.0, 1.0
    z = NormalDist().inv_cdf((1 + level) / 2)
    share, spread2 = held / trials, z * z / trials
    middle = share + spread2 / 2
    reach = z * math.sqrt(share * (1 - share) / trials + spread2 / (4 * trials))
    return max((middle - reach) / (1 + spread2), 0.0), min((middle + reach) / (1 + spread2), 1.0)
