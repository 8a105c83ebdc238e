"""The outlook of units and armies from records."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np
import pytest

from tests.forecast.people import ROUTE, TUESDAY, FixedPace, regular_weeks, small_army, worked
from tracker.domain.records import Army, Records
from tracker.domain.work import work_left
from tracker.forecast.evenings import EveningMinutes
from tracker.forecast.outlook import date_quantiles, forecast, to_planned

WEEK_26 = TUESDAY + timedelta(weeks=26)


def finished(records: Records, unit_id: int, session_id: int) -> Records:
    mine = [model.id for model in records.models if model.unit_id == unit_id]
    for step in ROUTE:
        records = worked(records, unit_id, step, mine, session_id)
    return records


def test_dates_and_minutes_of_a_steady_painter() -> None:
    records = small_army([5, 5], regular_weeks(26))
    # Steps that need no drying, so that no minute is lost before the last one.
    waitless = tuple(unit._replace(route=("cleaning", "sanding")) for unit in records.units)
    answer = forecast(records._replace(units=waitless), FixedPace(30.0), WEEK_26, draws=4000)
    first, second = answer.units
    assert (first.army, first.unit, first.models, first.models_ready) == ("host", "unit 1", 5, 0)
    assert first.minutes_left == pytest.approx([300.0] * 19)
    # 600 minutes at an hour every Tuesday and Thursday: median 31 days from now on, see test_rhythm;
    # day 1 is today. The second unit ends when all 600 minutes are put in.
    assert second.ready[9] is not None
    assert abs((second.ready[9] - WEEK_26).days + 1 - 31) <= 1
    (host,) = answer.armies
    assert host.ready == second.ready
    assert host.minutes_left == pytest.approx([600.0] * 19)
    assert host.unit == ""


def test_quantiles_rise_and_units_follow_their_order() -> None:
    records = small_army([4, 8, 6], regular_weeks(6))
    answer = forecast(records, FixedPace(15.0, 0.5), TUESDAY + timedelta(weeks=6), draws=1000)
    for outlook in (*answer.units, *answer.armies):
        days = [day or date.max for day in outlook.ready]
        assert days == sorted(days)
        assert list(outlook.minutes_left) == sorted(outlook.minutes_left)
    assert [outlook.unit for outlook in answer.units] == ["unit 1", "unit 2", "unit 3"]
    assert len({outlook.ready for outlook in answer.units}) == 3


def test_same_seed_same_answer_and_one_call_of_the_pace() -> None:
    records, pace = small_army([4, 8], regular_weeks(6)), FixedPace(15.0, 0.5)
    as_of = TUESDAY + timedelta(weeks=6)
    one = forecast(records, pace, as_of, seed=4, draws=300)
    assert pace.calls == 1
    assert forecast(records, pace, as_of, seed=4, draws=300) == one
    assert forecast(records, pace, as_of, seed=5, draws=300) != one


def test_a_finished_unit_is_ready_on_the_day_of_its_last_step() -> None:
    records = finished(small_army([3, 2], regular_weeks(3)), 1, 4)
    answer = forecast(records, FixedPace(), TUESDAY + timedelta(weeks=3), draws=200)
    done = records.sessions[3].date
    assert answer.units[0].ready == (done,) * 19
    assert answer.units[0].minutes_left == (0.0,) * 19
    assert answer.units[0].models_ready == 3
    assert answer.armies[0].models_ready == 3
    assert answer.armies[0].ready == answer.units[1].ready


def test_everything_finished_needs_no_doubts() -> None:
    records = finished(small_army([3], regular_weeks(3)), 1, 4)
    answer = forecast(records, FixedPace(), TUESDAY + timedelta(weeks=3), draws=200)
    assert answer.doubts == ()
    assert answer.armies[0].ready == (records.sessions[3].date,) * 19


def test_nothing_at_all() -> None:
    answer = forecast(Records(armies=(Army(1, "host"),)), FixedPace(), TUESDAY, draws=50)
    assert (answer.units, answer.armies, answer.doubts) == ((), (), ())


def test_as_of_forgets_what_came_later() -> None:
    early = small_army([3, 2], regular_weeks(2))
    late = finished(small_army([3, 2], regular_weeks(9)), 1, 18)
    as_of = TUESDAY + timedelta(days=13)
    pace = FixedPace(12.0, 0.3)
    assert forecast(late, pace, as_of, draws=200) == forecast(early, pace, as_of, draws=200)


def test_chance_by_goal_is_the_share_of_paths() -> None:
    records = small_army([5, 5], regular_weeks(26))
    plain = forecast(records, FixedPace(10.0), WEEK_26, draws=2000)
    goal = plain.units[0].ready[13]  # the 70 % date
    assert goal is not None
    units = tuple(unit._replace(goal_date=goal) for unit in records.units)
    answer = forecast(records._replace(units=units), FixedPace(10.0), WEEK_26, draws=2000)
    assert 0.7 <= (answer.units[0].chance_by_goal or 0) < 0.95
    assert (answer.units[1].chance_by_goal or 0) <= (answer.units[0].chance_by_goal or 0)
    assert answer.armies[0].goal_date == goal  # all its units share it
    assert answer.armies[0].chance_by_goal == answer.units[1].chance_by_goal
    one_goal = (units[0], records.units[1])
    assert (
        forecast(records._replace(units=one_goal), FixedPace(), WEEK_26, draws=50).armies[0].goal_date is None
    )


def test_a_goal_in_the_past_has_no_chance() -> None:
    records = small_army([5], regular_weeks(26))
    past = (records.units[0]._replace(goal_date=TUESDAY),)
    assert (
        forecast(records._replace(units=past), FixedPace(), WEEK_26, draws=50).units[0].chance_by_goal == 0.0
    )


def test_dates_beyond_the_horizon_are_left_open() -> None:
    records = small_army([900], regular_weeks(26))
    answer = forecast(records, FixedPace(60.0), WEEK_26, draws=200)
    assert answer.units[0].ready == (None,) * 19
    assert "horizon" in {doubt.code for doubt in answer.doubts}


@pytest.mark.parametrize(
    ("evenings", "as_of", "codes"),
    [
        ([], TUESDAY, ["no-evenings", "not-given-up"]),
        (regular_weeks(1), TUESDAY + timedelta(days=7), ["rhythm", "not-given-up"]),
        (regular_weeks(3), TUESDAY + timedelta(days=21), ["not-given-up"]),
        (regular_weeks(3), TUESDAY + timedelta(days=300), ["dry-spell", "not-given-up"]),
    ],
)
def test_doubts(evenings: list[EveningMinutes], as_of: date, codes: list[str]) -> None:
    answer = forecast(small_army([1], evenings), FixedPace(1.0), as_of, draws=200)
    assert [doubt.code for doubt in answer.doubts if doubt.code != "horizon"] == codes


def test_a_unit_whose_models_all_left_has_no_outlook() -> None:
    records = small_army([2, 2], regular_weeks(3))
    gone = tuple(
        m._replace(left_on=TUESDAY, left_how="sold") if m.unit_id == 1 else m for m in records.models
    )
    answer = forecast(records._replace(models=gone), FixedPace(), TUESDAY + timedelta(weeks=3), draws=50)
    assert [outlook.unit for outlook in answer.units] == ["unit 2"]


def test_planned_lines_say_what_the_pace_needs() -> None:
    records = worked(small_army([4], regular_weeks(1)), 1, "cleaning", [1, 2, 3], 1)
    lines = to_planned(work_left(records)[0], records)
    assert (lines[0].army, lines[0].unit, lines[0].step, lines[0].models) == ("host", "unit 1", "cleaning", 1)
    assert lines[0].done_before == 3
    assert [line.models for line in lines[1:]] == [4] * 5


def test_a_date_quantile_is_an_order_statistic() -> None:
    days = np.arange(1, 21, dtype=np.int32)  # 5 % of 20 paths = the first, 95 % = the 19th
    found = date_quantiles(days, TUESDAY, 19)
    assert found[0] == TUESDAY + timedelta(days=1)
    assert found[9] == TUESDAY + timedelta(days=10)
    assert found[17] == TUESDAY + timedelta(days=18)
    assert found[18] is None
