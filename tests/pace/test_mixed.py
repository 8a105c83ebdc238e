"""The engine's parts: closed forms, other ways to the same numbers, and derivatives by differences."""

from __future__ import annotations

import numpy as np
import pytest
import scipy.sparse as sp
from scipy.stats import truncnorm

from tracker.pace import mixed
from tracker.pace.mixed import Floats, Group, Noise, Sample, linearise, prior_precision, solve


def a_sample(rng: np.random.Generator, lines: int, blocks: int, columns: int = 4) -> Sample:
    """Lines with normal designs dealt out to blocks, minutes that fit them."""
    design = rng.standard_normal((lines, columns))
    block = np.sort(np.concatenate([np.arange(blocks), rng.integers(0, blocks, lines - blocks)]))
    beta = rng.standard_normal(columns) * 0.3
    minutes = np.bincount(block, np.exp(3 + design @ beta + 0.3 * rng.standard_normal(lines)), blocks)
    noise_class = rng.integers(0, 2, lines)
    whole: Floats = minutes.astype(np.float64)
    return Sample(sp.csr_array(design), np.full(lines, 3.0), block, noise_class, whole, whole)


POOLED = [Group("all", 0, 4, 0.5, 4.0)]


def test_the_slope_of_a_block_is_its_derivative() -> None:
    # Central differences of the log of the expected sum; the variance is taken at the middle.
    sample = a_sample(np.random.default_rng(1), 12, 5)
    beta, noise2 = np.full(4, 0.1), np.full(12, 0.09)
    rows = linearise(sample, beta, noise2).rows.toarray()

    def log_expected(at: Floats) -> Floats:
        found = linearise(sample, at, noise2)
        return np.asarray(found.mean + found.variance / 2)

    for j in range(4):
        step = np.eye(4)[j] * 1e-5
        slope = (log_expected(beta + step) - log_expected(beta - step)) / 2e-5
        assert rows[:, j] == pytest.approx(slope, abs=1e-8)


def test_shares_of_a_block_add_up() -> None:
    sample = a_sample(np.random.default_rng(2), 12, 5)
    found = linearise(sample, np.zeros(4), np.full(12, 0.09))
    assert np.bincount(sample.block, found.share) == pytest.approx(np.ones(5))


def test_blocks_of_one_line_may_come_in_any_order() -> None:
    sample = a_sample(np.random.default_rng(3), 9, 9)
    mixed_up = np.random.default_rng(4).permutation(9)
    other = sample._replace(
        design=sample.design[mixed_up],
        block=sample.block[mixed_up],
        noise_class=sample.noise_class[mixed_up],
        offset=sample.offset[mixed_up],
    )
    one, two = (solve(x, POOLED, Noise(0.4, 5.0), tolerance=1e-10, rounds=500) for x in (sample, other))
    assert two.posterior.mean == pytest.approx(one.posterior.mean, abs=1e-9)


def test_both_ways_to_the_posterior_agree(monkeypatch: pytest.MonkeyPatch) -> None:
    # Orthogonal triangles for few rows, normal equations for many; and the dense textbook formula
    # V = (X'WX + P)^-1, mean V X'Wy (Lindley and Smith 1972, J. R. Stat. Soc. B 34:1-41).
    rng = np.random.default_rng(5)
    rows, weight = sp.csr_array(rng.standard_normal((30, 4))), rng.uniform(0.5, 2, 30)
    target, precision = rng.standard_normal(30), prior_precision(POOLED, np.array([0.25]), 4)
    few = mixed.posterior(rows, weight, target, precision)
    monkeypatch.setattr(mixed, "_SMALL_ROWS", 0)
    many = mixed.posterior(rows, weight, target, precision)
    dense = rows.toarray()
    covariance = np.linalg.inv(dense.T @ (dense * weight[:, None]) + precision)
    for found in (few, many):
        assert found.covariance == pytest.approx(covariance, rel=1e-9)
        assert found.mean == pytest.approx(covariance @ dense.T @ (weight * target), rel=1e-9)
        assert found.factor.T @ found.factor == pytest.approx(np.linalg.inv(covariance), rel=1e-9)


