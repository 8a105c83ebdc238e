"""What a past evening would have promised: rivals by hand, and never a look at what came later."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.forecast.people import ROUTE, FixedPace, regular_weeks, small_army, worked
from tracker.domain.records import CellState, Declared, Goal, Mark, Model, Records, Session, Unit
from tracker.forecast.dates_promises import BEYOND_DAYS, Promise, minutes_a_day, promises_of
from tracker.forecast.dates_record import replay

DAY = date(2024, 1, 31)
WAITLESS = ("cleaning", "sanding")


def waitless(records: Records) -> Records:
    return records._replace(units=tuple(unit._replace(route=WAITLESS) for unit in records.units))


def test_constant_pace_by_hand() -> None:
    # Nine evenings of an hour from 2 to 30 January: 540 minutes in 30 days to the 31st, 18 a day.
    records = waitless(small_army([5, 5], regular_weeks(5))).as_of(DAY)
    assert minutes_a_day(records, DAY) == pytest.approx(540 / 30)
    first, second = promises_of(records, FixedPace(18.0), DAY, 1, 100)
    # Five models, two steps, 18 minutes each: 180 minutes, 10 days; with the unit before it 20.
    assert (first.constant_pace_days, second.constant_pace_days) == pytest.approx((10, 20))


def test_an_evening_that_was_not_timed_counts_as_the_mean_of_the_others() -> None:
    records = small_army([1], regular_weeks(1))
    untimed = (Session(9, date(2024, 1, 8)),)
    told = worked(records._replace(sessions=(*records.sessions, *untimed)), 1, "cleaning", [1], 9)
    assert minutes_a_day(told, date(2024, 1, 8)) == pytest.approx((60 + 60 + 60) / 7)
    assert minutes_a_day(small_army([1]), DAY) == 0.0


def test_without_an_evening_there_is_no_constant_pace() -> None:
    (only,) = promises_of(small_army([2]), FixedPace(), DAY, 1, 100)
    assert only.constant_pace_days is None


def test_a_promise_is_about_the_models_that_were_not_ready() -> None:
    records = waitless(small_army([3, 1], regular_weeks(4)))
    for step in WAITLESS:
        records = worked(worked(records, 1, step, [2], 3), 2, step, [4], 3)
    (only,) = promises_of(records, FixedPace(), DAY, 1, 100)
    assert (only.unit_id, only.model_ids, only.made_on) == (1, frozenset((1, 3)), DAY)
    assert list(only.days) == sorted(only.days)
    assert only.days[0] >= 1


def test_more_than_two_years_is_beyond() -> None:
    (only,) = promises_of(small_army([400], regular_weeks(4)), FixedPace(600.0), DAY, 1, 100)
    assert set(only.days) == {BEYOND_DAYS}
    assert only.constant_pace_days == BEYOND_DAYS


def test_only_hopes_that_were_told_and_lay_ahead_count() -> None:
    records = small_army([1, 1, 1, 1], regular_weeks(4))
    near, far, past = DAY + timedelta(days=20), DAY + timedelta(days=90), DAY - timedelta(days=1)
    dates = (far, past, None, None)
    units = tuple(u._replace(goal_date=day) for u, day in zip(records.units, dates, strict=True))
    goals = (
        Goal(1, "meeting", near, (1, 3), said_on=DAY),
        Goal(2, "told later", near, (4,), said_on=DAY + timedelta(days=1)),
        Goal(3, "some models", near, (4,), models=1, said_on=DAY),
    )
    made = promises_of(records._replace(units=units, goals=goals).as_of(DAY), FixedPace(), DAY, 1, 50)
    assert [promise.hoped_days for promise in made] == [20, None, 20, None]


def same(some: Sequence[Promise], others: Sequence[Promise]) -> bool:
    """Whether two replays promised the very same."""
    plain = [[(*p._replace(days=tuple(p.days)),) for p in each] for each in (some, others)]  # type: ignore[arg-type]
    return plain[0] == plain[1]


def past() -> Records:
    """A month in the middle of things."""
    records = small_army([3, 2], regular_weeks(4))
    records = worked(records, 1, "cleaning", [1, 2], 2)
    return worked(records, 1, "assembly", [1], 5)


@st.composite
def futures(draw: st.DrawFn) -> Records:
    """The same month, and anything after it: evenings, lines, marks, sales, units, plans and goals."""
    records = past()
    after = st.integers(1, 60).map(lambda days: DAY + timedelta(days=days))
    for number in range(draw(st.integers(1, 6))):
        session = Session(100 + number, draw(after), minutes=draw(st.floats(5, 300)))
        records = records._replace(sessions=(*records.sessions, session))
        records = worked(records, 1, draw(st.sampled_from(ROUTE)), [draw(st.integers(1, 3))], session.id)
    states: list[CellState] = ["done", "not yet", "skipped"]
    mark = Mark(1, 1, "priming", draw(st.sampled_from(states)), draw(after), after_line=len(records.lines))
    models = list(records.models)
    if draw(st.booleans()):
        place = draw(st.integers(0, 4))
        models[place] = models[place]._replace(left_on=draw(after), left_how="sold")
    new = Unit(9, 1, "later", added_on=draw(after), route=ROUTE)
    return records._replace(
        units=(*records.units, new),
        models=(*models, Model(50, 9, 1, added_on=new.added_on)),
        marks=(mark,),
        declared=(Declared(1, "away", draw(after), said_on=draw(after)),),
        goals=(Goal(1, "later", draw(after), (1,), said_on=draw(after)),),
    )


@settings(max_examples=25, deadline=None)
@given(futures())
def test_a_promise_never_looks_at_what_came_later(records: Records) -> None:
    then = [promises_of(some.as_of(DAY), FixedPace(10.0, 0.3), DAY, 1, 50) for some in (past(), records)]
    assert same(*then)


@settings(max_examples=3, deadline=None)
@given(futures())
def test_neither_does_the_pace_it_rests_on(records: Records) -> None:
    assert same(replay(past(), 1, 50)(DAY), replay(records, 1, 50)(DAY))
