"""Evenings that are no evidence of the rhythm, and evenings that are fit for spraying."""

from __future__ import annotations

from datetime import timedelta

import numpy as np
import pytest

from tests.forecast.people import TUESDAY, FixedPace, regular_weeks, small_army, worked
from tracker.domain.progress import progress_of
from tracker.domain.records import OwnStep, Records
from tracker.domain.work import work_left
from tracker.forecast.evenings import EveningMinutes, evenings_of
from tracker.forecast.outlook import simulate
from tracker.forecast.simulate import Calendar, Task, UnitTasks, simulate_ready_days
from tracker.forecast.waiting import (
    SprayableShare,
    days_of_waiting,
    sprayable_days,
    sprayable_share,
)


def waiting(records: Records, days: int) -> list[int]:
    progress = progress_of(records)
    work = work_left(records, progress)
    as_of = TUESDAY + timedelta(days=days)
    found = days_of_waiting(records, progress, work, evenings_of(records), as_of)
    return sorted((day - TUESDAY).days for day in found)


def test_evenings_while_everything_dries_are_no_dry_spell() -> None:
    records = small_army([2], [EveningMinutes(TUESDAY, 60.0)])
    glued = records._replace(
        units=tuple(unit._replace(route=("cleaning", "gap filling", "priming")) for unit in records.units)
    )
    for step in ("cleaning", "gap filling"):
        glued = worked(glued, 1, step, [1, 2], 1)
    # Gap filling is done on Tuesday; the person's own wait of 60 hours ends on Friday morning.
    slow = glued._replace(steps=(OwnStep(1, "gap filling", "gap filling", 60.0),))
    assert waiting(slow, 6) == [1, 2]
    assert waiting(slow, 1) == [1]
    assert waiting(records, 6) == []  # cleaning could have been begun on any of them
    assert waiting(small_army([], []), 6) == []


def test_the_share_of_sprayable_evenings_is_a_beta_posterior() -> None:
    records = small_army([4], regular_weeks(4))
    assert sprayable_share(records) == SprayableShare(4, 1)
    records = worked(records, 1, "priming", [1, 2], 3)
    spoilt = worked(records, 1, "priming", [], 4)
    last = spoilt.lines[-1]._replace(note="too damp, blocked by weather", finished=False)
    records = spoilt._replace(lines=(*records.lines, last))
    # Beta(4, 1) with one evening done and one spoilt: Beta(5, 2), worked by hand
    assert sprayable_share(records) == SprayableShare(5, 2)
    plain = last._replace(note="ran out of time")
    assert sprayable_share(records._replace(lines=(*records.lines[:-1], plain))) == SprayableShare(5, 1)


def test_drawn_days_follow_the_share() -> None:
    drawn = sprayable_days(SprayableShare(5, 2), np.random.default_rng(2), 4000, 60)
    # Beta(5, 2): mean 5/7, sd sqrt(10 / (49 * 8)) (handbook moments of the beta distribution)
    by_path = drawn.mean(axis=1)
    assert by_path.mean() == pytest.approx(5 / 7, abs=0.01)
    assert by_path.std() == pytest.approx((10 / (49 * 8) + (5 / 7 * 2 / 7 - 10 / 392) / 60) ** 0.5, abs=0.01)


def test_drawn_days_are_those_of_a_beta_binomial_distribution() -> None:
    # 7 of 10 on a flat prior, Beta(8, 4). Beta-binomial predictive of the next five days and the days until
    # the sixth fit one: closed forms, computed once with scipy 1.x (betabinom; negative binomial mixed).
    paths = 40_000
    drawn = sprayable_days(SprayableShare(8, 4), np.random.default_rng(3), paths, 60)
    counts = np.bincount(drawn[:, :5].sum(axis=1), minlength=6) / paths
    expected = [0.012821, 0.064103, 0.164835, 0.274725, 0.302198, 0.181319]
    assert counts == pytest.approx(expected, abs=0.008)  # more than three standard errors
    sixth = (np.cumsum(drawn, axis=1) >= 6).argmax(axis=1) + 1
    assert (sixth == 6).mean() == pytest.approx(0.138655, abs=0.006)
    assert np.quantile(sixth, [0.5, 0.8, 0.9, 0.95], method="inverted_cdf").tolist() == [9, 11, 14, 16]


