"""What is declared of evenings to come: a prior for the dates, and never evidence."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np
import pytest

from tests.forecast.people import TUESDAY, FixedPace, regular_weeks, small_army
from tracker.domain.records import Declared, Records
from tracker.forecast.declared import intent_of
from tracker.forecast.futures import simulate_minutes
from tracker.forecast.outlook import forecast
from tracker.forecast.rhythm import fit_rhythm

AS_OF = TUESDAY + timedelta(weeks=4)
LATER = AS_OF + timedelta(days=1)
TWICE = Declared(1, "evenings", TUESDAY, rule="FREQ=WEEKLY;BYDAY=TU,TH", said_on=TUESDAY)


def middle(records: Records) -> date:
    (unit,) = forecast(records, FixedPace(30.0), AS_OF, draws=1000).units
    day = unit.ready[9]
    assert day is not None
    return day


def test_a_rule_is_a_plan_and_what_came_of_it_is_learned() -> None:
    intent = intent_of([TWICE], regular_weeks(4), AS_OF)
    assert intent.plan is not None
    assert intent.plan.days_a_week == 2.0
    assert [round(share, 2) for share in intent.plan.weekday_shares] == [0, 0.5, 0, 0.5, 0, 0, 0]
    assert intent.kept_share > 0.85  # 8 of 8 kept on top of 3 of 4
    missed = intent_of([TWICE], regular_weeks(1), AS_OF)
    assert missed.kept_share < 0.6
    # Nothing that was said afterwards was a plan before.
    late = intent_of([TWICE._replace(said_on=AS_OF)], regular_weeks(1), AS_OF)
    assert late.kept_share >= 0.6


def test_what_is_said_later_is_not_known_yet() -> None:
    assert intent_of([TWICE._replace(said_on=LATER)], (), AS_OF) == intent_of([], (), AS_OF)
    records = small_army([3], regular_weeks(4))
    told = records._replace(declared=(Declared(1, "away", LATER, LATER, said_on=LATER),))
    assert told.as_of(AS_OF).declared == ()


@pytest.mark.parametrize("days", [1, 7, 40])
def test_an_absence_never_brings_a_date_forward(days: int) -> None:
    records = small_army([3], regular_weeks(4))
    away = Declared(1, "away", LATER, LATER + timedelta(days=days), said_on=TUESDAY)
    assert middle(records._replace(declared=(away,))) >= middle(records)


def test_a_past_absence_is_no_dry_spell() -> None:
    records = small_army([3], regular_weeks(2))  # then two weeks without an evening
    away = Declared(1, "away", TUESDAY + timedelta(weeks=2), AS_OF, said_on=TUESDAY)
    assert middle(records._replace(declared=(away,))) < middle(records)


def test_fridays_away_do_not_tell_against_fridays() -> None:
    fridays = [TUESDAY + timedelta(days=3, weeks=week) for week in range(3)]
    rhythm = fit_rhythm(regular_weeks(4), AS_OF, away=fridays)
    factors = rhythm.weekday_factors
    plain = fit_rhythm(regular_weeks(4), AS_OF).weekday_factors
    # Shares of weekdays without an evening: one Friday instead of four speaks against Fridays.
    assert factors[4] / factors[2] > 1.5
    assert plain[4] / plain[2] == pytest.approx(1.0)
    assert factors.mean() == pytest.approx(1.0)


def test_a_single_evening_is_kept_as_often_as_plans_are() -> None:
    saturday = AS_OF + timedelta(days=(5 - AS_OF.weekday()) % 7)
    said = Declared(1, "once", saturday, minutes=180.0, said_on=AS_OF)
    intent = intent_of([said], (), AS_OF)
    rhythm = fit_rhythm(regular_weeks(4), AS_OF, once=intent.once, kept_share=intent.kept_share)
    minutes = simulate_minutes(rhythm, np.random.default_rng(1), 8000, 14)
    that_day = minutes[:, (saturday - rhythm.start).days]
    # (3 + kept) / (4 + planned) without any plan yet: 3 in 4 (worked by hand)
    assert (that_day > 0).mean() == pytest.approx(0.75, abs=0.02)
    assert np.median(that_day[that_day > 0]) == pytest.approx(180, rel=0.1)
    plain = simulate_minutes(fit_rhythm(regular_weeks(4), AS_OF), np.random.default_rng(1), 8000, 14)
    others = np.delete(np.arange(14), (saturday - rhythm.start).days)
    assert np.array_equal(minutes[:, others], plain[:, others])


def test_a_hobby_weekend_never_makes_a_date_later() -> None:
    records = small_army([3], regular_weeks(4))
    weekend = tuple(
        Declared(n, "once", AS_OF + timedelta(days=n), minutes=240.0, said_on=AS_OF) for n in (4, 5)
    )
    assert middle(records._replace(declared=weekend)) <= middle(records)


def test_a_day_away_beats_a_planned_one_and_exceptions_are_left_out() -> None:
    exceptions = TWICE._replace(without=(AS_OF + timedelta(days=2),))
    all_days = intent_of([TWICE], (), AS_OF).plan
    fewer = intent_of([exceptions], (), AS_OF).plan
    assert all_days is not None
    assert fewer is not None
    assert fewer.days_a_week < all_days.days_a_week
    once = Declared(2, "once", LATER, said_on=AS_OF)
    away = Declared(3, "away", LATER, LATER, said_on=AS_OF)
    assert intent_of([once, away], (), AS_OF).once == {}
