"""Booking of minutes: by hand on tiny calendars, and what must never happen on any."""

from __future__ import annotations

from datetime import datetime, timedelta

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from tests.forecast.people import TUESDAY, small_army, worked
from tracker.domain.work import work_left
from tracker.forecast.evenings import EveningMinutes
from tracker.forecast.simulate import Calendar, Task, UnitTasks, simulate_ready_days, tasks_of

Floats = NDArray[np.float32]


def calendar(*days: float) -> Calendar:
    return Calendar(np.array([days], dtype=np.float32))


def ready(units: list[UnitTasks], minutes: list[list[float]], on: Calendar) -> list[int]:
    drawn = [np.array([row], dtype=np.float32) for row in minutes]
    return [int(day) for day in simulate_ready_days(units, drawn, on)[0]]


def chain(*waits: float) -> UnitTasks:
    return UnitTasks(tuple(Task((i - 1,) if i else (), hours) for i, hours in enumerate(waits)))


def test_one_step_is_ready_when_its_minutes_are_put_in() -> None:
    assert ready([chain(0)], [[100]], calendar(60, 0, 40, 60)) == [2]
    assert ready([chain(0)], [[101]], calendar(60, 0, 40, 60)) == [3]
    assert ready([chain(0)], [[161]], calendar(60, 0, 40, 60)) == [4]  # beyond the horizon


def test_a_wait_that_ends_before_the_next_evening_costs_only_the_rest_of_this_one() -> None:
    # 30 of 60 minutes on day 0, dry 8 hours later; the second step takes the whole of day 1.
    assert ready([chain(8, 0)], [[30, 60]], calendar(60, 60, 60)) == [1]
    assert ready([chain(0, 0)], [[30, 60]], calendar(60, 60, 60)) == [1]
    assert ready([chain(0, 0)], [[30, 30]], calendar(60, 60, 60)) == [0]
    assert ready([chain(0.3, 0)], [[30, 30]], calendar(60, 60, 60)) == [0]  # dries while others are painted


def test_a_long_wait_skips_evenings() -> None:
    # Half an hour into the evening plus 24 hours is after the start of tomorrow's: day 2.
    assert ready([chain(24, 0)], [[30, 60]], calendar(60, 60, 60, 60)) == [2]
    assert ready([chain(72, 0)], [[30, 60]], calendar(60, 60, 60, 60, 60)) == [4]
    assert ready([chain(720, 0)], [[30, 60]], calendar(60, 60, 60, 60, 60)) == [5]


def test_minutes_spent_waiting_go_to_the_next_unit() -> None:
    # Unit 1: 60, three days of drying, 60. Unit 2 has its 120 minutes while the first one dries.
    assert ready([chain(72, 0), chain(0)], [[60, 60], [120]], calendar(*[60] * 8)) == [4, 3]
    assert ready([chain(0, 0), chain(0)], [[60, 60], [120]], calendar(*[60] * 8)) == [1, 3]


def test_lines_beside_each_other_wait_only_for_what_they_need() -> None:
    # Line 1 and 2 both follow line 0; line 1 dries two days, line 2 does not wait for it.
    fork = UnitTasks((Task((), 0), Task((0,), 48), Task((0,), 0), Task((1, 2), 0)))
    assert ready([fork], [[30, 30, 60, 60]], calendar(60, 60, 60, 60, 60)) == [3]


def test_what_dries_already_sets_the_first_day() -> None:
    assert ready([UnitTasks((Task((), 0, earliest_day=2),))], [[10]], calendar(60, 60, 60, 60)) == [2]


def test_a_unit_without_work_is_ready_at_once() -> None:
    assert ready([UnitTasks(()), chain(0)], [[], [10]], calendar(60)) == [0, 0]


def test_tasks_of_records() -> None:
    evening = EveningMinutes(TUESDAY, 60.0)
    records = worked(small_army([2], [evening]), 1, "base texture", [1, 2], 1)
    (work,) = work_left(records)
    tasks = tasks_of(work, {"assembly": 5.0}, TUESDAY).tasks
    assert [line.step for line in work.lines] == [
        "cleaning",
        "assembly",
        "priming",
        "base colours",
        "varnish",
    ]
    assert [task.after for task in tasks] == [(), (0,), (0, 1), (2,), (2, 3)]
    assert tasks[1].wait_hours == 5.0
    # Texture of this evening, done at 22:00, dries 8 hours: priming from tomorrow evening on.
    assert [task.earliest_day for task in tasks] == [0, 0, 1, 0, 1]
    later = tasks_of(work._replace(dry_at={"base texture": datetime(2024, 1, 5, 20, 1)}), {}, TUESDAY)
    assert later.tasks[2].earliest_day == 4
    past = tasks_of(work, {}, TUESDAY + timedelta(days=9))
    assert past.tasks[2].earliest_day == 0


