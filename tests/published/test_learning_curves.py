"""Practice within a unit against published learning-curve tables (unit theory, Crawford 1947).

Three-digit tables "learning-curve coefficients": Heizer and Render, Operations Management, table E.3
(70 to 90 %, units 1 to 19); later units by the definition, T_n = T_1 n^b, b = log2(slope).
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from tests.published.regression import solve_linear
from tracker.domain.answers import PlannedLine
from tracker.pace import priors
from tracker.pace.design import offsets
from tracker.pace.priors import Priors, log_minutes, practice

# n: minutes of the n-th unit and of the first n together, at a slope of 90 %.
NINETY = {
    2: (0.9000, 1.900), 3: (0.8462, 2.746), 4: (0.8100, 3.556), 5: (0.7830, 4.339), 6: (0.7616, 5.101),
    7: (0.7439, 5.845), 8: (0.7290, 6.574), 10: (0.7047, 7.994), 16: (0.6561, 12.040), 20: (0.6342, 14.608),
}  # fmt: skip
EXPONENTS = {70: -0.514573, 75: -0.415037, 80: -0.321928, 85: -0.234465, 90: -0.152003, 95: -0.074001}


def lot(first: int, last: int) -> PlannedLine:
    """Models first … last of a unit, base colours."""
    return PlannedLine("", "spears", "base colours", last - first + 1, done_before=first - 1)


def place(first: int, last: int) -> float:
    """Log of a lot's place on the curve, the first model's being 0."""
    return practice(lot(first, last)) - practice(lot(1, 1))


def test_the_trade_starts_from_ninety_per_cent() -> None:
    assert Priors().practice_slope == pytest.approx(EXPONENTS[90], abs=5e-7)


def test_each_model_is_quicker_than_the_one_before_as_tabled() -> None:
    lines = [lot(n, n) for n in (1, *NINETY)]
    levels = np.exp(offsets(lines, Priors()) - [log_minutes(line) for line in lines])
    assert levels[1:] / levels[0] == pytest.approx([each for each, _ in NINETY.values()], abs=5e-5)


def test_a_whole_lot_takes_what_the_tabled_total_says() -> None:
    # The lot's middle is an approximation: within 1 % of the table up to 20 models.
    for n, (_, total) in NINETY.items():
        factor = math.exp(Priors().practice_slope * place(1, n))
        assert n * factor == pytest.approx(total, rel=0.01)


@pytest.mark.parametrize("slope", sorted(EXPONENTS))
def test_every_doubling_multiplies_by_the_slope(slope: int) -> None:
    b = EXPONENTS[slope]
    for n in (1, 2, 3, 5, 10):
        gained = practice(lot(2 * n, 2 * n)) - practice(lot(n, n))
        assert math.exp(b * gained) == pytest.approx(slope / 100, abs=1e-6)


def test_the_middle_of_a_lot(monkeypatch: pytest.MonkeyPatch) -> None:
    # Units 11 to 30: (F + L + 2 sqrt(F L)) / 4 = 19.33295; exact at 80 % 19.35909.
    monkeypatch.setattr(priors, "PRACTICE_MODELS_MOST", 100)
    middle = math.exp(place(11, 30))
    assert middle == pytest.approx(19.33295, abs=5e-6)
    assert middle == pytest.approx(19.35909, rel=2e-3)


def test_beyond_the_cap_nobody_gets_quicker() -> None:
    # Common practice, no source: the curve is level after so many like models.
    most = priors.PRACTICE_MODELS_MOST
    assert practice(lot(most + 5, most + 5)) == practice(lot(most, most))


def test_exact_minutes_give_back_their_curve() -> None:
    # 400 n^b at 80 %, n = 1 … 20: log-log least squares must return 400 and 80 %.
    n = np.arange(1.0, 21)
    design = np.column_stack([np.ones(20), [place(int(i), int(i)) for i in n]])
    found = solve_linear(design, np.log(400 * n ** EXPONENTS[80]))
    assert math.exp(found.flat[0]) == pytest.approx(400, rel=1e-9)
    assert 2 ** found.flat[1] == pytest.approx(2 ** EXPONENTS[80], rel=1e-9)
