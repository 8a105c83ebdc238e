"""Forecast scores and limits of coverage against published and closed-form values."""

from __future__ import annotations

from statistics import NormalDist

import numpy as np
import pytest
import scoringrules

from tracker.domain.answers import LEVELS
from tracker.pace.scores import (
    binomial_limits,
    coverage,
    crps,
    crps_of_draws,
    interval_score,
    pinball,
    wilson_interval,
)

EXACT = 1e-9


def test_pinball_by_its_definition() -> None:
    # Koenker and Bassett 1978, Econometrica 46:33-50: (y - q) p above, (q - y)(1 - p) below; by hand.
    for y, q, level, loss in (
        (60, 50, 0.9, 9.0),
        (40, 50, 0.9, 1.0),
        (60, 50, 0.1, 1.0),
        (60, 50, 0.5, 5.0),
        (50, 50, 0.7, 0.0),
    ):
        assert pinball(y, q, level) == pytest.approx(loss, abs=EXACT)


def test_interval_score_by_its_definition() -> None:
    # Gneiting and Raftery 2007, J. Am. Stat. Assoc. 102:359-378, eq. 43; by hand.
    assert interval_score(45, 30, 60, 0.1) == pytest.approx(30, abs=EXACT)
    assert interval_score(75, 30, 60, 0.1) == pytest.approx(330, abs=EXACT)
    assert interval_score(20, 30, 60, 0.2) == pytest.approx(130, abs=EXACT)


def test_crps_from_quantiles_by_hand() -> None:
    # 2 x mean pinball at levels .2 .4 .6 .8 of quantiles 1 2 4 7 when 3 came: 2 x (.4 + .4 + .4 + .8) / 4.
    assert crps(3, [1, 2, 4, 7], [0.2, 0.4, 0.6, 0.8]) == pytest.approx(1.0, abs=EXACT)


def test_crps_of_draws_by_hand_and_by_another_program() -> None:
    # All pairs counted: {1,2,4,7} at 3 gives .75, {30,35,40,50,80} at 45 gives 4.8; scoringrules 0.10.
    for y, draws, score in ((3.0, [1.0, 2, 4, 7], 0.75), (45.0, [30.0, 35, 40, 50, 80], 4.8)):
        assert crps_of_draws(y, draws) == pytest.approx(score, abs=EXACT)
        assert scoringrules.crps_ensemble(y, np.array(draws)) == pytest.approx(score, abs=EXACT)


def test_one_draw_scores_its_distance() -> None:
    # Gneiting and Raftery 2007: the score of a point forecast is its absolute error.
    assert crps_of_draws(45.0, [30.0]) == pytest.approx(15.0, abs=EXACT)


NORMAL_CASES = (
    (0.0, 0.0, 1.0, 0.233694977255),
    (1.0, 0.0, 1.0, 0.602441357628),
    (2.5, 1.0, 2.0, 0.896288504393),
    (45.0, 40.0, 10.0, 3.314035312549),
)


@pytest.mark.parametrize(("y", "mean", "spread", "score"), NORMAL_CASES)
def test_many_levels_reach_the_normal_score(y: float, mean: float, spread: float, score: float) -> None:
    # Closed form s [z (2 Phi(z) - 1) + 2 phi(z) - 1 / sqrt(pi)] (Gneiting and Raftery 2007, eq. 21).
    levels = (np.arange(4000) + 0.5) / 4000
    normal = NormalDist(mean, spread)
    quantiles = np.array([normal.inv_cdf(p) for p in levels])
    assert crps(y, quantiles, levels) == pytest.approx(score, rel=1e-4)
    assert crps_of_draws(y, quantiles) == pytest.approx(score, rel=1e-3)


LOGNORMAL_CASES = (
    (1.0, 1.0, 1.0, 0.267405467023),
    (60.0, 40.0, 0.5, 11.364741020927),
    (25.0, 40.0, 0.5, 9.688743820554),
    (120.0, 60.0, 0.8, 33.876077716796),
)


@pytest.mark.parametrize(("y", "median", "spread", "score"), LOGNORMAL_CASES)
def test_many_levels_reach_the_lognormal_score(y: float, median: float, spread: float, score: float) -> None:
    # Closed form of Baran and Lerch 2015, Q. J. R. Meteorol. Soc. 141:2289-2299.
    levels = (np.arange(20_000) + 0.5) / 20_000
    quantiles = median * np.exp(spread * np.array([NormalDist().inv_cdf(p) for p in levels]))
    assert crps(y, quantiles, levels) == pytest.approx(score, rel=1e-3)


