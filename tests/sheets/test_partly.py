"""Sentences that leave something out, and evenings of several lines. Common practice, no source."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tracker.domain.steps import CATALOGUE
from tracker.sheets.partly import ModelName, Reading, read_partly, split_evening
from tracker.sheets.sentence import UnitName

TODAY = date(2026, 3, 10)
UNITS = (UnitName("Spears"), UnitName("Riders"), UnitName("7th Guard"), UnitName("Bows", "North"),
         UnitName("Bows", "South"))  # fmt: skip
NAMED = (ModelName("Riders", "My army", "Old Tom"), ModelName("Spears", "My army", "Banner"))


def read(text: str) -> Reading:
    return read_partly(text, UNITS, list(CATALOGUE), TODAY, models=NAMED)


@pytest.mark.parametrize(
    ("text", "unit", "step"),
    [
        ("50 min", "", ""),
        ("10 spears, 50 min", "Spears", ""),
        ("primed 15 min", "", "priming"),
        ("prmed 15 min", "", "priming"),
        ("spers", "Spears", ""),
        ("7th guard 20 min", "7th Guard", ""),
        ("primed 3 spears", "Spears", "priming"),
        ("primed Old Tom", "Riders", "priming"),
        ("Banner 10 min", "Spears", ""),
        ("yesterday, not finished", "", ""),
    ],
)
def test_what_is_said_is_read_and_the_rest_left_out(text: str, unit: str, step: str) -> None:
    reading = read(text)
    assert reading.problem is None
    assert (reading.read.unit, reading.read.step) == (unit, step)


def test_a_named_model_is_one_model() -> None:
    reading = read("highlights on Old Tom, 30 min")
    assert (reading.names, reading.read.models, reading.read.minutes) == (("Old Tom",), 1, 30)


@pytest.mark.parametrize(
    ("text", "numbers"),
    [
        ("primed spears #3", (3,)),
        ("primed spears #1-3, 7, 20 min", (1, 2, 3, 7)),
        ("primed spears numbers 2 and 5", (2, 5)),
        ("primed spears no. 4, 20 min", (4,)),
        ("primed 3 spears", ()),
    ],
)
def test_models_by_number(text: str, numbers: tuple[int, ...]) -> None:
    assert read(text).read.numbers == numbers


def test_numbers_that_cannot_be() -> None:
    for text in ("primed spears #0", "primed 2 spears #1-3"):
        assert read(text).problem is not None


def test_what_may_be_meant_stands_beside_what_is_unclear() -> None:
    reading = read("bows, 20 min")
    assert "North" in str(reading.problem)
    assert [unit.army for unit in reading.units] == ["North", "South"]
    assert read("washed 20 min").steps == ("shade", "washing")
    assert read("primed qqqq").problem is not None
    assert read("10 spears 20 riders").problem is not None


@pytest.mark.parametrize(
    ("text", "lines", "total"),
    [
        ("primed 3 spears, 20 min", ("primed 3 spears, 20 min",), None),
        ("primed 3 spears; washed 2 riders; 2 h in all", ("primed 3 spears", "washed 2 riders"), 120),
        ("primed 3 spears\nwashed 2 riders, total 90 min", ("primed 3 spears", "washed 2 riders"), 90),
        ("altogether 1h30", (), 90),
        ("45 min total", (), 45),
        ("primed all spears", ("primed all spears",), None),
        ("primed 2; note: rain; stopped", ("primed 2 note: rain; stopped",), None),
        ("primed 2, note: total 3 h", ("primed 2, note: total 3 h",), None),
        (" ; ;\n", (), None),
    ],
)
def test_an_evening_is_split_and_its_total_taken_out(
    text: str, lines: tuple[str, ...], total: float | None
) -> None:
    evening = split_evening(text)
    assert evening.problem is None
    assert tuple(line.rstrip(" ,") for line in evening.lines) == lines
    assert evening.total_minutes == total


def test_two_totals_are_one_too_many() -> None:
    assert split_evening("2 h in all; total 90 min").problem is not None
    assert split_evening("primed 3; 2 h in all, total 90 min").problem is not None
    assert split_evening("30 h in all").problem is not None


@settings(max_examples=150, deadline=None)
@given(st.text(max_size=80) | st.lists(
    st.sampled_from(["primed", "spears", "10", "50 min", "#3-5", "in all", "2 h", ";", "note:", "\n", "tom"])
).map(" ".join))  # fmt: skip
def test_no_text_breaks_it(text: str) -> None:
    for line in split_evening(text).lines:
        assert isinstance(read(line), Reading)


@pytest.mark.parametrize(
    ("said", "day"),
    [
        ("cleaned 5 spears, 40 min yestrday", date(2026, 3, 9)),
        ("cleaned 5 spears, 40 min on tusday", date(2026, 3, 10)),
        ("cleaned 5 spears about 40 min tonigth", date(2026, 3, 10)),
    ],
)
def test_a_mistyped_day_is_put_right(said: str, day: date) -> None:
    reading = read_partly(said, UNITS, list(CATALOGUE), TODAY)
    assert reading.problem is None
    assert (reading.read.unit, reading.read.step, reading.read.day) == ("Spears", "cleaning", day)


def test_a_word_that_is_no_day_stays_a_problem_and_a_note_is_left_alone() -> None:
    assert read("cleaned 5 spears zzzzz").problem is not None
    said = read("cleaned 5 spears tusday note: yestrday")
    assert said.read.note == "yestrday"
