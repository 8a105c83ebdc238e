"""Pooling of estimates whose own errors are known, against published analyses."""

from __future__ import annotations

import numpy as np
import pytest

from tests.published import datasets
from tests.published.regression import MANY_ROUNDS, SCALE_TO, TIGHT, sample_of
from tracker.pace.mixed import Fit, Floats, Group, Noise, solve


class Pooled:
    """A common mean and one pooled effect for each estimate, back in the estimates' unit."""

    def __init__(self, estimate: Floats, error2: Floats, spread: float | None) -> None:
        size = estimate.size
        self.scale = SCALE_TO / np.abs(estimate).max()
        design = np.column_stack([np.ones(size), np.eye(size)])
        freedom = 0.0 if spread is None else np.inf
        group = Group("estimates", 1, size + 1, (spread or 1.0) * self.scale, freedom)
        sample = sample_of(design, estimate * self.scale, known_noise2=error2 * self.scale**2)
        self.fit: Fit = solve(sample, [group], Noise(freedom=np.inf), tolerance=TIGHT, rounds=MANY_ROUNDS)
        assert self.fit.converged
        self.mean = self.fit.posterior.mean[0] / self.scale
        self.modes = self.fit.posterior.mean[1:] / self.scale
        covariance = self.fit.posterior.covariance / self.scale**2
        self.mean_error = float(np.sqrt(covariance[0, 0]))
        self.effects = self.mean + self.modes
        self.effects2 = np.diag(covariance)[1:] + covariance[0, 0] + 2 * covariance[0, 1:]
        self.spread2 = float(self.fit.tau2[0]) / self.scale**2


SCHOOLS = np.array(datasets.EIGHT_SCHOOLS_EFFECT, dtype=float)
ERRORS2 = np.array(datasets.EIGHT_SCHOOLS_ERROR, dtype=float) ** 2


@pytest.mark.parametrize(
    ("spread", "mean", "schools"),
    [
        (5.0, 7.85098, (9.8659, 7.8808, 6.8856, 7.7053, 5.7635, 6.6779, 9.8808, 8.1482)),
        (10.0, 8.12647, (14.2414, 8.0632, 5.0011, 7.6168, 3.0842, 4.9018, 13.0632, 9.0400)),
    ],
)
def test_eight_schools_at_a_given_spread(spread: float, mean: float, schools: tuple[float, ...]) -> None:
    # Rubin 1981, J. Educ. Stat. 6:377-400; Gelman et al., Bayesian Data Analysis, sec. 5.5, eq. 5.17-5.20.
    found = Pooled(SCHOOLS, ERRORS2, spread)
    assert found.mean == pytest.approx(mean, abs=1e-5)
    assert found.effects == pytest.approx(schools, abs=1e-4)


def test_eight_schools_learn_that_they_do_not_differ() -> None:
    # The likelihood of the spread has its maximum at 0; then all schools share the pooled mean 7.685617
    # of variance 16.580526 (Bayesian Data Analysis prints 7.7 and 16.6).
    found = Pooled(SCHOOLS, ERRORS2, None)
    assert found.spread2 < 1e-6
    assert found.effects == pytest.approx(np.full(8, 7.685617), abs=1e-5)
    assert found.mean_error**2 == pytest.approx(16.580526, rel=1e-6)


def test_eight_schools_over_all_spreads() -> None:
    # Flat prior on the spread: means and sds of the exact posterior, from two quadratures. The weight of
    # each spread is the marginal likelihood of Bayesian Data Analysis eq. 5.21, computed here.
    nodes, weights = np.polynomial.legendre.leggauss(60)
    u = (nodes + 1) / 2
    spreads, jacobian = 8 * u / (1 - u), 8 / (1 - u) ** 2
    density, means, squares = np.empty(60), np.empty((60, 8)), np.empty((60, 8))
    for i, spread in enumerate(spreads):
        found = Pooled(SCHOOLS, ERRORS2, spread)
        total = ERRORS2 + spread**2
        density[i] = found.mean_error * np.prod(
            total**-0.5 * np.exp(-((SCHOOLS - found.mean) ** 2) / total / 2)
        )
        means[i] = found.effects
        squares[i] = found.effects2 + found.effects**2
    share = density * jacobian * weights
    share /= share.sum()
    expected = share @ means
    assert share @ spreads == pytest.approx(6.57548, abs=2e-3)
    assert expected == pytest.approx(
        (11.40026, 7.89455, 6.13075, 7.64468, 5.12642, 6.13854, 10.66698, 8.45682), abs=1e-3
    )
    assert np.sqrt(share @ squares - expected**2) == pytest.approx(
        (8.341, 6.275, 7.765, 6.546, 6.357, 6.710, 6.786, 7.888), abs=2e-3
    )


