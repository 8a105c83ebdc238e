"""The track record of dates: by hand, without a look ahead, and of a person whose rhythm is steady."""

from __future__ import annotations

from datetime import date, timedelta
from math import log

import numpy as np
import pytest
from scipy.stats import binom

from tests.forecast.people import ROUTE, TUESDAY, regular_weeks, small_army
from tracker.domain.answers import LEVELS
from tracker.domain.records import Goal, Line, Mark, Model, Records, Session
from tracker.forecast.dates_outcomes import Closing
from tracker.forecast.dates_promises import BEYOND_DAYS, Promise
from tracker.forecast.dates_record import dates_record, judged, origins_of, replay
from tracker.pace.scores import coverage

MADE = date(2025, 1, 31)


def promise(unit: int, made_on: date = MADE, hoped_days: float | None = None) -> Promise:
    """Days are twice the level: 10 % by day 20, 50 % by day 100, 90 % by day 180."""
    days = 2.0 * np.array(LEVELS)
    return Promise(made_on, unit, frozenset({unit}), days, 80.0, hoped_days)


def closing(days: int, *, finished: bool = True) -> tuple[Closing, ...]:
    return (Closing(MADE + timedelta(days=days), finished),)


def test_a_record_by_hand() -> None:
    as_of = MADE + timedelta(days=200)
    made = [promise(1), promise(2, hoped_days=150.0), promise(3), promise(4)]
    made.append(promise(1, as_of - timedelta(days=179)))
    # On the middle; between the 75 and the 90 % date; not to this day; sold on day 50.
    ends = {1: closing(100), 2: closing(160), 4: closing(50, finished=False)}
    answer = judged(made, ends, as_of)
    assert (answer.forecasts, answer.units, answer.not_yet, answer.withdrawn) == (3, 3, 1, 1)
    assert [(held.percent, held.held) for held in answer.held] == [(50, 1), (80, 2)]
    assert (answer.early, answer.late, answer.never) == (0, 1, 1)
    assert answer.later_share == pytest.approx((0.5 + 1 + 1) / 3)
    assert answer.days_late == 60  # of 0, 60 and 101: what is not ready yet counts as the day after today
    constant, hoped = answer.rivals
    assert (constant.code, constant.forecasts, constant.nearer) == ("constant pace", 3, 0)
    assert constant.days_late == 80  # of 20, 80 and 121
    assert constant.rival_score == pytest.approx((log(100 / 80) + log(160 / 80) + log(201 / 80)) / 3)
    assert (hoped.code, hoped.forecasts, hoped.nearer, hoped.days_late) == ("hoped for", 1, 1, 10)
    # CRPS from quantiles: twice the mean pinball loss (Gneiting and Raftery 2007), here term by term.
    losses = [
        (log(y) - log(2 * level)) * (level / 100 - (y < 2 * level))
        for y in (100, 160, 201)
        for level in LEVELS
    ]
    assert answer.score == pytest.approx(2 * sum(losses) / len(losses))
    assert [doubt.code for doubt in answer.doubts] == ["few-units"]


def test_a_unit_late_before_it_was_sold_counts_as_late() -> None:
    answer = judged([promise(1)], {1: closing(190, finished=False)}, MADE + timedelta(days=400))
    assert (answer.forecasts, answer.withdrawn, answer.late) == (1, 0, 1)


def test_what_is_judged_hangs_on_what_was_known_alone() -> None:
    as_of = MADE + timedelta(days=180)
    for ends in ({}, {1: closing(1)}, {1: closing(179)}):
        assert judged([promise(1)], ends, as_of).forecasts == 1
        assert judged([promise(1)], ends, as_of - timedelta(days=1)).forecasts == 0


def test_luck_takes_each_unit_once() -> None:
    # Twenty outcomes, each forecast twice: limits of Bin(20, 0.8) from scipy, twice as many.
    found = coverage(np.ones(40), np.zeros(40), np.full(40, 2.0), 0.8, outcomes=20)
    assert (found.least, found.most) == tuple(2 * int(binom.ppf(tail, 20, 0.8)) for tail in (0.025, 0.975))
    alone = coverage(np.ones(40), np.zeros(40), np.full(40, 2.0), 0.8)
    assert (alone.least, alone.most) == tuple(int(binom.ppf(tail, 40, 0.8)) for tail in (0.025, 0.975))
    assert found.share_low < alone.share_low


