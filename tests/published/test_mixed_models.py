"""Partial pooling by the engine against published mixed-model fits.

Unless said otherwise: variances by restricted likelihood, modes = effects pulled to the middle. Values
of balanced sets are closed forms (k groups of n: (MSB - MSE) / n) and agree with the books named beside
them; the others were fitted to tight tolerances by two programs of other authors (R 4.2.2 with lme4
1.1-31 and nlme 3.1-162). -2 log likelihood is computed from its definition at the engine's variances.
"""

from __future__ import annotations

import numpy as np
import pytest

from tests.published import datasets
from tests.published.regression import SCALE_TO, criterion, dummies, solve_linear
from tracker.pace.mixed import Floats

ROUNDED = 1e-6
"""As far as the values are written out."""


def one(rows: int) -> Floats:
    """The column of a common mean."""
    return np.ones((rows, 1))


def times(groups: int, rows: int) -> Floats:
    """Indicators of groups that follow each other, so many rows each."""
    return dummies(np.repeat(np.arange(groups), rows))


BATCHES = times(6, 5)


def test_dyestuff() -> None:
    # Davies and Goldsmith 1972; Bates, lme4: mixed-effects modeling with R, ch. 1. MSB 11271.5, MSE 2451.25.
    found = solve_linear(one(30), datasets.DYESTUFF_YIELD, [BATCHES])
    assert found.tau2 == pytest.approx([1764.05], rel=1e-8)
    assert found.noise2 == pytest.approx(2451.25, rel=1e-8)
    assert found.flat == pytest.approx([1527.5], rel=1e-12)
    assert found.flat_error == pytest.approx([19.383412], rel=ROUNDED)
    modes = (-17.606851, 0.391263, 28.562226, -23.084538, 56.733188, -44.995287)
    assert found.modes[0] == pytest.approx(modes, abs=2e-6)
    value = criterion(one(30), datasets.DYESTUFF_YIELD, [BATCHES], [*found.tau2, found.noise2])
    assert value == pytest.approx(319.654277, abs=1e-6)


def test_dyestuff_by_ordinary_likelihood() -> None:
    # ((k - 1) / k MSB - MSE) / n; standard error by generalised least squares.
    found = solve_linear(one(30), datasets.DYESTUFF_YIELD, [BATCHES], restricted=False)
    assert found.tau2 == pytest.approx([1388.333333], rel=1e-8)
    assert found.noise2 == pytest.approx(2451.25, rel=1e-8)
    assert found.flat_error == pytest.approx([17.694553], rel=ROUNDED)
    modes = (-16.6282, 0.3695, 26.9747, -21.8014, 53.5798, -42.4943)
    assert found.modes[0] == pytest.approx(modes, abs=5e-5)
    variances = [*found.tau2, found.noise2]
    value = criterion(one(30), datasets.DYESTUFF_YIELD, [BATCHES], variances, restricted=False)
    assert value == pytest.approx(327.327060, abs=1e-6)


@pytest.mark.parametrize(
    ("restricted", "noise2", "minus_two_log"), [(True, 13.806310, 161.828278), (False, 13.346099, 162.873037)]
)
def test_no_difference_between_groups(restricted: bool, noise2: float, minus_two_log: float) -> None:
    # Box and Tiao 1973: groups differ by less than their noise, so their variance is 0, not negative.
    found = solve_linear(one(30), datasets.DYESTUFF2_YIELD, [BATCHES], restricted=restricted)
    assert 0 <= found.tau2[0] < 1e-9
    assert found.modes[0] == pytest.approx(np.zeros(6), abs=1e-9)
    assert found.noise2 == pytest.approx(noise2, rel=ROUNDED)
    assert found.flat == pytest.approx([5.6656], rel=1e-12)
    variances = [*found.tau2, found.noise2]
    value = criterion(one(30), datasets.DYESTUFF2_YIELD, [BATCHES], variances, restricted=restricted)
    assert value == pytest.approx(minus_two_log, abs=1e-6)


