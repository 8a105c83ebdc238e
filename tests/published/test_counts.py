"""Counts to come in closed form against the simulations that draw them: lots that come in, fit evenings."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray

from tracker.forecast.arrivals import Arrivals, Lot, simulate_arrivals
from tracker.forecast.waiting import SprayableShare, sprayable_days

PATHS = 40_000
ONE_MINUTE_LOTS = np.ones((1, 1))


def lots_by_day(shape: float, weeks: float, days: int, seed: int) -> NDArray[np.float32]:
    """Lots that came in by the end of each day when lots a week ~ Gamma(shape, weeks), (paths, days)."""
    arrivals = Arrivals(shape, weeks, (Lot(1, 1),))
    return simulate_arrivals(arrivals, ONE_MINUTE_LOTS, np.random.default_rng(seed), (PATHS, days))


def test_counts_of_the_next_four_weeks() -> None:
    # Rate ~ Gamma(15, 6 weeks): the next four weeks' count is negative binomial (r = 15, p = .6): mean 10,
    # variance 16.666667, P(<= 5) .125599, 5/50/95 % points 4, 10, 17 (scipy).
    count = lots_by_day(15, 6, 28, seed=1)[:, -1]
    assert count.mean() == pytest.approx(10, abs=0.1)
    assert count.var() == pytest.approx(16.666667, rel=0.04)
    assert (count <= 5).mean() == pytest.approx(0.125599, abs=0.007)
    assert np.quantile(count, (0.05, 0.5, 0.95), method="inverted_cdf").tolist() == [4, 10, 17]


def test_weeks_until_the_tenth() -> None:
    # P(at most t weeks) for t = 2, 3, 4, 5, 6, 8 (negative-binomial tail = beta-prime distribution).
    came = lots_by_day(15, 6, 56, seed=2)
    by = {2: 0.054665, 3: 0.253835, 4: 0.510920, 5: 0.716311, 6: 0.846272, 8: 0.958240}
    for weeks, chance in by.items():
        assert (came[:, 7 * weeks - 1] >= 10).mean() == pytest.approx(chance, abs=0.01)


@pytest.mark.parametrize(
    ("shape", "weeks", "chances"),
    # Hoff 2009, A First Course in Bayesian Statistical Methods, ch. 3 (from memory, recomputed with scipy):
    # posteriors Gamma(219, 112) and Gamma(68, 45); chance of 0, 1, 2, 3 in the next one.
    [(219, 112, (0.1427, 0.2767, 0.2693, 0.1756)), (68, 45, (0.2243, 0.3316, 0.2487, 0.1262))],
)
def test_counts_of_the_next_week(shape: float, weeks: float, chances: tuple[float, ...]) -> None:
    count = lots_by_day(shape, weeks, 7, seed=3)[:, -1]
    found = [float((count == n).mean()) for n in range(4)]
    assert found == pytest.approx(chances, abs=0.01)


def test_fit_evenings_of_the_next_five() -> None:
    # Seven fit of ten under a uniform prior, Beta(8, 4): of the next five 0 … 5 are fit with chances .012821
    # .064103 .164835 .274725 .302198 .181319, mean 3.333333, variance 1.452991 (beta-binomial, scipy).
    fit = sprayable_days(SprayableShare(8, 4), np.random.default_rng(4), PATHS, 5).sum(axis=1)
    found = np.bincount(fit, minlength=6) / PATHS
    chances = (0.012821, 0.064103, 0.164835, 0.274725, 0.302198, 0.181319)
    assert found == pytest.approx(chances, abs=0.008)
    assert fit.mean() == pytest.approx(3.333333, abs=0.03)
    assert fit.var() == pytest.approx(1.452991, rel=0.04)


def test_nothing_known_makes_every_count_alike() -> None:
    # Uniform prior, no data: 0 … 5 of five are all equally likely, 1/6 (Laplace).
    fit = sprayable_days(SprayableShare(1, 1), np.random.default_rng(5), PATHS, 5).sum(axis=1)
    assert np.bincount(fit, minlength=6) / PATHS == pytest.approx(np.full(6, 1 / 6), abs=0.008)