def steady_life(seed: int, units: int = 15) -> Records:
    """Nearly every Tuesday and Thursday one step on four models, about an hour; unit after unit."""
    rng = np.random.default_rng(seed)
    records = small_army([4] * units)
    models: dict[int, list[int]] = {}
    for model in records.models:
        models.setdefault(model.unit_id or 0, []).append(model.id)
    sessions: list[Session] = []
    lines: list[Line] = []
    day = TUESDAY
    for unit in range(1, units + 1):
        for step in ROUTE:
            while day.weekday() not in {1, 3} or rng.random() > 0.85:
                day += timedelta(days=1)
            minutes = 60 * float(np.exp(0.3 * rng.standard_normal()))
            number = len(sessions) + 1
            sessions.append(Session(number, day, minutes=minutes))
            lines.append(Line(number, number, unit, step, 4, minutes, model_ids=tuple(models[unit])))
            day += timedelta(days=1)
    return records._replace(sessions=tuple(sessions), lines=tuple(lines))


@pytest.fixture(scope="module")
def steady() -> Records:
    return steady_life(5)


def test_a_steady_person_s_ranges_hold(steady: Records) -> None:
    as_of = steady.sessions[-1].date
    answer = dates_record(steady, as_of, draws=120)
    assert answer.forecasts > 12
    assert answer.units >= 8
    for held in answer.held:
        assert held.held >= held.least
    # Steady people get ranges that are rather too wide: others' breaks are not ruled out for them.
    assert answer.held[1].held / answer.forecasts > 0.75
    assert answer.rivals[0].code == "constant pace"
    assert dates_record(steady, as_of, draws=120) == answer


def test_the_replay_never_looks_ahead(steady: Records) -> None:
    day = TUESDAY + timedelta(weeks=20)
    said = replay(steady, 1, 100)(day)
    later = Session(9000, day + timedelta(days=1), minutes=500.0)
    changed = steady._replace(
        sessions=(*(s for s in steady.sessions if s.date <= day), later),
        lines=(
            *(line for line in steady.lines if steady.sessions[line.session_id - 1].date <= day),
            Line(9000, 9000, 13, ROUTE[0], 4, 500.0, model_ids=()),
        ),
        models=(
            *(model._replace(left_on=day + timedelta(days=9), left_how="sold") for model in steady.models),
            Model(9000, 14, 5, added_on=day + timedelta(days=1)),
        ),
        marks=(Mark(1, steady.models[-1].id, ROUTE[0], "done", day + timedelta(days=3)),),
        goals=(Goal(1, "later", day + timedelta(days=50), said_on=day + timedelta(days=1)),),
    )
    again = replay(changed, 1, 100)(day)
    assert len(said) == len(again) > 5
    for one, other in zip(said, again, strict=True):
        assert one._replace(days=None) == other._replace(days=None)  # type: ignore[arg-type]
        assert (one.days == other.days).all()


def test_what_comes_after_the_day_of_asking_changes_nothing(steady: Records) -> None:
    as_of = TUESDAY + timedelta(weeks=24)
    assert dates_record(steady, as_of, draws=60) == dates_record(steady.as_of(as_of), as_of, draws=60)


def test_month_ends_from_two_weeks_on_and_at_most_24() -> None:
    known = small_army([1], regular_weeks(2))  # from 2 January 2024
    assert origins_of(known, date(2024, 3, 31)) == [date(2024, 1, 31), date(2024, 2, 29)]
    assert origins_of(known, date(2024, 1, 31)) == []
    late = small_army([1], regular_weeks(2, date(2024, 1, 23)))
    assert origins_of(late, date(2024, 3, 1)) == [date(2024, 2, 29)]
    many = origins_of(known, date(2030, 1, 1))
    assert len(many) == 24
    assert (many[0], many[-1]) == (date(2024, 1, 31), date(2029, 12, 31))
    assert origins_of(small_army([1]), date(2024, 3, 31)) == []


def test_too_little_history_has_no_numbers() -> None:
    answer = dates_record(Records(), TUESDAY)
    assert (answer.forecasts, answer.held) == (0, ())
    assert [doubt.code for doubt in answer.doubts] == ["little-history"]
    assert BEYOND_DAYS > 730
