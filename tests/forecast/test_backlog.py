"""The backlog's course by hand and against progress day by day; its projected end."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.forecast.people import ROUTE, TUESDAY, FixedPace, regular_weeks, small_army, worked
from tracker.domain.progress import finish_steps, progress_of
from tracker.domain.records import CellState, Mark, Model, Records, Unit
from tracker.forecast.arrivals import Arrivals, Lot, learn_arrivals, simulate_arrivals
from tracker.forecast.backlog import backlog
from tracker.forecast.course import backlog_course

COSTS = {(unit, step): 10.0 for unit in range(1, 9) for step in ROUTE}


def bought(records: Records, weeks: list[int], models: int, route: tuple[str, ...] = ROUTE) -> Records:
    """The records with another unit of so many models in each of those weeks."""
    for week in weeks:
        number = len(records.units) + 1
        day = TUESDAY + timedelta(weeks=week)
        unit = Unit(number, 1, f"unit {number}", added_on=day, order=number, route=route)
        first = len(records.models) + 1
        new = tuple(Model(first + i, number, i + 1, added_on=day) for i in range(models))
        records = records._replace(units=(*records.units, unit), models=(*records.models, *new))
    return records


def test_course_by_hand() -> None:
    records = small_army([2], regular_weeks(3))
    for step in ROUTE[:-1]:
        records = worked(records, 1, step, [1, 2], 2)
    records = worked(records, 1, ROUTE[-1], [1], 3)
    records = records._replace(
        models=(records.models[0], records.models[1]._replace(left_on=date(2024, 2, 1), left_how="sold")),
    )
    first, second, third, last = backlog_course(records, COSTS)
    assert first[:6] == (TUESDAY, 2, 120.0, 2, 0, 0)
    assert second[:6] == (date(2024, 1, 4), 2, 20.0, 0, 0, 0)
    assert third[:6] == (date(2024, 1, 9), 1, 10.0, 0, 1, 0)
    assert last[:6] == (date(2024, 2, 1), 0, 0.0, 0, 0, 1)


def test_leavings_are_told_apart_and_points_are_left_while_a_model_is_open() -> None:
    records = small_army([3, 2], regular_weeks(2))
    units = (records.units[0]._replace(points=90.0), records.units[1]._replace(points=40.0))
    records = records._replace(units=units)
    for step in ROUTE:
        records = worked(records, 1, step, [1], 3)
    went = {2: "sold", 3: "given away", 4: "broken", 5: ""}
    models = tuple(
        m._replace(left_on=date(2024, 2, m.id), left_how=went[m.id]) if m.id in went else m
        for m in records.models
    )
    course = backlog_course(records._replace(models=models), COSTS)
    # By hand: five come in, one is finished, then one leaves on each of four days, each in its own way.
    assert [(day.models, day.points) for day in course] == [
        (5, 130.0), (4, 130.0), (3, 130.0), (2, 40.0), (1, 40.0), (0, 0.0),
    ]  # fmt: skip
    ways = [(day.taken_away, day.sold, day.given_away, day.broken) for day in course]
    assert ways == [(0,) * 4, (0,) * 4, (1, 1, 0, 0), (1, 0, 1, 0), (1, 0, 0, 1), (1, 0, 0, 0)]


def test_spares_are_no_backlog_and_finished_models_that_leave_are_not_taken_away() -> None:
    records = small_army([1], regular_weeks(1))
    for step in ROUTE:
        records = worked(records, 1, step, [1], 1)
    sold = records.models[0]._replace(left_on=date(2024, 3, 1), left_how="sold")
    spare = Model(9, None, 1, added_on=TUESDAY)
    course = backlog_course(records._replace(models=(sold, spare)), COSTS)
    assert course[0][:6] == (TUESDAY, 0, 0.0, 1, 1, 0)
    assert course[-1][:6] == (date(2024, 3, 1), 0, 0.0, 0, 0, 0)


def test_a_step_taken_back_opens_the_model_again() -> None:
    records = small_army([1], regular_weeks(1))
    for step in ROUTE:
        records = worked(records, 1, step, [1], 1)
    mark = Mark(1, 1, "varnish", "not yet", date(2024, 1, 20), after_line=len(ROUTE))
    course = backlog_course(records._replace(marks=(mark,)), COSTS)
    assert course[-1][:6] == (date(2024, 1, 20), 1, 10.0, 1, 0, 0)


@st.composite
def histories(draw: st.DrawFn) -> Records:
    """Two units, evenings in any order, marks, models that come late and leave."""
    records = bought(small_army([2, 2], regular_weeks(4)), [2], 2)
    records = records._replace(units=tuple(unit._replace(points=10.0 * unit.id) for unit in records.units))
    every = len(records.models)
    steps = st.sampled_from(ROUTE)
    for _ in range(draw(st.integers(0, 25))):
        model = draw(st.integers(1, every))
        unit = records.models[model - 1].unit_id or 0
        if draw(st.booleans()):
            records = worked(records, unit, draw(steps), [model], draw(st.integers(1, 8)))
        else:
            states: list[CellState] = ["not yet", "done", "skipped", "in hand"]
            state = draw(st.sampled_from(states))
            day = TUESDAY + timedelta(days=draw(st.integers(0, 27)))
            mark = Mark(
                len(records.marks) + 1, model, draw(steps), state, day, after_line=len(records.lines)
            )  # fmt: skip
            records = records._replace(marks=(*records.marks, mark))
    for model in draw(st.lists(st.integers(0, every - 1), unique=True, max_size=2)):
        gone = records.models[model]._replace(left_on=TUESDAY + timedelta(days=draw(st.integers(15, 40))))
        records = records._replace(
            models=(*records.models[:model], gone, *records.models[model + 1 :])
        )  # fmt: skip
    return records


@settings(max_examples=120, deadline=None)
@given(histories())
def test_the_course_ends_where_progress_says_and_its_books_balance(records: Records) -> None:
    course = backlog_course(records, COSTS)
    before = 0
    for day in course:
        assert day.models == before + day.added - day.finished - day.taken_away
        assert day.models >= 0
        before = day.models
    progress = progress_of(records)
    steps = finish_steps(records.units[0])
    alive = [m for m in records.models if m.left_on is None]
    left = [[step for step in steps if not progress.is_done(m.id, step)] for m in alive]
    assert course[-1].models == sum(bool(open_steps) for open_steps in left)
    assert course[-1].minutes == pytest.approx(10.0 * sum(map(len, left)))
    assert [day.date for day in course] == sorted({day.date for day in course})
    still = {m.unit_id for m, open_steps in zip(alive, left, strict=True) if open_steps}
    assert course[-1].points == sum(unit.points or 0 for unit in records.units if unit.id in still)


def test_a_shrinking_backlog_has_an_end() -> None:
    records = small_army([5], regular_weeks(26))
    answer = backlog(records, FixedPace(10.0), TUESDAY + timedelta(weeks=26), draws=500)
    assert answer.end is not None
    assert answer.end[9] is not None
    assert answer.end[9] > TUESDAY + timedelta(weeks=27)
    assert answer.reason == ""
    assert answer.days[0].minutes == pytest.approx(5 * 6 * 10.0)


def test_a_growing_backlog_says_so_in_words() -> None:
    records = bought(small_army([5], regular_weeks(26)), list(range(1, 26)), 10)
    answer = backlog(records, FixedPace(10.0), TUESDAY + timedelta(weeks=26), draws=500)
    assert answer.end is None
    assert answer.reason.startswith("at this rate it does not shrink: about ")
    assert " come in a week and " in answer.reason or " come in a month and " in answer.reason


def test_an_end_beyond_the_horizon_says_so() -> None:
    records = small_army([500], regular_weeks(26))
    answer = backlog(records, FixedPace(60.0), TUESDAY + timedelta(weeks=26), draws=200)
    assert answer.end is None
    assert answer.reason


def test_an_empty_backlog_ends_today() -> None:
    answer = backlog(Records(), FixedPace(), TUESDAY, draws=50)
    assert answer.end == (TUESDAY,) * 19
    assert answer.days == ()


def test_more_purchases_never_bring_the_end_forward() -> None:
    as_of = TUESDAY + timedelta(weeks=26)
    few = bought(small_army([5], regular_weeks(26)), [5, 10, 15], 1)
    many = bought(small_army([5], regular_weeks(26)), [5, 10, 15], 3)
    ends = [backlog(records, FixedPace(5.0), as_of, draws=500).end for records in (few, many)]
    assert ends[0] is not None
    assert ends[1] is not None
    assert all((one or date.max) <= (other or date.max) for one, other in zip(ends[0], ends[1], strict=True))


def test_same_seed_same_backlog() -> None:
    records = bought(small_army([5, 3], regular_weeks(9)), [3, 4], 2)
    as_of = TUESDAY + timedelta(weeks=9)
    one = backlog(records, FixedPace(5.0, 0.4), as_of, seed=2, draws=200)
    assert backlog(records, FixedPace(5.0, 0.4), as_of, seed=2, draws=200) == one


def test_arrivals_are_learned_from_what_came_after_the_first_day() -> None:
    records = bought(small_army([5], regular_weeks(30)), [4, 8, 12, 16], 10)
    found = learn_arrivals(records, TUESDAY + timedelta(weeks=26))
    assert (found.shape, found.weeks) == (1 + 4, 13 + 26)
    assert found.lots == tuple(Lot(unit, 10) for unit in (2, 3, 4, 5))
    assert found.models_a_week == pytest.approx(10 * 5 / 39)
    assert learn_arrivals(Records(), TUESDAY).models_a_week == 0.0
    stock = learn_arrivals(small_army([5], regular_weeks(3)), TUESDAY + timedelta(weeks=3))
    assert (stock.shape, stock.weeks, stock.lots) == (1, 16, (Lot(1, 5),))


def test_simulated_arrivals_follow_the_gamma_poisson_rule() -> None:
    # Rate posterior Gamma(15, 6 weeks), next 4 weeks ~ NB(15, .6): mean 10, variance 16.666667,
    # P(0) .00047018, P(<= 5) .125599 (scipy nbinom).
    arrivals = Arrivals(15, 6, (Lot(1, 1),))
    came = simulate_arrivals(arrivals, np.ones((1, 1)), np.random.default_rng(1), (40_000, 28))[:, -1]
    assert came.mean() == pytest.approx(10, abs=0.1)
    assert came.var() == pytest.approx(16.666667, rel=0.04)
    assert (came <= 5).mean() == pytest.approx(0.125599, abs=0.006)
