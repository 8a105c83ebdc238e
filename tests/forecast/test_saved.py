"""What a wish saves one unit, where the minutes are known."""

from __future__ import annotations

from datetime import timedelta

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.forecast.people import ROUTE, TUESDAY, FixedPace, regular_weeks, small_army, worked
from tests.forecast.test_whatif import NamedPace
from tracker.domain.problems import DataError
from tracker.domain.routes import usual_route
from tracker.domain.wished import wished
from tracker.domain.wishes import FewerModels, Filler
from tracker.domain.work import work_left
from tracker.forecast.outlook import simulate, to_planned
from tracker.forecast.saved import saved_by
from tracker.forecast.whatif import what_if
from tracker.pace.priors import log_minutes, set_up_share

AS_OF = TUESDAY + timedelta(weeks=9)
EVENINGS = regular_weeks(9)


# Arithmetic: models less, times the steps of the route, times 10 minutes; the filler takes the steps of
# its route that scenery takes.
@pytest.mark.parametrize("instead_of", [4, 6])
def test_hours_saved_are_models_not_made_less_the_fillers_steps(instead_of: int) -> None:
    known = small_army([20, 3], EVENINGS)
    scenic = [step for step in ROUTE if step in usual_route("scenery", "table-top", "plastic")]
    hours = (instead_of * len(ROUTE) - len(scenic)) * 10 / 60
    saved = saved_by(known, FixedPace(), AS_OF, Filler("unit 1", instead_of), draws=50)
    assert saved.hours == pytest.approx((hours, hours, hours), rel=1e-5)
    assert saved.days is not None
    assert saved.days > 0


def test_steps_that_are_behind_the_models_are_not_saved() -> None:
    known = worked(small_army([6], EVENINGS), 1, "cleaning", [1, 2, 3, 4, 5, 6], 1)
    saved = saved_by(known, FixedPace(), AS_OF, FewerModels("unit 1", 2), draws=50)
    hours = 2 * (len(ROUTE) - 1) * 10 / 60
    assert saved.hours == pytest.approx((hours,) * 3, rel=1e-5)


@given(st.integers(2, 12), st.integers(0, 3))
@settings(max_examples=10, deadline=None)
def test_days_are_those_of_what_if_and_hours_are_differences_of_paths(models: int, seed: int) -> None:
    known = small_army([4, models], EVENINGS)
    wish = Filler("UNIT 2", models - 1)
    saved = saved_by(known, NamedPace(), AS_OF, wish, seed=seed, draws=60)
    beside = what_if(known, NamedPace(), AS_OF, [wish], seed=seed, draws=60)
    shift = next(one for one in beside.units if one.unit == "unit 2").shift_days
    assert saved.days == (None if shift is None else -shift)
    plans = (known, wished(known, [wish], AS_OF))
    then, now = (simulate(plan, NamedPace(), AS_OF, seed, 60).minutes[:, 1] for plan in plans)
    # Three of 60 differences, by the line between neighbours of the sorted ones (numpy's own rule).
    ordered = np.sort((then.astype(float) - now) / 60)
    at = [0.1 * 59, 0.5 * 59, 0.9 * 59]
    assert saved.hours == pytest.approx(np.interp(at, np.arange(60), ordered))
    assert list(saved.hours) == sorted(saved.hours)


def test_no_evenings_are_a_doubt_and_what_cannot_be_is_refused() -> None:
    known = small_army([6])
    saved = saved_by(known, FixedPace(), AS_OF, FewerModels("unit 1", 2), draws=50)
    assert "no-evenings" in [doubt.code for doubt in saved.doubts]
    with pytest.raises(DataError, match="6 models fewer cannot be"):
        saved_by(known, FixedPace(), AS_OF, FewerModels("unit 1", 6), draws=50)
    with pytest.raises(DataError, match="there is no unit"):
        saved_by(known, FixedPace(), AS_OF, FewerModels("unit 9", 1), draws=50)


def test_models_of_another_kind_do_not_set_up_twice() -> None:
    """The filler is primed and varnished with its unit: one line of each step pays for setting up."""
    known = wished(small_army([6], EVENINGS), [Filler("unit 1", 2)], AS_OF)
    (work,) = (work for work in work_left(known) if work.unit.name == "unit 1")
    planned = to_planned(work, known)
    for step in {line.step for line in planned}:
        paying = [line for line in planned if line.step == step and not line.is_set_up]
        assert [line.kind for line in paying] == ["infantry"]
    shared = next(line for line in planned if line.is_set_up and line.step == "priming")
    alone = shared._replace(is_set_up=False)
    assert log_minutes(shared) < log_minutes(alone)
    assert set_up_share(shared) == 0 < set_up_share(alone)
