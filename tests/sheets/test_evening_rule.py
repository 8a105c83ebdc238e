"""Plain words for recurring evenings as RFC 5545 rules, and back."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tracker.domain.problems import Problem
from tracker.forecast.evenings import declared_days
from tracker.sheets.evening_rule import read_rule, rule_words


@pytest.mark.parametrize(
    ("said", "rule"),
    [
        ("every Tuesday and Thursday", "FREQ=WEEKLY;BYDAY=TU,TH"),
        ("tue, thu", "FREQ=WEEKLY;BYDAY=TU,TH"),
        ("Thursdays and Tuesdays", "FREQ=WEEKLY;BYDAY=TU,TH"),
        ("weekends", "FREQ=WEEKLY;BYDAY=SA,SU"),
        ("every weekday evening", "FREQ=WEEKLY;BYDAY=MO,TU,WE,TH,FR"),
        ("every day", "FREQ=WEEKLY;BYDAY=MO,TU,WE,TH,FR,SA,SU"),
        ("every other Friday", "FREQ=WEEKLY;INTERVAL=2;BYDAY=FR"),
        ("every second friday", "FREQ=WEEKLY;INTERVAL=2;BYDAY=FR"),
        ("first Saturday of the month", "FREQ=MONTHLY;BYDAY=1SA"),
        ("the last sunday of every month", "FREQ=MONTHLY;BYDAY=-1SU"),
        ("RRULE:freq=monthly;bymonthday=1,-1", "FREQ=MONTHLY;BYMONTHDAY=1,-1"),
    ],
)
def test_words_mean_a_rule(said: str, rule: str) -> None:
    assert read_rule(said) == rule


@pytest.mark.parametrize("said", ["", "soon", "t", "every moon", "every month", "tuesday " * 100])
def test_what_is_not_understood_is_one_problem(said: str) -> None:
    read = read_rule(said)
    assert isinstance(read, Problem)
    assert read.mend.startswith("Write it like")


@given(
    st.sets(st.sampled_from(["MO", "TU", "WE", "TH", "FR", "SA", "SU"]), min_size=1),
    st.sampled_from(["", "INTERVAL=2;"]),
)
def test_a_plain_rule_in_words_means_itself_again(days: set[str], interval: str) -> None:
    order = ["MO", "TU", "WE", "TH", "FR", "SA", "SU"]
    rule = f"FREQ=WEEKLY;{interval}BYDAY={','.join(sorted(days, key=order.index))}"
    assert read_rule(rule_words(rule)) == rule


@pytest.mark.parametrize(
    "rule", ["FREQ=MONTHLY;BYDAY=2TU", "FREQ=MONTHLY;BYDAY=-1SA", "FREQ=MONTHLY;BYDAY=4MO"]
)
def test_a_day_of_the_month_in_words_means_itself_again(rule: str) -> None:
    assert read_rule(rule_words(rule)) == rule


@pytest.mark.parametrize(
    "rule",
    ["FREQ=DAILY;INTERVAL=10", "FREQ=WEEKLY;COUNT=10;BYDAY=TU", "FREQ=MONTHLY;BYDAY=1SU,-1SU", "FREQ=X"],
)
def test_any_other_rule_is_told_as_it_stands(rule: str) -> None:
    assert rule_words(rule) == rule


@pytest.mark.parametrize(
    ("said", "start", "days"),
    [
        # RFC 5545, 3.8.5.3: "Weekly on Tuesday and Thursday for five weeks", "Every other week on Tuesday
        # and Thursday", "Monthly on the first Friday", from their DTSTART on; first days of each.
        ("every Tuesday and Thursday", date(1997, 9, 2), ["09-02", "09-04", "09-09", "09-11", "09-16"]),
        ("every other Tuesday and Thursday", date(1997, 9, 2), ["09-02", "09-04", "09-16", "09-18", "09-30"]),
        ("first Friday of the month", date(1997, 9, 5), ["09-05", "10-03", "11-07", "12-05"]),
    ],
)
def test_the_words_give_the_days_of_the_standards_examples(said: str, start: date, days: list[str]) -> None:
    rule = read_rule(said)
    assert isinstance(rule, str)
    found = declared_days(rule, start, date(1997, 12, 31))
    assert [day.strftime("%m-%d") for day in found[: len(days)]] == days
