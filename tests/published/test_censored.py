"""Steps still in hand and rounded minutes against published and independent fits.

Freireich et al. 1963, Blood 21:699-716; values by R survival, lifelines, scipy and statsmodels alike.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
import scipy.sparse as sp

from tests.published import datasets
from tests.published.regression import MANY_ROUNDS, TIGHT
from tracker.pace.mixed import Fit, Floats, Noise, Sample, solve

WEEKS = np.array(datasets.REMISSION_WEEKS, dtype=float)
GOES_ON = np.array(datasets.REMISSION_GOES_ON, dtype=bool)
CONTROL = np.array(datasets.REMISSION_CONTROL_WEEKS, dtype=float)


def ordinary_fit(low: Floats, high: Floats, design: Floats | None = None) -> Fit:
    """Lognormal durations between bounds, by ordinary likelihood, one noise for all."""
    rows = low.size
    columns = np.ones((rows, 1)) if design is None else design
    sample = Sample(
        sp.csr_array(columns), np.zeros(rows), np.arange(rows), np.zeros(rows, dtype=np.int64), low, high
    )
    found = solve(sample, [], Noise(), restricted=False, tolerance=TIGHT, rounds=MANY_ROUNDS)
    assert found.converged
    return found


def test_remissions_that_go_on() -> None:
    found = ordinary_fit(WEEKS, np.where(GOES_ON, np.inf, WEEKS))
    assert found.posterior.mean == pytest.approx([3.203068], abs=1e-6)
    assert found.noise2[0] ** 0.5 == pytest.approx(0.978725, abs=1e-6)
    assert math.exp(found.posterior.mean[0]) == pytest.approx(24.608, abs=1e-3)


def test_remissions_that_all_ended() -> None:
    found = ordinary_fit(CONTROL, CONTROL)
    assert found.posterior.mean == pytest.approx([1.825121], abs=1e-6)
    assert found.noise2[0] ** 0.5 == pytest.approx(0.903216, abs=1e-6)


def test_both_groups_together() -> None:
    low = np.concatenate([WEEKS, CONTROL])
    high = np.concatenate([np.where(GOES_ON, np.inf, WEEKS), CONTROL])
    control = np.repeat([0.0, 1.0], 21)
    found = ordinary_fit(low, high, np.column_stack([np.ones(42), control]))
    assert found.posterior.mean == pytest.approx((3.1719677, -1.3468467), abs=1e-6)
    assert found.noise2[0] ** 0.5 == pytest.approx(0.9238688, abs=1e-6)


def test_the_two_wrong_ways_are_told_apart() -> None:
    # Leaving out what goes on gives 2.35421, taking it as ended 2.66108; neither is what a bound says.
    dropped = ordinary_fit(WEEKS[~GOES_ON], WEEKS[~GOES_ON])
    assert dropped.posterior.mean == pytest.approx([2.35421], abs=5e-6)
    ended = ordinary_fit(WEEKS, WEEKS)
    assert ended.posterior.mean == pytest.approx([2.66108], abs=5e-6)


def test_rounded_minutes() -> None:
    # Interval-censored lognormal, each figure +/- 7.5: R survreg (interval2) and scipy agree to 1e-6.
    minutes = np.array([30.0, 45, 45, 60, 60, 75, 90, 120])
    found = ordinary_fit(minutes - 7.5, minutes + 7.5)
    assert found.posterior.mean == pytest.approx([4.1036394], abs=1e-6)
    assert found.noise2[0] ** 0.5 == pytest.approx(0.4021152, abs=1e-6)
    naive = ordinary_fit(minutes, minutes)
    assert naive.posterior.mean == pytest.approx([4.1010001], abs=1e-6)
    assert naive.noise2[0] ** 0.5 == pytest.approx(0.4093087, abs=1e-6)
