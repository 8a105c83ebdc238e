"""Waiting times in closed form against the simulation that books minutes on evenings."""

from __future__ import annotations

import numpy as np
import pytest

from tracker.forecast.simulate import Calendar, Task, UnitTasks, simulate_ready_days

ONE_STEP = UnitTasks((Task((), 0.0),))
PATHS = 20_000


def test_weeks_until_ten_sessions() -> None:
    # Sessions per week with posterior Gamma(15, 6 weeks): quantiles 5/50/80/95 % of the weeks until 10
    # sessions 1.96166 3.95508 5.57977 7.72661, mean 4.285714 (negative-binomial tail = beta-prime cdf).
    rng, slots = np.random.default_rng(2), 20
    rate = rng.standard_gamma(15, PATHS) / 6
    # A "day" here is a twentieth of a week and a session counts one minute; the end of the day is up
    # to one slot after the session, half a slot on average.
    sessions = rng.poisson(rate[:, None] / slots, (PATHS, 30 * slots)).astype(np.float32)
    ten = np.full((PATHS, 1), 10, dtype=np.float32)
    weeks = (simulate_ready_days([ONE_STEP], [ten], Calendar(sessions))[:, 0] + 0.5) / slots
    found = np.quantile(weeks, (0.05, 0.5, 0.8, 0.95))
    assert found == pytest.approx((1.96166, 3.95508, 5.57977, 7.72661), abs=0.1)
    assert weeks.mean() == pytest.approx(4.285714, abs=0.05)


def test_evenings_until_six_sessions() -> None:
    # Chance of an evening ~ Beta(8, 4): P(exactly 6 days until 6 sessions) .138655, mean 9.428571,
    # 50/80/90/95 % points 9, 11, 14, 16 (beta negative binomial, scipy).
    rng = np.random.default_rng(3)
    chance = rng.beta(8, 4, PATHS)
    evenings = (rng.random((PATHS, 200)) < chance[:, None]).astype(np.float32) * 60
    six_hours = np.full((PATHS, 1), 360, dtype=np.float32)
    days = simulate_ready_days([ONE_STEP], [six_hours], Calendar(evenings))[:, 0] + 1
    assert (days == 6).mean() == pytest.approx(0.138655, abs=0.01)
    assert np.minimum(days, 200).mean() == pytest.approx(9.428571, abs=0.1)
    found = np.quantile(days, (0.5, 0.8, 0.9, 0.95), method="inverted_cdf")
    assert np.abs(found - (9, 11, 14, 16)).max() <= 1
