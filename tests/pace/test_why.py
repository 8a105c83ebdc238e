"""Why an estimate is what it is: the product is the estimate."""

from __future__ import annotations

import math
from datetime import date

import numpy as np
import pytest

from tests.pace.hobbyists import live
from tracker.domain.answers import LEVELS, PlannedLine
from tracker.pace.answer import usual_models
from tracker.pace.fit import fit
from tracker.pace.why import why

DAY = date(2026, 10, 31)


@pytest.fixture(scope="module")
def lines() -> list[PlannedLine]:
    person = live(np.random.default_rng(4), 60, 0.0)
    return [block.lines[0] for block in person.blocks]


def test_the_product_is_the_middle(lines: list[PlannedLine]) -> None:
    pace = fit(live(np.random.default_rng(4), 60, 0.0).blocks)
    for line in lines[::20]:
        answer = why(line, pace, DAY, 1)
        product = answer.plain_minutes_per_model * math.prod(factor.times for factor in answer.factors)
        assert product == pytest.approx(answer.middle_minutes_per_model, rel=1e-9)
        # The middle of the draws is the same thing seen from outside; their surprise leans a little.
        drawn = answer.minutes_per_model[LEVELS.index(50)]
        assert drawn == pytest.approx(answer.middle_minutes_per_model, rel=0.1)
        assert answer.lines == sum(one.step == line.step for one in lines)


def test_factors_name_what_differs(lines: list[PlannedLine]) -> None:
    pace = fit(live(np.random.default_rng(4), 60, 0.0).blocks)
    plain = PlannedLine("army", "new", "base colours", 5)
    by_code = {factor.code: factor.times for factor in why(plain, pace, DAY, 1).factors}
    assert by_code["kind"] == by_code["material"] == by_code["standard"] == by_code["unit"] == 1.0
    quick = why(plain._replace(standard="quick"), pace, DAY, 1)
    assert {factor.code: factor.times for factor in quick.factors}["standard"] < 1
    assert lines[0].unit != "new"


def test_fewer_models_than_usual_are_a_factor_of_their_own() -> None:
    pace = fit([])
    line = PlannedLine("army", "Spears", "priming", 100)
    many, one = why(line, pace, DAY, 1), why(line._replace(models=1), pace, DAY, 1)
    assert (many.models, one.models) == (usual_models(pace, "priming"), 1)
    assert {factor.code: factor.times for factor in many.factors}["batch"] == 1.0
    # The trade's table: a quarter of an hour of set-up and 0.8 minutes a model, for one and for five. The
    # one is the unit's first; the middle of the first five is model (1 + 5 + 2 sqrt 5) / 4 of a learning
    # curve that falls to 90 % at each doubling (unit learning curve, Crawford 1944).
    times = {factor.code: factor.times for factor in one.factors}["batch"]
    first = ((6 + 2 * math.sqrt(5)) / 4) ** -math.log2(0.9)
    assert times == pytest.approx((15 + 0.8) / ((15 + 5 * 0.8) / 5) * first, rel=0.03)
    assert one.plain_minutes_per_model == many.plain_minutes_per_model


def test_nothing_logged_explains_the_trade() -> None:
    answer = why(PlannedLine("army", "Spears", "priming", 5), fit([]), DAY, 1)
    assert (answer.source, answer.lines) == ("trade", 0)
    # Five models at 0.8 minutes and a quarter of an hour of set-up: the trade's table.
    assert answer.plain_minutes_per_model == pytest.approx((15 + 5 * 0.8) / 5, rel=0.03)
    assert "new-step" in [doubt.code for doubt in answer.doubts]