# --- whatever the calendar and the work: small whole minutes, so that float32 is exact ---


@st.composite
def projects(draw: st.DrawFn) -> tuple[list[UnitTasks], list[Floats], Floats]:
    """Some units of random precedence and waits, their minutes, and three calendars of 40 days."""
    paths = 3
    units, minutes = [], []
    for _ in range(draw(st.integers(1, 4))):
        tasks = []
        for place in range(draw(st.integers(1, 5))):
            after = draw(st.lists(st.integers(0, place - 1), unique=True, max_size=2)) if place else []
            wait = draw(st.sampled_from([0.0, 0.3, 2.0, 8.0, 24.0, 72.0]))
            tasks.append(Task(tuple(after), wait, draw(st.sampled_from([0, 0, 3]))))
        units.append(UnitTasks(tuple(tasks)))
        row = draw(st.lists(st.integers(1, 90), min_size=len(tasks) * paths, max_size=len(tasks) * paths))
        minutes.append(np.array(row, dtype=np.float32).reshape(paths, len(tasks)))
    days = draw(st.lists(st.sampled_from([0, 0, 30, 60, 95, 600]), min_size=40 * paths, max_size=40 * paths))
    return units, minutes, np.array(days, dtype=np.float32).reshape(paths, 40)


@settings(max_examples=150, deadline=None)
@given(projects(), st.data())
def test_nothing_that_costs_time_brings_a_date_forward(
    project: tuple[list[UnitTasks], list[Floats], Floats], data: st.DataObject
) -> None:
    units, minutes, days = project
    usual = simulate_ready_days(units, minutes, Calendar(days))
    unit = data.draw(st.integers(0, len(units) - 1))
    line = data.draw(st.integers(0, len(units[unit].tasks) - 1))

    more = [part.copy() for part in minutes]
    more[unit][:, line] += data.draw(st.integers(1, 200))
    assert (simulate_ready_days(units, more, Calendar(days)) >= usual).all()

    tasks = list(units[unit].tasks)
    tasks[line] = tasks[line]._replace(wait_hours=tasks[line].wait_hours + data.draw(st.integers(1, 100)))
    slower = [*units[:unit], UnitTasks(tuple(tasks)), *units[unit + 1 :]]
    assert (simulate_ready_days(slower, minutes, Calendar(days)) >= usual).all()

    fewer = days.copy()
    fewer[:, data.draw(st.integers(0, 39))] *= data.draw(st.sampled_from([0.0, 0.5]))
    assert (simulate_ready_days(units, minutes, Calendar(fewer)) >= usual).all()


@settings(max_examples=60, deadline=None)
@given(projects())
def test_a_unit_at_the_end_never_moves_an_earlier_one(
    project: tuple[list[UnitTasks], list[Floats], Floats],
) -> None:
    units, minutes, days = project
    every = simulate_ready_days(units, minutes, Calendar(days))
    without = simulate_ready_days(units[:-1], minutes[:-1], Calendar(days))
    assert np.array_equal(every[:, :-1], without)


@settings(max_examples=60, deadline=None)
@given(projects())
def test_never_more_finished_than_was_put_in(
    project: tuple[list[UnitTasks], list[Floats], Floats],
) -> None:
    units, minutes, days = project
    on = simulate_ready_days(units, minutes, Calendar(days))
    total = np.stack([part.sum(axis=1) for part in minutes], axis=1)
    put_in = days.cumsum(axis=1)
    for day in range(days.shape[1]):
        assert ((total * (on <= day)).sum(axis=1) <= put_in[:, day]).all()


@settings(max_examples=30, deadline=None)
@given(projects())
def test_day_of_is_the_first_day_with_the_minutes(
    project: tuple[list[UnitTasks], list[Floats], Floats],
) -> None:
    _, _, days = project
    done = days.cumsum(axis=1)
    wanted = np.maximum(done[:, 17], 1)
    expected = (done < wanted[:, None]).sum(axis=1)
    assert Calendar(days).day_of(wanted).tolist() == expected.tolist()