def test_rail() -> None:
    # Pinheiro and Bates 2000, Mixed-Effects Models in S and S-PLUS, ch. 1.
    rails = times(6, 3)
    found = solve_linear(one(18), datasets.RAIL_TRAVEL, [rails])
    assert found.tau2 == pytest.approx([615.311111], rel=ROUNDED)
    assert found.noise2**0.5 == pytest.approx(4.020779, rel=ROUNDED)
    assert found.flat == pytest.approx([66.5], rel=1e-12)
    assert found.flat_error == pytest.approx([10.171037], rel=ROUNDED)
    modes = (-12.391476, -34.530912, 18.008945, 29.243882, -16.356748, 16.026308)
    assert found.modes[0] == pytest.approx(modes, abs=2e-6)
    value = criterion(one(18), datasets.RAIL_TRAVEL, [rails], [*found.tau2, found.noise2])
    assert value / -2 == pytest.approx(-61.088500, abs=1e-6)
    ordinary = solve_linear(one(18), datasets.RAIL_TRAVEL, [rails], restricted=False)
    assert ordinary.tau2 == pytest.approx([511.861111], rel=ROUNDED)
    assert ordinary.flat_error == pytest.approx([9.284844], rel=ROUNDED)


def test_stools() -> None:
    # Pinheiro and Bates 2000, sec. 1.2: four kinds of stool, pooled subjects. MSE 1.2106481, MSS 8.3125.
    kinds = dummies(np.tile(np.arange(4), 9))
    found = solve_linear(kinds, datasets.STOOL_EFFORT, [times(9, 4)])
    assert np.sqrt(found.tau2) == pytest.approx([1.332465], rel=ROUNDED)
    assert found.noise2**0.5 == pytest.approx(1.100295, rel=ROUNDED)
    assert found.flat == pytest.approx((8.555556, 12.444444, 10.777778, 9.222222), rel=ROUNDED)
    scale = SCALE_TO / max(datasets.STOOL_EFFORT)
    covariance = found.fit.posterior.covariance / scale**2
    difference = covariance[0, 0] + covariance[1, 1] - 2 * covariance[0, 1]
    assert difference**0.5 == pytest.approx(0.518684, rel=2e-6)
    value = criterion(kinds, datasets.STOOL_EFFORT, [times(9, 4)], [*found.tau2, found.noise2])
    assert value / -2 == pytest.approx(-60.565394, abs=1e-6)


MACHINE = np.repeat(np.arange(3), 18)
WORKER = np.tile(np.repeat(np.arange(6), 3), 3)
BY_MACHINE = np.column_stack([np.ones(54), MACHINE == 1, MACHINE == 2]).astype(float)
WORKERS, WORKER_AND_MACHINE = dummies(WORKER), dummies(6 * MACHINE + WORKER)


def test_machines_and_workers() -> None:
    # Pinheiro and Bates 2000, sec. 1.3, first model.
    found = solve_linear(BY_MACHINE, datasets.MACHINE_SCORE, [WORKERS])
    assert found.tau2 == pytest.approx([26.486998], rel=ROUNDED)
    assert found.noise2 == pytest.approx(9.996014, rel=ROUNDED)
    assert found.flat == pytest.approx((52.355556, 7.966667, 13.916667), rel=ROUNDED)
    assert found.flat_error[:2] == pytest.approx((2.229312, 1.053882), rel=ROUNDED)
    variances = [*found.tau2, found.noise2]
    value = criterion(BY_MACHINE, datasets.MACHINE_SCORE, [WORKERS], variances)
    assert value / -2 == pytest.approx(-143.439101, abs=1e-6)


