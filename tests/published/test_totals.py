"""Evenings of which only the total is known: the minutes of each step come back out of them."""

from __future__ import annotations

import numpy as np
import pytest
import scipy.sparse as sp

from tests.builders import Did, did, evening, log_of, planned
from tracker.pace import learn
from tracker.pace.mixed import Fit, Floats, Group, Noise, Sample, solve

# Six sessions of three kinds of step: how many of each, and the minutes each takes. The totals are the
# product by hand; non-negative least squares (Lawson and Hanson 1974) recovers the minutes exactly.
COUNTS = np.array([[2, 1, 0], [1, 0, 1], [0, 2, 1], [3, 1, 1], [1, 1, 0], [0, 0, 2]])
MINUTES = np.array([20.0, 35.0, 15.0])
TOTALS = np.array([75.0, 35.0, 85.0, 110.0, 55.0, 30.0])


def told_totals(
    counts: np.ndarray[tuple[int, int], np.dtype[np.int64]], totals: Floats, spread: float
) -> Fit:
    """Sessions as blocks: a line for each kind of step in it, its log minutes log(count) + effect."""
    session, kind = np.nonzero(counts)
    lines = session.size
    sample = Sample(
        sp.csr_array((np.ones(lines), (np.arange(lines), kind)), shape=(lines, counts.shape[1])),
        np.log(counts[session, kind]), session, np.zeros(lines, dtype=np.int64), totals, totals,
    )  # fmt: skip
    group = Group("steps", 0, counts.shape[1], 3.0, np.inf)
    start = np.full(counts.shape[1], np.log(totals.sum() / counts.sum()))
    noise2 = np.array([spread**2])
    return solve(
        sample, [group], Noise(spread, np.inf), start=(start, np.array([9.0]), noise2), tolerance=1e-9
    )


def test_totals_give_back_the_minutes_of_each_step() -> None:
    assert (COUNTS @ MINUTES).tolist() == TOTALS.tolist()
    found = told_totals(COUNTS, TOTALS, 1e-5)
    assert found.converged
    assert np.exp(found.posterior.mean) == pytest.approx(MINUTES, rel=1e-7)


def test_minutes_never_turn_negative() -> None:
    # Sessions that contradict each other: plain least squares says -1.49, 58.37, 5.29 and the non-negative
    # one 0, 57.25, 5.42. On the log scale the first step comes out short, and never below nothing.
    counts = np.array([[1, 1, 0], [2, 1, 0], [1, 2, 1], [0, 1, 1], [1, 0, 1]])
    totals = np.array([60.0, 55.0, 118.0, 66.0, 4.0])
    found = told_totals(counts, totals, 0.1)
    assert found.converged
    first, second, third = np.exp(found.posterior.mean)
    assert 0 < first < 6
    assert second == pytest.approx(57.25, rel=0.1)
    assert 0 < third < 8


def _evenings(rng: np.random.Generator) -> list[list[Did]]:
    """Sixty evenings of two different steps each, ten minutes a model give or take a fifth."""
    steps = ("cleaning", "assembly", "base colours", "highlights")
    return [
        [
            did("spears", steps[i], 4, float(40 * np.exp(0.2 * rng.standard_normal())))
            for i in rng.choice(4, 2, replace=False)
        ]
        for _ in range(60)
    ]


def test_totals_teach_nearly_what_timed_lines_teach() -> None:
    # A known truth: every step takes 40 minutes for 4 models. Only the totals are told.
    rng = np.random.default_rng(8)
    evenings = _evenings(rng)
    totals = log_of(
        *(
            evening(*(x._replace(minutes=None) for x in lines), minutes=sum(x.minutes or 0 for x in lines))
            for lines in evenings
        )
    )
    timed = log_of(*(evening(*lines) for lines in evenings))
    # As far along the unit as most of the log, where practice no longer changes.
    asked = [
        planned("spears", step, 4, 40) for step in ("cleaning", "assembly", "base colours", "highlights")
    ]
    from_totals, from_lines = (
        np.median(learn(records).draw(asked, np.random.default_rng(1), 4000), axis=0)
        for records in (totals, timed)
    )
    assert from_totals == pytest.approx(np.full(4, 40.0), rel=0.15)
    assert from_totals.sum() == pytest.approx(from_lines.sum(), rel=0.07)
