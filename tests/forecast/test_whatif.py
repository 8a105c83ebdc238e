"""Two plans under the same luck: what must never happen, and what certainly does."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from zlib import crc32

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from tests.forecast.people import ROUTE, TUESDAY, regular_weeks, small_army, worked
from tracker.domain.answers import Outlook, PlannedLine
from tracker.domain.answers_whatif import Beside, WhatIfAnswer
from tracker.domain.records import Goal, Records
from tracker.domain.wishes import (
    AtStandard,
    Away,
    FewerModels,
    Filler,
    First,
    InOrder,
    MoreEvenings,
    NewUnit,
    OnlyModels,
    Wish,
    Without,
)
from tracker.forecast.evenings import EveningMinutes
from tracker.forecast.outlook import forecast
from tracker.forecast.rhythm import fit_rhythm
from tracker.forecast.whatif import evenings_wished, what_if, with_more_evenings

AS_OF = TUESDAY + timedelta(weeks=9)
EVENINGS = regular_weeks(9)


class NamedPace:
    """Every line has luck of its own by its name, as the learned pace has."""

    def draw(self, lines: Sequence[PlannedLine], rng: np.random.Generator, n: int) -> NDArray[np.float64]:
        root = int(rng.integers(2**31))
        out = np.empty((n, len(lines)))
        for place, line in enumerate(lines):
            name = f"{line.unit} {line.step} {line.kind}"
            luck = np.random.default_rng([root, crc32(name.encode())])
            quick = 0.5 if line.standard == "quick" else 1.0
            out[:, place] = 8.0 * line.models * quick * np.exp(0.4 * luck.standard_normal(n))
        return out


def ask(known: Records, *wishes: Wish, draws: int = 100) -> WhatIfAnswer:
    return what_if(known, NamedPace(), AS_OF, wishes, draws=draws)


def days(plan: Outlook | None) -> list[date]:
    assert plan is not None
    return [day or date.max for day in plan.ready]


def never_earlier(units: Sequence[Beside]) -> bool:
    return all(
        now >= then for one in units for then, now in zip(days(one.before), days(one.after), strict=True)
    )


def never_later(units: Sequence[Beside]) -> bool:
    return all(
        now <= then for one in units for then, now in zip(days(one.before), days(one.after), strict=True)
    )


armies = st.builds(
    lambda models, evenings: small_army(
        models, [EveningMinutes(TUESDAY + timedelta(days=day), 20.0 + day) for day in sorted(evenings)]
    ),
    st.lists(st.integers(2, 12), min_size=1, max_size=4),
    st.sets(st.integers(0, 62), min_size=1, max_size=40),
)
few = settings(max_examples=12, deadline=None)


@few
@given(armies)
def test_the_same_plan_moves_nothing_and_is_the_forecast(known: Records) -> None:
    answer = ask(known)
    assert all(one.before == one.after for one in (*answer.units, *answer.armies))
    assert {one.shift_days for one in answer.units} <= {0, None}
    plain = forecast(known, NamedPace(), AS_OF, draws=100)
    assert tuple(one.before for one in answer.units) == plain.units
    assert answer.doubts == plain.doubts


@few
@given(armies, st.sampled_from((0.5, 1.0, 3.0, 7.0)))
def test_more_evenings_are_never_later_and_fewer_never_earlier(known: Records, a_week: float) -> None:
    more, fewer = ask(known, MoreEvenings(a_week)), ask(known, MoreEvenings(-a_week))
    assert never_later(more.units)
    assert never_earlier(fewer.units)
    assert fewer.evenings_a_week[1] < fewer.evenings_a_week[0] == more.evenings_a_week[0]
    assert more.evenings_a_week[0] < more.evenings_a_week[1] <= 7


@few
@given(armies, st.integers(-5, 40), st.integers(0, 60))
def test_days_away_are_never_earlier(known: Records, first: int, length: int) -> None:
    gone = Away(AS_OF + timedelta(days=first), AS_OF + timedelta(days=first + length))
    assert never_earlier(ask(known, gone).units)


@few
@given(armies, st.integers(1, 15))
def test_a_unit_added_at_the_end_moves_no_earlier_one(known: Records, models: int) -> None:
    answer = ask(known, NewUnit("bows", models, "cavalry"))
    *there, new = answer.units
    assert all(one.before == one.after for one in there)
    assert (new.unit, new.before) == ("bows", None)
    assert days(new.after) >= days(there[-1].after)


@few
@given(armies, st.integers(1, 5))
def test_more_work_is_never_earlier_and_less_never_later(known: Records, models: int) -> None:
    there = sum(model.unit_id == 1 for model in known.models)
    assert never_earlier(ask(known, OnlyModels("unit 1", there + models)).units)
    if models < there:
        assert never_later(ask(known, FewerModels("unit 1", models)).units)


@few
@given(armies)
def test_a_unit_left_out_makes_none_later(known: Records) -> None:
    answer = ask(known, Without("unit 1"))
    assert (answer.units[0].unit, answer.units[0].after) == ("unit 1", None)
    assert never_later(answer.units[1:])


@few
@given(armies)
def test_the_first_is_never_later_and_the_others_never_earlier(known: Records) -> None:
    last = known.units[-1].name
    answer = ask(known, First(last))
    assert never_later([one for one in answer.units if one.unit == last])
    assert never_earlier([one for one in answer.units if one.unit != last])


def test_wishes_add_up_and_the_records_stay() -> None:
    known = small_army([6, 8, 4], EVENINGS)
    before = repr(known)
    both = ask(known, Without("unit 1"), MoreEvenings(1), First("unit 3"))
    alone = ask(known, First("unit 3"))
    assert repr(known) == before
    shifts = [one.shift_days or 0 for one in both.units[1:]]
    assert all(shift < 0 for shift in shifts)
    assert shifts[1] < (alone.units[2].shift_days or 0) < 0


def test_one_evening_more_is_one_evening_more() -> None:
    rhythm = fit_rhythm(EVENINGS, AS_OF)
    usual = rhythm.session_chance[:, :, 0].sum(axis=0)
    for a_week in (1.0, 0.5, -0.25):
        wished = with_more_evenings(rhythm, a_week).session_chance
        # Chances of the seven days of a week at it, by level: at most .97 and at least .0001 each.
        expected = np.clip(usual + a_week, 7 * 0.0001, 7 * 0.97)
        assert wished[:, :, 0].sum(axis=0) == pytest.approx(expected, abs=1e-6)
        assert (wished[:, :, 1:] == rhythm.session_chance[:, :, 1:]).all()


def test_the_same_luck_only_adds_evenings() -> None:
    rhythm = fit_rhythm(EVENINGS, AS_OF)
    plain, more, away = (
        evenings_wished(wishes, rhythm)(rhythm, np.random.default_rng(3), 200, 120)
        for wishes in ((), (MoreEvenings(2),), (Away(AS_OF, AS_OF + timedelta(days=9)),))
    )
    held = plain > 0
    assert (more[held] == plain[held]).all()
    assert (more > 0).sum() > held.sum()
    first = (AS_OF - rhythm.start).days
    assert not away[:, : first + 10].any()
    assert (away[:, first + 10 :] == plain[:, first + 10 :]).all()


def test_a_filler_and_a_quicker_standard_save_hours() -> None:
    known = small_army([10, 4], EVENINGS)
    whole = ask(known).units[0].before
    filler = ask(known, Filler("unit 1", 4)).units[0].after
    quick = ask(known, AtStandard("unit 1", "quick")).units[0].after
    assert whole is not None
    assert filler is not None
    assert quick is not None
    assert filler.models == 10 - 4 + 1
    assert filler.minutes_left < whole.minutes_left
    assert quick.minutes_left == pytest.approx([0.5 * minutes for minutes in whole.minutes_left], rel=1e-5)


def test_work_that_is_done_stays_done() -> None:
    known = small_army([2, 2], EVENINGS)
    for step in ROUTE:
        known = worked(known, 1, step, [1, 2], 4)
    answer = ask(known, MoreEvenings(-1), NewUnit("bows", 5), First("unit 2"))
    (done,) = [one for one in answer.units if one.unit == "unit 1"]
    assert done.before == done.after
    assert done.after is not None
    assert done.after.models_ready == 2


def test_chances_of_goals_of_every_kind() -> None:
    known = small_army([3, 3, 3], EVENINGS)
    day = AS_OF + timedelta(days=40)
    goals = (
        Goal(1, "two units", day, (1, 2)),
        Goal(2, "everything", day),
        Goal(3, "six models", day, models=6),
        Goal(4, "fifty points", day, points=50.0),
        Goal(5, "the first", day, (1,)),
    )
    units = tuple(unit._replace(points=25.0) for unit in known.units)
    known = known._replace(goals=goals, units=units)
    answer = ask(known, MoreEvenings(1), draws=400)
    two, everything, six, fifty, one = answer.goals
    assert two.units == ("unit 1", "unit 2")
    # The order is kept, so two units are ready exactly when six models and fifty points are.
    assert two[3:] == six[3:] == fifty[3:]
    assert (everything.before or 0) < (two.before or 0) < (one.before or 0)
    assert (two.after or 0) > (two.before or 0)
    gone = ask(known, Without("unit 1"), draws=400).goals
    assert gone[-1].before == one.before
    assert gone[-1].after is None


def test_an_order_by_name() -> None:
    known = small_army([4, 4, 4], EVENINGS)
    answer = ask(known, InOrder((("unit 3", "host"), ("unit 1", ""))))
    middles = {one.unit: days(one.after)[9] for one in answer.units}
    assert sorted(middles, key=lambda unit: middles[unit]) == ["unit 3", "unit 1", "unit 2"]
