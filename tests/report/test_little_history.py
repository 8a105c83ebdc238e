"""Below two weeks of history a range is told in words, and no single date."""

from __future__ import annotations

from datetime import timedelta

import pytest

from tests.report import samples
from tests.report.samples import TODAY
from tracker.domain.answers import Doubt, ForecastAnswer
from tracker.domain.standings import ArmyAnswer, StepLeft, UnitStanding
from tracker.report.army_text import army_text
from tracker.report.fan import fan_text
from tracker.report.little_history import TOO_EARLY_NOTE, ahead_words, may_name_a_day
from tracker.report.plain import at_level, date_words
from tracker.report.screens.army_page import army_lines
from tracker.report.screens.dates_page import dates_lines
from tracker.report.words import backlog_text, forecast_text

DAYS = 400
"""Further than any sample's last date."""


def early(code: str = "rhythm") -> ForecastAnswer:
    """The sample's dates, known from less than two weeks."""
    return samples.forecast()._replace(doubts=(Doubt(code, "Little is known."),))


def middles(answer: ForecastAnswer) -> list[str]:
    open_units = [unit for unit in (*answer.units, *answer.armies) if unit.models_ready < unit.models]
    return [date_words(day) for unit in open_units if (day := at_level(unit.ready, 50))]


@pytest.mark.parametrize(
    ("low", "high", "words"),
    [
        (0, 0, "today"),
        (0, 5, "within 5 days"),
        (1, 13, "between 1 day and 13 days"),
        (21, 213, "between 3 weeks and 7 months"),
        (14, 62, "between 2 weeks and 9 weeks"),
        (63, 70, "between 9 weeks and 2 months"),
        (30, 31, "in about 4 weeks"),
        (91, DAYS, "between 3 months and 13 months"),
    ],
)
def test_a_range_is_told_as_far_as_it_is_known(low: int, high: int, words: str) -> None:
    assert ahead_words(TODAY + timedelta(days=low), TODAY + timedelta(days=high), TODAY) == words


def test_a_range_with_an_open_end() -> None:
    assert ahead_words(TODAY + timedelta(days=21), None, TODAY) == "in 3 weeks or later"
    assert ahead_words(None, None, TODAY) == "far off"


@pytest.mark.parametrize("code", ["rhythm", "no-evenings"])
def test_no_single_date_is_told_of_few_evenings(code: str) -> None:
    answer = early(code)
    assert may_name_a_day(samples.forecast())
    assert not may_name_a_day(answer)
    text = forecast_text(answer)
    screen = "\n".join(line.text for line in dates_lines(answer, 100))
    for said in (text, screen):
        assert "between" in said
        assert TOO_EARLY_NOTE in " ".join(said.split())
        assert "Middle" not in said
        assert "●" not in said
        assert not any(day in said for day in middles(answer))
    assert any(day in forecast_text(samples.forecast()) for day in middles(answer))
    assert "Too few evenings" in fan_text(answer)


def test_the_army_is_told_without_a_middle() -> None:
    standing = UnitStanding("Host", "Spears", "infantry", 1, 20, 0, (StepLeft("priming", 20),))
    answer = ArmyAnswer(TODAY, (standing,), 0)
    wide = "\n".join(line.text for line in army_lines(answer, early(), 140))
    assert not any(day in wide for day in middles(early()))
    assert middles(early())[0] in "\n".join(line.text for line in army_lines(answer, samples.forecast(), 140))
    said = " ".join(army_text(answer, early(), 80).split())
    assert "table-ready between 4 days and 3 weeks." in said


def test_the_end_of_the_backlog_is_told_as_a_range() -> None:
    backlog = samples.backlog()._replace(doubts=(Doubt("rhythm", "Little is known."),))
    said = " ".join(backlog_text(backlog).split())
    assert "Until it is empty: in 2 months or later; no single date" in said
