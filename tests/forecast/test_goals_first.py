"""A goal's work put before all other work: never later than in the person's order, and when it must begin."""

from __future__ import annotations

from datetime import timedelta

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.forecast.people import TUESDAY, FixedPace, regular_weeks, small_army
from tests.forecast.test_whatif import NamedPace
from tracker.domain.records import Goal
from tracker.forecast.again import Again
from tracker.forecast.goals import chance_of, goals_answer, put_first, start_by, waits_for_others

AS_OF = TUESDAY + timedelta(weeks=9)
EVENINGS = regular_weeks(9)


def goal_of(days: int, *units: int) -> Goal:
    return Goal(1, "game", AS_OF + timedelta(days=days), units)


@settings(max_examples=15, deadline=None)
@given(st.lists(st.integers(1, 8), min_size=2, max_size=4), st.integers(0, 200), st.data())
def test_first_is_never_less_likely(models: list[int], days: int, data: st.DataObject) -> None:
    units = data.draw(st.sets(st.integers(1, len(models)), min_size=1))
    goal = goal_of(days, *units)
    again = Again(small_army(models, EVENINGS), NamedPace(), AS_OF, 2, 100)
    first = put_first(goal, again)
    assert [work.unit.id for work in first.work] == sorted(units)
    assert (chance_of(goal, first) or 0.0) >= (chance_of(goal, again.futures) or 0.0)
    if not waits_for_others(goal, again.futures):
        assert (first.ready_days == again.futures.ready_days[:, : len(units)]).all()


def test_only_open_work_that_does_not_count_stands_before() -> None:
    again = Again(small_army([2, 2, 2], EVENINGS), FixedPace(), AS_OF, 1, 100)
    waits = {
        units: waits_for_others(goal_of(50, *units), again.futures) for units in ((), (1,), (1, 2), (2,))
    }
    assert waits == {(): False, (1,): False, (1, 2): False, (2,): True}
    assert waits_for_others(goal_of(50, 1, 3), again.futures)


def test_the_last_day_to_begin_does_not_hang_on_the_order() -> None:
    known, goal = small_army([18, 2], EVENINGS), goal_of(100, 2)
    turned = known._replace(units=tuple(unit._replace(order=3 - (unit.order or 0)) for unit in known.units))
    behind, before = (Again(plan, NamedPace(), AS_OF, 1, 200) for plan in (known, turned))
    assert (chance_of(goal, behind.futures) or 0.0) < 0.8 <= (chance_of(goal, before.futures) or 0.0)
    day = start_by(goal, behind)
    assert day is not None
    assert AS_OF < day < goal.date
    assert day == start_by(goal, before)
    (standing,) = goals_answer(known._replace(goals=(goal,)), NamedPace(), AS_OF, draws=200).goals
    assert (standing.waits, standing.start_by) == (True, day)


def test_whoever_wants_it_later_may_begin_later() -> None:
    again = Again(small_army([6, 3], EVENINGS), NamedPace(), AS_OF, 1, 200)
    days = [start_by(goal_of(days, 2), again) for days in range(20, 200, 20)]
    found = [day for day in days if day is not None]
    assert found == sorted(found)
    assert days.index(found[0]) + len(found) == len(days)  # once in reach it stays in reach
