"""How small a goal would have to be: the amount that is ready 8 times in 10."""

from __future__ import annotations

from datetime import timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.forecast.people import TUESDAY, FixedPace, regular_weeks, small_army
from tests.forecast.test_goals import army, by, tiny
from tracker.domain.records import Goal
from tracker.forecast.cuts import least_cuts
from tracker.forecast.goals import chance_of, sure_amount
from tracker.forecast.outlook import simulate
from tracker.report.goal_words import cuts_json, cuts_text

AS_OF = TUESDAY + timedelta(weeks=9)


@pytest.mark.parametrize(
    ("goal", "amount"),
    [
        # Counted in the table READY of the four paths there: all four have to reach it, as three are 75 %.
        (by(9, models=9), 2.0),  # 9, 5, 2 and 7 models
        (by(9, points=70.0), 10.0),  # 70, 30, 10 and 60 points
        (by(7, points=70.0, unit_ids=(2, 3)), 0.0),
        (by(3, models=9), 0.0),
        (by(9, unit_ids=(1,)), None),
        (by(9, models=4, unit_ids=(7,)), None),
    ],
)
def test_amounts_by_hand(goal: Goal, amount: float | None) -> None:
    assert sure_amount(goal, tiny(army())) == amount


@settings(max_examples=15, deadline=None)
@given(st.lists(st.integers(1, 6), min_size=1, max_size=4), st.integers(0, 200))
def test_it_is_the_largest_goal_that_is_kept(models: list[int], days: int) -> None:
    known = small_army(models, regular_weeks(9))
    futures = simulate(known, FixedPace(spread=0.3), AS_OF, draws=150)
    goal = Goal(1, "game", AS_OF + timedelta(days=days), models=1)
    sure = sure_amount(goal, futures)
    assert sure is not None
    assert (chance_of(goal._replace(models=int(sure) + 1), futures) or 0.0) < 0.8
    if sure:
        assert (chance_of(goal._replace(models=int(sure)), futures) or 0.0) >= 0.8


def test_it_is_said_beside_the_cuts() -> None:
    known = small_army([2, 9, 9], regular_weeks(9))
    goal = Goal(1, "game", AS_OF + timedelta(days=80), models=20)
    answer = least_cuts(known, FixedPace(), AS_OF, goal, draws=150)
    assert answer.sure in {2.0, 11.0}
    says = " ".join(cuts_text(answer).split())
    assert f"At least {int(answer.sure or 0)} models are ready by then 8 times in 10" in says
    assert cuts_json(answer)["sure_amount"] == answer.sure