def test_baseball() -> None:
    # Efron and Morris 1977, Sci. Am. 236(5):119-127: each average keeps c = .212 of its distance from .265.
    average = np.array(datasets.BASEBALL_HITS) / 45
    error2 = average.mean() * (1 - average.mean()) / 45
    keep = 1 - 15 * error2 / np.sum((average - average.mean()) ** 2)
    assert keep == pytest.approx(0.211653, abs=5e-7)
    found = Pooled(average, np.full(18, error2), float(np.sqrt(error2 * keep / (1 - keep))))
    printed = (
        0.2939, 0.2892, 0.2845, 0.2798, 0.2751, 0.2751, 0.2704, 0.2657, 0.2610, 0.2610, 0.2563, 0.2563,
        0.2563, 0.2563, 0.2563, 0.2516, 0.2469, 0.2422,
    )  # fmt: skip
    assert found.effects == pytest.approx(printed, abs=5e-5)
    rest = np.array(datasets.BASEBALL_REST)
    assert np.sum((found.effects - rest) ** 2) == pytest.approx(0.021307, abs=5e-6)
    assert np.sum((average - rest) ** 2) == pytest.approx(0.075317, abs=5e-6)


def test_baseball_on_a_scale_of_equal_errors() -> None:
    # Efron and Morris 1975, JASA 70:311-319: arcsine scale, variance 1, each keeps .208974.
    x = np.sqrt(45) * np.arcsin(2 * np.array(datasets.BASEBALL_HITS) / 45 - 1)
    keep = 1 - 15 / np.sum((x - x.mean()) ** 2)
    assert keep == pytest.approx(0.208974, abs=5e-7)
    found = Pooled(x, np.ones(18), float(np.sqrt(keep / (1 - keep))))
    assert found.mean == pytest.approx(-3.31656, abs=5e-6)
    back = (np.sin(found.effects / np.sqrt(45)) + 1) / 2
    printed = (
        0.290, 0.286, 0.281, 0.277, 0.273, 0.273, 0.268, 0.264, 0.259, 0.259, 0.254, 0.254, 0.254, 0.254,
        0.254, 0.249, 0.244, 0.239,
    )  # fmt: skip
    assert back == pytest.approx(printed, abs=6e-4)


def test_a_learned_spread_in_a_balanced_set() -> None:
    # With equal known errors v the restricted maximum is S / (k - 1) - v: closed form.
    x = np.sqrt(45) * np.arcsin(2 * np.array(datasets.BASEBALL_HITS) / 45 - 1)
    found = Pooled(x, np.ones(18), None)
    assert found.spread2 == pytest.approx(np.sum((x - x.mean()) ** 2) / 17 - 1, rel=1e-7)


def test_vaccine_trials() -> None:
    # Colditz et al. 1994, JAMA 271:698-702; restricted likelihood .3132, mean -.7145 (.1798) as printed by
    # Viechtbauer 2010, J. Stat. Softw. 36(3); effects to tight tolerance by an independent fit.
    ill, well, other_ill, other_well = np.array(datasets.BCG_COUNTS, dtype=float).T
    with_it, without = ill + well, other_ill + other_well
    log_ratio = np.log(ill / with_it) - np.log(other_ill / without)
    error2 = 1 / ill - 1 / with_it + 1 / other_ill - 1 / without
    found = Pooled(log_ratio, error2, None)
    assert found.spread2 == pytest.approx(0.313243, rel=1e-4)
    assert found.mean == pytest.approx(-0.714532, abs=1e-5)
    assert found.mean_error == pytest.approx(0.179782, abs=1e-5)
    assert found.effects == pytest.approx(
        (-0.8002, -1.2517, -0.9869, -1.3979, -0.2874, -0.7846, -1.2440, 0.0029, -0.5068, -1.2472, -0.3537,
         -0.2847, -0.1467), abs=1e-4)  # fmt: skip