def test_leverages_are_the_variances_of_the_means() -> None:
    rng = np.random.default_rng(6)
    rows, root = rng.standard_normal((7, 4)), rng.standard_normal((4, 4))
    covariance = root @ root.T
    expected = np.diag(rows @ covariance @ rows.T)
    assert mixed.leverages(sp.csr_array(rows), covariance) == pytest.approx(expected)


def test_truncated_moments_agree_with_another_program() -> None:
    # Mean and variance of a normal between bounds, scipy's truncnorm.
    low = np.array([-np.inf, -1.0, 0.3, 2.0, -4.0, 6.0])
    high = np.array([0.5, 1.0, np.inf, 2.5, -3.5, np.inf])
    delta, told = mixed._truncated(low, high)
    mean, variance = truncnorm.stats(low, high)
    assert delta == pytest.approx(mean, rel=1e-6, abs=1e-9)
    assert told == pytest.approx(1 - variance, rel=1e-5)


def test_a_known_spread_is_left_alone() -> None:
    sample = a_sample(np.random.default_rng(7), 20, 20)
    found = solve(sample, [Group("all", 0, 4, 0.3, np.inf)], Noise(0.4, np.inf))
    assert found.tau2 == pytest.approx([0.09])
    assert found.noise2 == pytest.approx([0.16, 0.16])


def test_a_strong_belief_holds_against_few_effects() -> None:
    # Scaled inverse chi-squared: (nu s2 + squares) / (nu + effective) lies between belief and data.
    sample = a_sample(np.random.default_rng(8), 40, 40)
    free = solve(sample, [Group("all", 0, 4, 1.0, 0.0)], Noise(), tolerance=1e-9, rounds=2000)
    tied = solve(sample, [Group("all", 0, 4, 1.0, 1e6)], Noise(), tolerance=1e-9, rounds=2000)
    between = solve(sample, [Group("all", 0, 4, 1.0, 4.0)], Noise(), tolerance=1e-9, rounds=2000)
    assert tied.tau2 == pytest.approx([1.0], abs=1e-4)
    assert free.tau2[0] < between.tau2[0] < tied.tau2[0]


def test_the_classes_of_noise_are_pulled_together() -> None:
    rng = np.random.default_rng(9)
    noise_class = np.repeat([0, 1], 60)
    minutes = np.exp(3 + np.where(noise_class == 0, 0.1, 0.8) * rng.standard_normal(120))
    sample = Sample(
        sp.csr_array(np.ones((120, 1))), np.zeros(120), np.arange(120), noise_class, minutes, minutes
    )
    apart, pulled, one = (
        np.sqrt(solve(sample, [], Noise(pooling=pooling), tolerance=1e-8, rounds=500).noise2)
        for pooling in (1e-9, 20.0, np.inf)
    )
    assert apart == pytest.approx((0.1, 0.8), rel=0.2)
    assert apart[0] < pulled[0] < pulled[1] < apart[1]
    assert one[0] == one[1]


def test_heavy_tails_keep_one_odd_block_from_moving_the_rest() -> None:
    # Student t (Lange, Little and Taylor 1989, JASA 84:881-896) against normal noise; 20 equal minutes
    # and one ten times as long. The mean is moved by less than a quarter of what it is otherwise.
    rng = np.random.default_rng(10)
    minutes = np.exp(3 + 0.2 * rng.standard_normal(21))
    minutes[0] = 10 * np.exp(3)
    sample = Sample(
        sp.csr_array(np.ones((21, 1))),
        np.zeros(21),
        np.arange(21),
        np.zeros(21, dtype=np.int64),
        minutes,
        minutes,
    )
    rest = np.log(minutes[1:]).mean()
    normal, tailed = (
        solve(sample, [], Noise(tail=tail), tolerance=1e-9, rounds=2000).posterior.mean[0] - rest
        for tail in (np.inf, 4.0)
    )
    assert 0 <= tailed < 0.25 * normal


