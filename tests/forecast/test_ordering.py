"""The suggestion from records: what is counted, what is shared, what is wanted by a date, and why."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

import pytest

from tests.forecast.people import ROUTE, TUESDAY, FixedPace, regular_weeks, small_army, worked
from tracker.domain.answers_whatif import OrderAnswer
from tracker.domain.records import Goal, Records
from tracker.domain.wished import wished
from tracker.domain.wishes import InOrder
from tracker.forecast.ordering import goal_dates, order_answer

AS_OF = TUESDAY + timedelta(weeks=26)
WAITLESS = ("cleaning", "sanding")


def army(models: list[int], **of_units: list[Any]) -> Records:
    """Units of two steps without waits, of ten minutes a model each; fields by unit."""
    known = small_army(models, regular_weeks(26))
    units = [unit._replace(route=WAITLESS) for unit in known.units]
    for field, values in of_units.items():
        units = [unit._replace(**{field: value}) for unit, value in zip(units, values, strict=True)]
    return known._replace(units=tuple(units))


def suggest(known: Records) -> tuple[OrderAnswer, InOrder | None]:
    return order_answer(known, FixedPace(10.0), AS_OF, draws=400)


def order_of(known: Records) -> list[str]:
    return [placed.unit for placed in suggest(known)[0].places]


def reasons(known: Records) -> dict[str, str]:
    return {placed.unit: placed.reason for placed in suggest(known)[0].places}


def test_most_points_soonest() -> None:
    # 20 minutes a model: 200, 100 and 60 minutes for 100, 100 and 20 points: 30, 60 and 20 an hour.
    known = army([10, 5, 3], points=[100.0, 100.0, 20.0])
    answer, wish = suggest(known)
    assert [placed.unit for placed in answer.places] == ["unit 2", "unit 1", "unit 3"]
    assert [placed.own_place for placed in answer.places] == [2, 1, 3]
    assert (answer.counted, answer.exact, answer.is_own) == ("points", True, False)
    # On average a point waits (100 x 100 + 300 x 100 + 360 x 20) / 220 minutes, worked by hand.
    assert answer.wait_minutes == pytest.approx(47_200 / 220)
    assert answer.own_wait_minutes == pytest.approx((200 * 100 + 300 * 100 + 360 * 20) / 220)
    assert wish is not None
    taken, none = suggest(wished(known, [wish], AS_OF))
    assert taken.is_own
    assert none is None


def test_models_where_nobody_said_points_and_shares_where_some_did() -> None:
    answer, _ = suggest(army([10, 5]))
    assert (answer.counted, [placed.worth for placed in answer.places]) == ("models", [10.0, 5.0])
    answer, _ = suggest(army([10, 5], points=[50.0, None]))
    assert {placed.unit: (placed.worth, placed.has_points) for placed in answer.places} == {
        "unit 1": (50.0, True), "unit 2": (25.0, False),
    }  # fmt: skip


def test_finishing_comes_before_starting() -> None:
    known = army([5, 5], points=[100.0, 100.0])
    mine = [model.id for model in known.models if model.unit_id == 2]
    begun = worked(known, 2, "cleaning", mine, 3)
    assert order_of(known) == ["unit 1", "unit 2"]
    assert order_of(begun) == ["unit 2", "unit 1"]
    assert reasons(begun)["unit 2"] == "begun"


def test_goals_are_kept_first_and_lost_ones_hold_nothing_up() -> None:
    # An hour every Tuesday and Thursday: a middling future has about 510 minutes in a month (see
    # test_outlook: 600 minutes take 31 days).
    points = [1000.0, 10.0]
    assert order_of(army([10, 10], points=points)) == ["unit 1", "unit 2"]
    soon = [None, AS_OF + timedelta(days=17)]
    wanted = army([10, 10], points=points, goal_date=soon)
    assert order_of(wanted) == ["unit 2", "unit 1"]
    assert reasons(wanted)["unit 2"] == "goal"
    safe = army([10, 10], points=points, goal_date=[None, AS_OF + timedelta(days=24)])
    assert reasons(safe) == {"unit 2": "bad luck", "unit 1": "worth"}
    lost = army([10, 10], points=points, goal_date=[None, AS_OF + timedelta(days=1)])
    assert order_of(lost) == ["unit 1", "unit 2"]
    assert reasons(lost)["unit 2"] == "out of reach"
    past = army([10, 10], points=points, goal_date=[None, AS_OF - timedelta(days=9)])
    assert reasons(past)["unit 2"] == "out of reach"
    far = army([10, 10], points=points, goal_date=[None, AS_OF + timedelta(days=900)])
    assert order_of(far) == ["unit 1", "unit 2"]


def test_of_goals_that_cannot_all_be_kept_the_least_worth_give_way() -> None:
    # 200, 200 and 260 minutes by a day with about 300: only one can be kept, whichever it is.
    day = AS_OF + timedelta(days=17)
    three = army([10, 10, 13], points=[10.0, 20.0, 900.0], goal_date=[day, day, day])
    assert reasons(three) == {"unit 3": "worth", "unit 2": "gives way", "unit 1": "gives way"}


def test_goals_of_several_units_count_for_each() -> None:
    day = AS_OF + timedelta(days=17)
    known = army([4, 4, 4], goal_date=[None, day + timedelta(days=9), None])
    goals = (Goal(1, "two", day, (2, 3)), Goal(2, "so many", AS_OF, models=5))
    assert goal_dates(known._replace(goals=goals)) == {2: day, 3: day}
    assert goal_dates(known._replace(goals=(Goal(1, "all", day),))) == {1: day, 2: day, 3: day}


def test_units_that_share_a_set_up_stand_together() -> None:
    # Primer and varnish for 1 and 3, which share a standard and an army; 2 goes its own way. By points
    # an hour alone: 1, 2, 3. Sharing saves 30 minutes (15 each by the catalogue) for the 60 points of 3.
    known = small_army([1, 1, 1], regular_weeks(26))
    units = [
        unit._replace(route=ROUTE, points=points, standard=standard)
        for unit, points, standard in zip(
            known.units, (64.0, 61.0, 60.0), ("good", "quick", "good"), strict=True
        )
    ]
    together = known._replace(units=tuple(units))
    assert order_of(together) == ["unit 1", "unit 3", "unit 2"]
    (shared,) = [placed for placed in suggest(together)[0].places if placed.reason == "set-up"]
    assert (shared.unit, shared.with_unit) == ("unit 3", "unit 1")
    apart = tuple(
        unit._replace(standard="quick" if unit.id == 2 else unit.standard, army_id=1) for unit in units
    )
    others = (*apart[:2], apart[2]._replace(standard="display"))
    assert order_of(known._replace(units=others)) == ["unit 1", "unit 2", "unit 3"]


def test_one_unit_and_none() -> None:
    assert reasons(army([3])) == {"unit 1": "only one"}
    answer, wish = suggest(Records())
    assert (answer.places, wish) == ((), None)
