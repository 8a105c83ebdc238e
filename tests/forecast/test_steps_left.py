"""Minutes left by step: the sums over a unit's steps are the unit's, whatever the kinds within it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from tests.builders import did, evening, log_of
from tracker.domain.answers import PlannedLine
from tracker.domain.records import Mark, Records
from tracker.forecast.steps_left import steps_left
from tracker.report.steps_json import steps_json

DAY = date(2024, 2, 1)
ROUTE = ("cleaning", "assembly", "base colours")


class Fixed:
    """Three minutes a model, in every future."""

    def draw(self, lines: Sequence[PlannedLine], rng: np.random.Generator, n: int) -> NDArray[np.float64]:
        del rng
        return np.tile([3.0 * line.models for line in lines], (n, 1))


def a_log() -> Records:
    """Forty spears, five of them cleaned, the first one a captain of its own kind."""
    known = log_of(evening(did("spears", "cleaning", 5, 40)))
    captain = known.models[0]._replace(kind="character")
    marks = tuple(Mark(i, m.id, "cleaning", "done", DAY) for i, m in enumerate(known.models[:5], 1))
    units = tuple(unit._replace(route=ROUTE) for unit in known.units)
    return known._replace(units=units, models=(captain, *known.models[1:]), marks=marks)


def test_each_step_says_how_many_models_and_minutes_are_left() -> None:
    (unit,) = steps_left(a_log(), Fixed(), DAY, draws=50).units
    assert (unit.unit, unit.models, unit.models_ready) == ("spears", 40, 0)
    assert [(step.step, step.models) for step in unit.steps] == [
        ("cleaning", 35), ("assembly", 40), ("base colours", 40),
    ]  # fmt: skip
    for step in unit.steps:  # the captain's line and the spears' line are one step
        assert step.minutes == pytest.approx((3.0 * step.models,) * 19)


def test_a_step_that_nobody_needs_has_no_minutes() -> None:
    known = a_log()
    marks = tuple(Mark(i, m.id, "cleaning", "done", DAY) for i, m in enumerate(known.models, 1))
    (unit,) = steps_left(known._replace(marks=marks), Fixed(), DAY, draws=50).units
    assert unit.steps[0] == ("cleaning", 0, None)
    told: Any = steps_json(steps_left(known._replace(marks=marks), Fixed(), DAY, draws=50))["units"]
    assert set(told[0]["steps"][0]["minutes"].values()) == {0.0}


def test_without_units_there_is_nothing() -> None:
    assert steps_left(Records(), Fixed(), DAY).units == ()