def test_each_worker_at_each_machine() -> None:
    # Pinheiro and Bates 2000, sec. 1.3, second model. MSE .9246296, MSI 42.653, MSW 248.379.
    pooled = [WORKERS, WORKER_AND_MACHINE]
    found = solve_linear(BY_MACHINE, datasets.MACHINE_SCORE, pooled)
    assert found.tau2 == pytest.approx((22.8584444, 13.9094568), rel=ROUNDED)
    assert found.noise2 == pytest.approx(0.9246296, rel=ROUNDED)
    assert found.flat_error[:2] == pytest.approx((2.485830, 2.176975), rel=ROUNDED)
    modes = (1.044546, -1.375856, 5.360777, -0.059820, 2.544643, -7.514291)
    assert found.modes[0] == pytest.approx(modes, abs=2e-6)
    value = criterion(BY_MACHINE, datasets.MACHINE_SCORE, pooled, [*found.tau2, found.noise2])
    assert value / -2 == pytest.approx(-107.843784, abs=1e-6)


def test_machines_with_rows_missing() -> None:
    # Pinheiro and Bates 2000, sec. 1.3, unbalanced: rows 2 3 6 8 9 12 19 20 27 33 left out.
    kept = np.setdiff1d(np.arange(54), np.array([2, 3, 6, 8, 9, 12, 19, 20, 27, 33]) - 1)
    scores = np.array(datasets.MACHINE_SCORE)[kept]
    pooled = [WORKERS[kept], WORKER_AND_MACHINE[kept]]
    found = solve_linear(BY_MACHINE[kept], scores, pooled)
    assert found.flat == pytest.approx((52.354000, 7.962445, 13.918222), rel=ROUNDED)
    assert found.flat_error == pytest.approx((2.49062, 2.21470, 2.20935), rel=5e-6)
    assert found.tau2 == pytest.approx((22.4558, 14.2340), rel=5e-6)
    assert found.noise2 == pytest.approx(0.870869, rel=ROUNDED)
    assert found.modes[0] == pytest.approx((1.1567, -1.4414, 5.1954, 0.0725, 2.4779, -7.4612), abs=5e-5)
    value = criterion(BY_MACHINE[kept], scores, pooled, [*found.tau2, found.noise2])
    assert value == pytest.approx(181.871499, abs=1e-6)


PLATES, SAMPLES = times(24, 6), dummies(np.tile(np.arange(6), 24))


def test_penicillin() -> None:
    # Davies and Goldsmith 1972: plates and samples crossed. MSE .3024155, plates 4.6038647, samples 89.84444.
    pooled = [PLATES, SAMPLES]
    found = solve_linear(one(144), datasets.PENICILLIN_DIAMETER, pooled)
    assert found.tau2 == pytest.approx((0.7169082, 3.7309179), rel=ROUNDED)
    assert found.noise2 == pytest.approx(0.3024155, rel=ROUNDED)
    assert found.flat == pytest.approx([22.972222], rel=ROUNDED)
    assert found.flat_error == pytest.approx([0.808573], rel=ROUNDED)
    modes = (2.187058, -1.010476, 1.937899, -0.096895, -0.013842, -3.003744)
    assert found.modes[1] == pytest.approx(modes, abs=2e-6)
    value = criterion(one(144), datasets.PENICILLIN_DIAMETER, pooled, [*found.tau2, found.noise2])
    assert value == pytest.approx(330.860589, abs=1e-6)


def test_penicillin_by_ordinary_likelihood() -> None:
    pooled = [PLATES, SAMPLES]
    found = solve_linear(one(144), datasets.PENICILLIN_DIAMETER, pooled, restricted=False)
    assert found.tau2 == pytest.approx((0.71499, 3.13519), rel=5e-6)
    assert found.noise2 == pytest.approx(0.30243, rel=2e-5)
    variances = [*found.tau2, found.noise2]
    value = criterion(one(144), datasets.PENICILLIN_DIAMETER, pooled, variances, restricted=False)
    assert value == pytest.approx(332.188349, abs=1e-6)


