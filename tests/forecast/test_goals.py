"""Goals: chances counted by hand on four paths, agreement with the what-if, the last day to begin."""

from __future__ import annotations

from datetime import timedelta

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.forecast.people import ROUTE, TUESDAY, FixedPace, regular_weeks, small_army, worked
from tracker.domain.progress import progress_of
from tracker.domain.records import Goal, Records
from tracker.domain.work import work_left
from tracker.forecast.again import Again
from tracker.forecast.goals import chance_of, goals_answer, is_met, met_days, start_by
from tracker.forecast.outlook import Futures, simulate
from tracker.forecast.rhythm import fit_rhythm
from tracker.forecast.simulate import Calendar

AS_OF = TUESDAY + timedelta(weeks=9)
EVENINGS = regular_weeks(9)
RHYTHM = fit_rhythm(EVENINGS, AS_OF)
READY = np.array([[1, 5, 9], [2, 3, 20], [4, 30, 30], [30, 6, 7]], dtype=np.int32)
"""Four paths, three units; day 30 lies beyond the horizon."""


def tiny(known: Records) -> Futures:
    """Futures that were written down, of units of 2, 3 and 4 models with 10, 20 and 40 points."""
    return Futures(
        progress_of(known),
        work_left(known),
        RHYTHM,
        Calendar(np.ones((4, 30), dtype=np.float32)),
        np.ones((4, 3), dtype=np.float32),
        READY,
    )


def army() -> Records:
    known = small_army([2, 3, 4], EVENINGS)
    worth = (10.0, 20.0, 40.0)
    units = (unit._replace(points=points) for unit, points in zip(known.units, worth, strict=True))
    return known._replace(units=tuple(units))


def by(days: int, **asks: object) -> Goal:
    return Goal(1, "game", RHYTHM.start + timedelta(days=days), **asks)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("goal", "chance"),
    [
        # Counted in the table READY above.
        (by(5, unit_ids=(1,)), 3 / 4),
        (by(5, unit_ids=(1, 2)), 2 / 4),
        (by(8, unit_ids=(2, 3)), 1 / 4),
        (by(9), 1 / 4),
        (by(29), 2 / 4),
        (by(40), 2 / 4),  # beyond the horizon nothing is known to be ready
        (by(4, models=3), 1 / 4),
        (by(5, models=5), 2 / 4),
        (by(9, models=7), 2 / 4),
        (by(9, models=4, unit_ids=(2,)), 0.0),  # it has only three models
        (by(9, points=50.0), 2 / 4),
        (by(9, points=30.0), 3 / 4),
        (by(7, points=60.0, unit_ids=(2, 3)), 1 / 4),
        (by(9, points=71.0), 0.0),
    ],
)
def test_chances_by_hand(goal: Goal, chance: float) -> None:
    futures = tiny(army())
    assert chance_of(goal, futures) == chance


def test_days_by_hand() -> None:
    futures = tiny(army())
    for goal, days in (
        (by(9), [9, 20, 30, 30]),
        (by(9, models=3), [5, 3, 30, 6]),
        (by(9, models=7), [9, 20, 30, 7]),
        (by(9, points=30.0), [5, 3, 30, 7]),
    ):
        met = met_days(futures, goal)
        assert met is not None
        assert met.tolist() == days


def test_units_that_are_gone_and_goals_that_are_met() -> None:
    futures = tiny(army())
    assert chance_of(by(9, unit_ids=(7,)), futures) is None
    assert met_days(futures, by(9, unit_ids=(7,))) is None
    assert not is_met(by(9, unit_ids=(7,)), futures)
    known = army()
    for step in ROUTE:
        known = worked(known, 1, step, [1, 2], 4)
    done = simulate(known, FixedPace(), AS_OF, draws=100)
    assert is_met(by(-3, unit_ids=(1,)), done)
    assert chance_of(by(-3, unit_ids=(1,)), done) == 1.0
    assert is_met(by(9, models=2), done)
    assert not is_met(by(9, models=3), done)
    assert is_met(by(9, points=10.0), done)
    assert not is_met(by(9, unit_ids=(1, 2)), done)
    standing = goals_answer(known._replace(goals=(by(9, unit_ids=(1,)),)), FixedPace(), AS_OF).goals[0]
    assert (standing.chance, standing.is_met, standing.start_by, standing.met) == (1.0, True, None, ())


few = settings(max_examples=15, deadline=None)


@few
@given(
    st.lists(st.integers(1, 8), min_size=1, max_size=4),
    st.integers(0, 120),
    st.integers(0, 60),
    st.integers(0, 60),
)
def test_a_later_beginning_never_raises_the_chance(
    models: list[int], day: int, first: int, more: int
) -> None:
    again = Again(small_army(models, EVENINGS), FixedPace(spread=0.3), AS_OF, 1, 100)
    goal = by(day, models=max(models))
    early, late = (again.begun_on(AS_OF + timedelta(days=days)) for days in (first, first + more))
    assert (late.ready_days >= early.ready_days).all()
    assert (chance_of(goal, late) or 0.0) <= (chance_of(goal, early) or 0.0)
    assert (early.ready_days >= again.futures.ready_days).all()


def test_the_last_day_to_begin_is_the_last() -> None:
    again = Again(small_army([2, 2], EVENINGS), FixedPace(spread=0.3), AS_OF, 1, 300)
    goal = by(150, unit_ids=(1, 2))
    day = start_by(goal, again)
    assert day is not None
    assert AS_OF < day < goal.date
    # By exhaustive search around it.
    kept = {
        days: (chance_of(goal, again.begun_on(day + timedelta(days=days))) or 0.0) >= 0.8
        for days in range(-6, 12)
    }
    assert [days for days, is_kept in kept.items() if is_kept] == list(range(-6, 1))
    assert start_by(by(2, unit_ids=(1, 2)), again) is None
    assert start_by(by(-2, unit_ids=(1, 2)), again) is None


def test_every_goal_by_its_date_with_the_units_own() -> None:
    known = small_army([2, 3], EVENINGS)
    spring = AS_OF + timedelta(days=200)
    units = (known.units[0]._replace(goal_date=spring, goal="fair"), known.units[1])
    known = known._replace(units=units, goals=(Goal(4, "late", spring + timedelta(days=9), models=4),))
    answer = goals_answer(known, FixedPace(), AS_OF, draws=200)
    fair, late = answer.goals
    assert (fair.goal.name, fair.units) == ("fair", ("unit 1",))
    assert (late.goal.name, late.units) == ("late", ())
    assert len(fair.met) == 19
    assert answer == goals_answer(known, FixedPace(), AS_OF, draws=200)
    assert goals_answer(known._replace(units=known.units[1:], goals=()), FixedPace(), AS_OF).goals == ()
