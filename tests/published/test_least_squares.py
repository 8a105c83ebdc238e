"""Ordinary regression by the engine against the certified values of NIST's reference data sets.

NIST/ITL Statistical Reference Datasets, linear regression; Wampler 1970, JASA 65:549-565; Longley 1967,
JASA 62:819-841. Certified to 15 digits; how many of them double precision reaches depends on the set.
"""

from __future__ import annotations

import numpy as np
import pytest

from tests.published import datasets
from tests.published.regression import SCALE_TO, sample_of, solve_linear
from tracker.pace.mixed import Floats, Noise, solve


def powers(x: Floats, degree: int) -> Floats:
    """(n, degree + 1) columns 1, x, x^2 and so on."""
    return np.vander(x, degree + 1, increasing=True)


def test_norris() -> None:
    found = solve_linear(powers(np.array(datasets.NORRIS_X), 1), datasets.NORRIS_Y)
    assert found.flat == pytest.approx((-0.262323073774029, 1.00211681802045), rel=1e-9)
    assert found.flat_error == pytest.approx((0.232818234301152, 0.429796848199937e-3), rel=1e-9)
    assert found.noise2**0.5 == pytest.approx(0.884796396144373, rel=1e-9)


def test_line_through_nothing() -> None:
    # NoInt1 and NoInt2.
    first = solve_linear(np.arange(60.0, 71)[:, None], np.arange(130.0, 141))
    assert first.flat == pytest.approx([2.07438016528926], rel=1e-12)
    assert first.flat_error == pytest.approx([0.0165289256198347], rel=1e-12)
    assert first.noise2**0.5 == pytest.approx(3.56753034006338, rel=1e-12)
    second = solve_linear(np.array([[4.0], [5], [6]]), [3, 4, 4])
    assert second.flat == pytest.approx([0.727272727272727], rel=1e-12)
    assert second.flat_error == pytest.approx([0.0420827318078432], rel=1e-12)
    assert second.noise2**0.5 == pytest.approx(0.369274472937998, rel=1e-12)


def test_pontius() -> None:
    x = np.tile(150_000.0 * np.arange(1, 21), 2)
    found = solve_linear(powers(x, 2), datasets.PONTIUS_Y)
    estimates = (0.673565789473684e-3, 0.732059160401003e-6, -0.316081871345029e-14)
    errors = (0.107938612033077e-3, 0.157817399981659e-9, 0.486652849992036e-16)
    assert found.flat == pytest.approx(estimates, rel=1e-9, abs=0)
    assert found.flat_error == pytest.approx(errors, rel=1e-9, abs=0)
    assert found.noise2**0.5 == pytest.approx(0.205177424076185e-3, rel=1e-9)


def test_longley() -> None:
    rows = np.array(datasets.LONGLEY, dtype=float)
    found = solve_linear(np.column_stack([np.ones(16), rows[:, :6]]), rows[:, 6])
    assert found.flat == pytest.approx(
        (-3482258.63459582, 15.0618722713733, -0.0358191792925910, -2.02022980381683, -1.03322686717359,
         -0.0511041056535807, 1829.15146461355), rel=1e-9)  # fmt: skip
    assert found.flat_error == pytest.approx(
        (890420.383607373, 84.9149257747669, 0.0334910077722432, 0.488399681651699, 0.214274163161675,
         0.226073200069370, 455.478499142212), rel=1e-8)  # fmt: skip
    assert found.noise2**0.5 == pytest.approx(304.854073561965, rel=1e-8)


WAMPLER_X = np.arange(21.0)
WAMPLER_D = np.array(
    [759, -2048, 2048, -2048, 2523, -2048, 2048, -2048, 1838, -2048, 2048, -2048, 1838, -2048, 2048, -2048,
     2523, -2048, 2048, -2048, 759]
)  # fmt: skip
WAMPLER_ERRORS = np.array(
    (2152.32624678170, 2363.55173469681, 779.343524331583, 101.475507550350, 5.64566512170752,
     0.112324854679312)
)  # fmt: skip


def test_wampler_without_noise() -> None:
    # Wampler1 and Wampler2: the polynomial goes through every point.
    columns = powers(WAMPLER_X, 5)
    first = solve_linear(columns, columns.sum(axis=1))
    assert first.flat == pytest.approx(np.ones(6), rel=1e-8)
    assert first.noise2**0.5 < 1e-6 * columns.sum(axis=1).max()
    second = solve_linear(columns, powers(WAMPLER_X / 10, 5).sum(axis=1))
    assert second.flat == pytest.approx(0.1 ** np.arange(6), rel=1e-9)


@pytest.mark.parametrize(("times", "digits"), [(1, 1e-9), (100, 1e-6), (10_000, 1e-5)])
def test_wampler_with_noise(times: int, digits: float) -> None:
    # Wampler3, 4 and 5: ever more noise around the same polynomial.
    columns = powers(WAMPLER_X, 5)
    found = solve_linear(columns, columns.sum(axis=1) + times * WAMPLER_D)
    assert found.flat == pytest.approx(np.ones(6), rel=digits)
    assert found.flat_error == pytest.approx(times * WAMPLER_ERRORS, rel=1e-9)
    assert found.noise2**0.5 == pytest.approx(times * 2360.14502379268, rel=1e-9)


def test_filip_keeps_six_digits() -> None:
    # A tenth-degree polynomial in which the normal equations keep no digit at all; QR keeps seven.
    x = -np.array(datasets.FILIP_MINUS_X)
    # The leverages, and with them the noise, keep fewer digits here than the estimates, so that the
    # rounds end by their number; the estimates and what they leave over are as certified.
    scale = SCALE_TO / max(datasets.FILIP_Y)
    fit = solve(sample_of(powers(x, 10), np.array(datasets.FILIP_Y) * scale), [], Noise(), rounds=3)
    estimates = (
        -1467.48961422980, -2772.17959193342, -2316.37108160893, -1127.97394098372, -354.478233703349,
        -75.1242017393757, -10.8753180355343, -1.06221498588947, -0.0670191154593408,
        -0.00246781078275479, -0.402962525080404e-4,
    )  # fmt: skip
    assert fit.posterior.mean / scale == pytest.approx(estimates, rel=1e-6)
    assert np.sum((fit.residual / scale) ** 2) == pytest.approx(0.795851382172941e-3, rel=1e-6)


def test_what_the_log_cannot_tell_is_refused() -> None:
    # An effect that no line has, and more effects than lines: linear algebra, no source needed.
    x = np.arange(10.0)
    with pytest.raises(np.linalg.LinAlgError, match="determine"):
        solve(sample_of(np.column_stack([x, np.zeros(10)]), x / 9), [], Noise())
    with pytest.raises(np.linalg.LinAlgError, match="fewer"):
        solve(sample_of(np.eye(2, 3), np.ones(2)), [], Noise())