def test_penicillin_with_rows_missing() -> None:
    # The first 40 rows left out, so that crossed groups are uneven.
    kept = np.arange(40, 144)
    diameters = np.array(datasets.PENICILLIN_DIAMETER)[kept]
    # Six plates have no row left and so no column.
    pooled = [PLATES[kept][:, 6:], SAMPLES[kept]]
    found = solve_linear(one(104), diameters, pooled)
    assert found.flat == pytest.approx([22.901657], rel=ROUNDED)
    assert found.flat_error == pytest.approx([0.804406], rel=ROUNDED)
    assert found.tau2 == pytest.approx((0.805738, 3.598162), rel=2e-6)
    assert found.noise2 == pytest.approx(0.254874, rel=2e-6)
    modes = (2.10156, -1.00315, 1.86724, -0.00730, 0.04262, -3.00096)
    assert found.modes[1] == pytest.approx(modes, abs=1e-5)
    value = criterion(one(104), diameters, pooled, [*found.tau2, found.noise2])
    assert value == pytest.approx(233.561672, abs=1e-6)


def test_pastes() -> None:
    # Davies and Goldsmith 1972: casks within batches. MSE .678, samples 17.5453333, batches 27.4891852.
    pooled = [times(30, 2), times(10, 6)]
    found = solve_linear(one(60), datasets.PASTE_STRENGTH, pooled)
    assert found.tau2 == pytest.approx((8.4336667, 1.6573086), rel=ROUNDED)
    assert found.noise2 == pytest.approx(0.678, rel=1e-8)
    assert found.flat == pytest.approx([60.053333], rel=ROUNDED)
    assert found.flat_error == pytest.approx([0.676870], rel=ROUNDED)
    value = criterion(one(60), datasets.PASTE_STRENGTH, pooled, [*found.tau2, found.noise2])
    assert value == pytest.approx(246.990746, abs=1e-6)
    ordinary = solve_linear(one(60), datasets.PASTE_STRENGTH, pooled, restricted=False)
    # The closed form (.9 x 27.4891852 - 17.5453333) / 6; one program stops at 1.199179.
    assert ordinary.tau2[1] == pytest.approx(1.1991556, rel=ROUNDED)
    variances = [*ordinary.tau2, ordinary.noise2]
    value = criterion(one(60), datasets.PASTE_STRENGTH, pooled, variances, restricted=False)
    assert value == pytest.approx(247.994466, abs=1e-6)


@pytest.mark.parametrize(
    ("restricted", "tau2", "noise2", "mean", "minus_two_log"),
    [
        (True, 1610.7855, 2180.9818, 1535.979156, 273.406327),
        (False, 1267.9097, 2176.1347, 1535.992685, 281.035880),
    ],
)
def test_dyestuff_with_rows_missing(
    restricted: bool, tau2: float, noise2: float, mean: float, minus_two_log: float
) -> None:
    # Rows 1, 2, 3 and 30 left out: the group of two is pulled to the middle more than the others.
    kept = np.setdiff1d(np.arange(30), [0, 1, 2, 29])
    yields = np.array(datasets.DYESTUFF_YIELD)[kept]
    found = solve_linear(one(26), yields, [BATCHES[kept]], restricted=restricted)
    assert found.tau2 == pytest.approx([tau2], rel=1e-6)
    assert found.noise2 == pytest.approx(noise2, rel=1e-6)
    assert found.flat == pytest.approx([mean], rel=1e-6)
    variances = [*found.tau2, found.noise2]
    value = criterion(one(26), yields, [BATCHES[kept]], variances, restricted=restricted)
    assert value == pytest.approx(minus_two_log, abs=1e-6)
    if restricted:
        assert found.flat_error == pytest.approx([18.938487], rel=ROUNDED)
        modes = (8.3607, -6.2789, 22.0498, -29.8861, 50.3785, -44.6241)
        assert found.modes[0] == pytest.approx(modes, abs=5e-5)


DAYS = np.tile(np.arange(10.0), 18)
LINE = np.column_stack([np.ones(180), DAYS])
SUBJECTS = times(18, 10)
SUBJECT_SLOPES = SUBJECTS * DAYS[:, None]


