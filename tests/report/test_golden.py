"""Exact text of small answers; to accept a new wording, write the new text into tests/golden/."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.report import samples
from tracker.domain.answers import BacklogAnswer, ForecastAnswer, GuessesAnswer, GuessesOfStep, PaceAnswer
from tracker.domain.ready import ReadyAnswer
from tracker.report.charts import DateRange, course, range_bars
from tracker.report.pace_words import (
    bias_words,
    guesses_lines,
    rival_words,
    track_record_text,
    trust_words,
    why_text,
)
from tracker.report.tonight import ready_text
from tracker.report.words import (
    NOTHING_PLANNED,
    backlog_text,
    end_words,
    estimate_text,
    forecast_text,
    pace_text,
)

GOLDEN = Path(__file__).parent.parent / "golden"
TEXTS = {
    "forecast.txt": lambda: forecast_text(samples.forecast()),
    "forecast_plain.txt": lambda: forecast_text(samples.forecast(), plain=True),
    "forecast_hostile.txt": lambda: forecast_text(samples.forecast(samples.HOSTILE)),
    "pace.txt": lambda: pace_text(samples.pace()),
    "estimate.txt": lambda: estimate_text(samples.estimate()),
    "estimate_guessed.txt": lambda: estimate_text(samples.guessed_estimate()),
    "backlog.txt": lambda: backlog_text(samples.backlog()),
    "backlog_plain.txt": lambda: backlog_text(samples.backlog(), plain=True),
    "backlog_growing.txt": lambda: backlog_text(samples.growing_backlog()),
    "why.txt": lambda: why_text(samples.why()),
    "track_record.txt": lambda: track_record_text(samples.record()),
    "ready.txt": lambda: ready_text(samples.ready()),
}


@pytest.mark.parametrize("name", TEXTS)
def test_text(name: str) -> None:
    assert TEXTS[name]() + "\n" == (GOLDEN / name).read_text(encoding="utf-8")


def test_plain_texts_are_ascii_but_for_names() -> None:
    assert forecast_text(samples.forecast(), plain=True).isascii()
    assert backlog_text(samples.backlog(), plain=True).isascii()


def test_nothing_planned_is_said_kindly() -> None:
    day = samples.TODAY
    assert forecast_text(ForecastAnswer(day, (), ())) == NOTHING_PLANNED
    assert backlog_text(BacklogAnswer(day, (), None)) == NOTHING_PLANNED
    assert ready_text(ReadyAnswer(samples.NOW, (), (), 0, has_units=False)) == NOTHING_PLANNED
    assert "No step" in pace_text(PaceAnswer(day, ()))
    assert "table-ready" in ready_text(ReadyAnswer(samples.NOW, (), (), 0, has_units=True))


def test_when_everything_dries_it_says_so() -> None:
    text = ready_text(samples.ready()._replace(ready=()))
    assert text.startswith("Nothing is ready this moment")
    assert "Drying: Riders, varnish of 8 models from 23:30." in text


def test_ends_in_words() -> None:
    answer = samples.backlog()
    assert end_words(answer).endswith("lies beyond what it sees.")
    known = answer._replace(end=samples.dates(60, 2))
    assert end_words(known).endswith("9 in 10 by 2 Feb 2027.")
    assert "may well take longer" in end_words(answer._replace(end=samples.dates(60, 2, 5)))
    assert "Hardly empty within" in end_words(answer._replace(end=samples.dates(60, 2, 0)))
    assert end_words(answer._replace(end=None, reason="Too much comes in.")) == "Too much comes in."
    done = answer._replace(days=(*answer.days, answer.days[-1]._replace(models=0)))
    assert "everything on the desk is table-ready" in end_words(done)


def test_one_guessed_line_has_no_total() -> None:
    answer = samples.guessed_estimate()
    text = estimate_text(answer._replace(lines=answer.lines[:1]))
    assert "Your guess" in text
    assert "All together" not in text
    assert max(map(len, text.splitlines())) <= 80


def test_what_a_track_record_is_trusted_for() -> None:
    record = samples.record()
    narrow, wide = record.held
    seldom = record._replace(held=(narrow._replace(held=13), wide))
    often = record._replace(held=(narrow, wide._replace(held=38)))
    nearer = record._replace(rivals=(record.rivals[0], record.rivals[1]._replace(nearer=7)))
    assert "add a margin" in trust_words(seldom)
    assert "safe side" in trust_words(often)
    assert "go on guessing" in trust_words(nearer)
    assert trust_words(record) == "The ranges hold as often as they say."
    assert bias_words(0.8) == "In the middle it took 20 % less than estimated."
    assert "neither" in bias_words(1.004)
    worse = record.rivals[0]._replace(score=0.33)
    assert "missed by 10 % more" in rival_words(worse)


def test_a_factor_that_is_hardly_one_is_left_unsaid() -> None:
    answer = samples.why()
    assert "plastic" not in why_text(answer)
    trade = why_text(answer._replace(source="trade", lines=0))
    assert trade.splitlines()[2].startswith("The trade's base colours")
    assert max(map(len, why_text(answer._replace(unit="x" * 500)).splitlines())) <= 80


def test_guesses_in_words() -> None:
    steps = (GuessesOfStep("highlights", 6, 1.8), GuessesOfStep("shade", 5, 0.9))
    words = " ".join(guesses_lines(GuessesAnswer(31, 0.4, 1.3, steps)))
    assert words == (
        "Your guesses (31): kept to the minute 4 times in 10; else it took about 1.3 times as long. "
        "Guessed shortest: highlights (1.8 times as long)."
    )
    assert "Guessed shortest" not in " ".join(guesses_lines(GuessesAnswer(31, 0.4, 1.3, steps[1:])))
    assert guesses_lines(None) == []


def test_charts_of_nothing_are_nothing() -> None:
    assert range_bars([], samples.TODAY) == []
    assert course([], samples.TODAY) == []


def test_a_bar_beyond_the_horizon_ends_in_an_arrow() -> None:
    bar = DateRange("Spears", (samples.TODAY, None, None, None, None))
    first, _axis = range_bars([bar], samples.TODAY, 40)
    assert first.endswith("→")
    assert "●" not in first


def test_something_left_is_never_drawn_as_nothing() -> None:
    points = [(samples.TODAY.replace(year=2025), 1000.0), (samples.TODAY.replace(month=7), 0.5)]
    lines = course(points, samples.TODAY, 40, 4)
    assert "▁" in lines[3]
    assert max(map(len, lines)) <= 40