def test_our_nineteen_levels_come_near_the_whole_score() -> None:
    # Against the closed forms above: 19 levels leave out the tails, which are 5 to 15 % of the score.
    for y, mean, spread, score in NORMAL_CASES:
        quantiles = [NormalDist(mean, spread).inv_cdf(level / 100) for level in LEVELS]
        assert 0.85 * score < float(crps(y, quantiles)) < 1.05 * score


def test_scores_take_many_forecasts_at_once() -> None:
    quantiles = np.tile(np.arange(10.0, 200.0, 10.0), (3, 1))
    together = crps([5.0, 90.0, 300.0], quantiles)
    assert together == pytest.approx(
        [float(crps(y, q)) for y, q in zip((5, 90, 300), quantiles, strict=True)]
    )


@pytest.mark.parametrize(
    ("nominal", "limits"),
    # Central 95 % acceptance for n = 20, 50, 100, 200, 500 (binomial quantiles at .025 and .975).
    [
        (0.5, [(6, 14), (18, 32), (40, 60), (86, 114), (228, 272)]),
        (0.8, [(12, 19), (34, 45), (72, 88), (149, 171), (382, 417)]),
        (0.9, [(15, 20), (41, 49), (84, 95), (171, 188), (436, 463)]),
        (0.95, [(17, 20), (44, 50), (90, 99), (184, 196), (465, 484)]),
    ],
)
def test_limits_of_luck(nominal: float, limits: list[tuple[int, int]]) -> None:
    assert [binomial_limits(n, nominal) for n in (20, 50, 100, 200, 500)] == limits


def test_limits_agree_with_a_published_binomial_table() -> None:
    # Basel Committee 1996, supervisory framework for back-testing, table 2: n = 250, 1 %; cumulative per
    # cent at 0 … 10 exceptions. The central limits at level L are the first counts past (1 -/+ L) / 2.
    cumulative = np.array([8.11, 28.58, 54.32, 75.81, 89.22, 95.88, 98.63, 99.60, 99.89, 99.97, 99.99])
    for level in (0.5, 0.8, 0.9, 0.95, 0.99):
        low, high = binomial_limits(250, 0.01, level)
        assert low == np.searchsorted(cumulative, 50 * (1 - level))
        assert high == np.searchsorted(cumulative, 50 * (1 + level))


@pytest.mark.parametrize(
    ("held", "trials", "low", "high"),
    # Newcombe 1998, Stat. Med. 17:857-872, table I (score method); the last one computed elsewhere.
    [
        (81, 263, 0.2553, 0.3662),
        (15, 148, 0.0624, 0.1605),
        (0, 20, 0.0, 0.1611),
        (1, 29, 0.0061, 0.1718),
        (45, 50, 0.7864, 0.9565),
    ],
)
def test_wilson_interval(held: int, trials: int, low: float, high: float) -> None:
    assert wilson_interval(held, trials) == pytest.approx((low, high), abs=5e-5)


def test_coverage_counts_the_ends_and_states_the_limits() -> None:
    # 45 of 50 at nominal 80 %: limits 34 … 45 (binomial), share .7864 … .9565 (Wilson).
    minutes = np.array([10.0] * 25 + [20.0] * 20 + [21.0] * 5)
    found = coverage(minutes, np.full(50, 10.0), np.full(50, 20.0), 0.8)
    assert found[:5] == (45, 50, 0.8, 34, 45)
    assert found[5:] == pytest.approx((0.7864, 0.9565), abs=5e-5)
    assert found.as_promised
    assert not found._replace(held=46).as_promised


def test_nothing_forecast_is_nothing_known() -> None:
    found = coverage([], [], [], 0.8)
    assert found == (0, 0, 0.8, 0, 0, 0.0, 1.0)


def test_certain_chances_have_one_number() -> None:
    assert binomial_limits(7, 0.0) == (0, 0)
    assert binomial_limits(7, 1.0) == (7, 7)


def test_senseless_questions_are_refused() -> None:
    with pytest.raises(ValueError, match="level"):
        pinball(1, 1, 1.5)
    with pytest.raises(ValueError, match="missed"):
        interval_score(1, 0, 2, 0.0)
    with pytest.raises(ValueError, match="chance"):
        binomial_limits(5, 1.5)
    with pytest.raises(ValueError, match="draws"):
        crps_of_draws(1.0, [])