def test_sleep_with_intercepts_only() -> None:
    # Belenky et al. 2003 data; Bates, Maechler, Bolker and Walker 2015, J. Stat. Softw. 67(1).
    found = solve_linear(LINE, datasets.SLEEP_REACTION, [SUBJECTS])
    assert found.tau2 == pytest.approx([1378.1785], rel=ROUNDED)
    assert found.noise2 == pytest.approx(960.4566, rel=ROUNDED)
    value = criterion(LINE, datasets.SLEEP_REACTION, [SUBJECTS], [*found.tau2, found.noise2])
    assert value == pytest.approx(1786.465085, abs=1e-6)


def test_sleep_with_uncorrelated_slopes() -> None:
    pooled = [SUBJECTS, SUBJECT_SLOPES]
    found = solve_linear(LINE, datasets.SLEEP_REACTION, pooled)
    assert found.flat == pytest.approx((251.405105, 10.467286), rel=ROUNDED)
    # Printed to four decimals by a fit that stops a little early (its own error about 2e-5).
    assert found.tau2 == pytest.approx((627.5691, 35.8584), rel=2e-5)
    assert found.noise2 == pytest.approx(653.5835, rel=2e-6)
    value = criterion(LINE, datasets.SLEEP_REACTION, pooled, [*found.tau2, found.noise2])
    assert value == pytest.approx(1743.669294, abs=1e-6)


@pytest.mark.parametrize(
    ("restricted", "intercept2", "slope2", "both", "errors"),
    [
        (True, 612.0899, 35.07166, 9.60434, (6.824556, 1.545789)),
        (False, 565.5153, 32.6822, 11.0554, (6.632277, 1.502237)),
    ],
)
def test_sleep_with_correlated_slopes(
    restricted: bool, intercept2: float, slope2: float, both: float, errors: tuple[float, float]
) -> None:
    # The published covariance of intercepts and slopes is given as a structure; at the maximum its
    # learned size must then be exactly 1, and all the rest as published.
    inner = np.linalg.inv(np.array([[intercept2, both], [both, slope2]]))
    scale = SCALE_TO / max(datasets.SLEEP_REACTION)
    structure = np.asarray(np.kron(inner / scale**2, np.eye(18)), dtype=np.float64)
    pooled = [np.hstack([SUBJECTS, SUBJECT_SLOPES])]
    found = solve_linear(LINE, datasets.SLEEP_REACTION, pooled, restricted=restricted, structures=[structure])
    assert found.tau2 * scale**2 == pytest.approx([1.0], rel=2e-5)
    assert found.noise2 == pytest.approx(654.9410, rel=1e-6)
    assert found.flat == pytest.approx((251.405105, 10.467286), rel=ROUNDED)
    assert found.flat_error == pytest.approx(errors, rel=2e-6)
    if restricted:
        intercepts, slopes = found.modes[0][:3], found.modes[0][18:21]
        assert intercepts == pytest.approx((2.2586, -40.3986, -38.9602), abs=1e-4)
        assert slopes == pytest.approx((9.1990, -8.6197, -5.4489), abs=1e-4)


def test_workers_who_differ_by_machine() -> None:
    # Pinheiro and Bates 2000, sec. 1.3, third model: sds 4.07928 8.62529 4.38948, correlations .803 .623
    # .771 between machines A B, A C, B C (printed to three digits), residual .961577.
    spreads = np.array([4.07928, 8.62529, 4.38948])
    alike = np.array([[1, 0.803, 0.623], [0.803, 1, 0.771], [0.623, 0.771, 1]])
    scale = SCALE_TO / max(datasets.MACHINE_SCORE)
    inner = np.linalg.inv(alike * np.outer(spreads, spreads) * scale**2)
    found = solve_linear(
        BY_MACHINE, datasets.MACHINE_SCORE, [WORKER_AND_MACHINE], structures=[np.kron(inner, np.eye(6))]
    )
    assert found.tau2 * scale**2 == pytest.approx([1.0], rel=2e-3)
    assert found.noise2**0.5 == pytest.approx(0.961577, rel=1e-4)