def test_a_line_that_needs_six_fit_evenings_in_a_row_waits_as_long_as_they_do() -> None:
    # Six lines after one another, each on a fit evening of its own (a day to dry): the negative-binomial
    # waiting time above, so the mean is 9.428571 evenings (closed form of Beta(8, 4) and six).
    paths = 20_000
    fit = sprayable_days(SprayableShare(8, 4), np.random.default_rng(4), paths, 200)
    unit = UnitTasks(tuple(Task((n - 1,) if n else (), 20.0, gated=True) for n in range(6)))
    minutes = [np.ones((paths, 6), dtype=np.float32)]
    evenings = np.full((paths, 200), 60, dtype=np.float32)
    ready = simulate_ready_days([unit], minutes, Calendar(evenings, fit))[:, 0]
    assert (ready + 1).mean() == pytest.approx(9.428571, abs=0.1)
    assert ((ready + 1) == 6).mean() == pytest.approx(0.138655, abs=0.008)


@pytest.mark.parametrize(
    ("fit", "spoilt", "mean", "low", "high"),
    [
        # Flat prior with 3, 7 of 10, 18 of 20 and 45 of 50: mean and central 90 % (scipy.stats.beta).
        (4, 8, 0.333333, 0.135075, 0.564374),
        (8, 4, 0.666667, 0.435626, 0.864925),
        (19, 3, 0.863636, 0.729448, 0.959900),
        (46, 6, 0.884615, 0.804849, 0.947505),
    ],
)
def test_the_share_of_a_path_is_drawn_from_the_posterior(
    fit: float, spoilt: float, mean: float, low: float, high: float
) -> None:
    days = 4000
    drawn = sprayable_days(SprayableShare(fit, spoilt), np.random.default_rng(5), 4000, days).mean(axis=1)
    assert drawn.mean() == pytest.approx(mean, abs=0.01)
    assert np.quantile(drawn, [0.05, 0.95]) == pytest.approx([low, high], abs=0.02)


def test_a_gated_line_ends_on_the_first_fit_evening() -> None:
    days = np.full((1, 6), 60, dtype=np.float32)
    days[0, 3] = 0.0
    fit = np.array([[False, False, False, True, True, True]])
    gated = UnitTasks((Task((), 0.0, gated=True),))
    free = UnitTasks((Task((), 0.0),))
    minutes = [np.full((1, 1), 30, dtype=np.float32)] * 2
    # Day 3 is fit and has no evening, so it is day 4; without a gate it is the first evening.
    assert simulate_ready_days([gated, free], minutes, Calendar(days, fit)).tolist() == [[4, 0]]
    assert simulate_ready_days([gated], minutes[:1], Calendar(days, fit * False)).tolist() == [[6]]
    assert simulate_ready_days([gated], minutes[:1], Calendar(days)).tolist() == [[0]]


def test_worse_weather_never_brings_a_date_forward() -> None:
    rng = np.random.default_rng(5)
    days = (rng.random((200, 60)) < 0.4).astype(np.float32) * 60
    fit = rng.random((200, 60)) < 0.7
    worse = fit & (rng.random((200, 60)) < 0.7)
    unit = UnitTasks(
        (Task((), 2.0), Task((0,), 8.0, gated=True), Task((1,), 0.0), Task((2,), 0.0, gated=True))
    )
    minutes = [rng.uniform(5, 90, (200, 4)).astype(np.float32)]
    better = simulate_ready_days([unit], minutes, Calendar(days, fit))
    later = simulate_ready_days([unit], minutes, Calendar(days, worse))
    assert (later >= better).all()
    assert (later > better).any()
    fewer = days * (rng.random((200, 60)) < 0.8)
    assert (simulate_ready_days([unit], minutes, Calendar(fewer, fit)) >= better).all()


def test_spoilt_evenings_move_the_dates() -> None:
    records = small_army([2], regular_weeks(8))
    as_of = TUESDAY + timedelta(weeks=8)
    spoilt = records
    for session in (9, 10, 11, 12, 13, 14):
        spoilt = worked(spoilt, 1, "priming", [], session)
    noted = tuple(line._replace(note="rain", finished=False) for line in spoilt.lines)
    usual = simulate(records, FixedPace(20.0), as_of, draws=500).ready_days
    rainy = simulate(spoilt._replace(lines=noted), FixedPace(20.0), as_of, draws=500).ready_days
    assert np.median(rainy) > np.median(usual)