def test_the_student_fixed_point_solves_its_equation() -> None:
    # The maximum solves sum w (y - m) = 0 with w = (nu + 1) / (nu + z^2) (Lange et al. 1989, eq. 3).
    rng = np.random.default_rng(11)
    y = 3 + 0.3 * rng.standard_t(4, 40)
    sample = Sample(
        sp.csr_array(np.ones((40, 1))), np.zeros(40), np.arange(40), np.zeros(40, dtype=np.int64),
        np.exp(y), np.exp(y),
    )  # fmt: skip
    found = solve(sample, [], Noise(0.3, np.inf, tail=4.0), tolerance=1e-12, rounds=2000)
    left = y - found.posterior.mean[0]
    assert np.sum(left * 5 / (4 + (left / 0.3) ** 2)) == pytest.approx(0, abs=1e-8)


def test_the_variances_are_where_the_marginal_likelihood_is_highest() -> None:
    # With a prior of nu degrees of freedom around s2 the fixed point is a maximum of
    # log p(y | tau2) - (nu / 2) (log tau2 + s2 / tau2): checked on a grid, V formed whole.
    rng = np.random.default_rng(12)
    groups = np.repeat(np.arange(8), 4)
    indicator = np.asarray(groups[:, None] == np.arange(8), dtype=float)
    y = indicator @ (0.5 * rng.standard_normal(8)) + 0.3 * rng.standard_normal(32)
    sample = Sample(
        sp.csr_array(indicator),
        np.zeros(32),
        np.arange(32),
        np.zeros(32, dtype=np.int64),
        np.exp(y),
        np.exp(y),
    )
    found = solve(sample, [Group("g", 0, 8, 0.3, 6.0)], Noise(0.3, np.inf), tolerance=1e-12, rounds=5000)

    def height(tau2: float) -> float:
        total = 0.09 * np.eye(32) + tau2 * indicator @ indicator.T
        log_likelihood = -(np.linalg.slogdet(total)[1] + y @ np.linalg.solve(total, y)) / 2
        return float(log_likelihood - 3 * (np.log(tau2) + 0.09 / tau2))

    grid = found.tau2[0] * np.exp(np.linspace(-0.5, 0.5, 2001))
    assert grid[int(np.argmax([height(t) for t in grid]))] == pytest.approx(found.tau2[0], rel=1e-3)


def test_holding_the_variances_learns_only_effects() -> None:
    sample = a_sample(np.random.default_rng(13), 20, 8)
    start = (np.zeros(4), np.array([0.07]), np.array([0.05, 0.2]))
    found = solve(sample, POOLED, Noise(0.4, 5.0), start=start, hold=True, tolerance=1e-9)
    assert found.converged
    assert found.tau2.tolist() == [0.07]
    assert found.noise2.tolist() == [0.05, 0.2]


def test_an_earlier_fit_only_makes_it_sooner() -> None:
    sample = a_sample(np.random.default_rng(14), 40, 25)
    cold = solve(sample, POOLED, Noise(0.4, 5.0, 16.0, 8.0), tolerance=1e-10, rounds=1000)
    start = (cold.posterior.mean, cold.tau2, cold.noise2)
    warm = solve(sample, POOLED, Noise(0.4, 5.0, 16.0, 8.0), start=start, tolerance=1e-10, rounds=1000)
    assert warm.rounds < cold.rounds / 2
    assert warm.posterior.mean == pytest.approx(cold.posterior.mean, abs=1e-8)


def test_a_search_cut_short_says_so() -> None:
    sample = a_sample(np.random.default_rng(15), 40, 25)
    assert not solve(sample, POOLED, Noise(0.4, 5.0), tolerance=1e-12, rounds=2).converged
