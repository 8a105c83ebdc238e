"""Words for quantities, and tables that fit whatever people are called."""

from __future__ import annotations

import unicodedata
from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.report import samples
from tracker.domain.answers import Doubt
from tracker.domain.ready import ReadyAnswer, ReadyLine
from tracker.report import plain
from tracker.report.tonight import ready_text
from tracker.report.words import backlog_text, estimate_text, forecast_text, pace_text

NAMES = st.text(min_size=1, max_size=200) | st.sampled_from(samples.HOSTILE)


@pytest.mark.parametrize(
    ("minutes", "words"),
    [(0, "0 min"), (0.4, "under 1 min"), (4.4, "4 min"), (33, "35 min"), (58, "1 h"), (62.6, "1 h 05"),
     (80, "1 h 20"), (599, "10 h"), (1560, "26 h"), (90_000, "1,500 h")],
)  # fmt: skip
def test_minutes(minutes: float, words: str) -> None:
    assert plain.minutes_words(minutes) == words


def test_dates_chances_counts() -> None:
    assert plain.date_words(date(2027, 3, 14)) == "14 Mar 2027"
    assert plain.date_words(None) == "far off"
    assert [plain.chance_words(c) for c in (0.0, 0.42, 1.0)] == [
        "under 1 in 100", "42 in 100", "over 99 in 100",
    ]  # fmt: skip
    assert plain.count_words(1, "model") == "1 model"
    assert plain.count_words(1200, "model") == "1,200 models"
    assert [plain.per_model_words(m) for m in (0.84, 9.96, 31.2)] == ["0.8", "10", "31"]


def test_columns_of_wide_and_combining_signs() -> None:
    # Unicode Standard Annex 11: W and F take two columns; combining signs take none.
    assert plain.cells("龍") == 2
    assert plain.cells("e\u0301") == 1
    assert plain.cells("ｱ") == 1
    assert plain.clip("龍龍龍", 5) == "龍龍…"
    assert plain.clip("spears", 6) == "spears"


def _harmless(text: str) -> bool:
    return all(unicodedata.category(sign) not in ("Cc", "Cs") or sign == "\n" for sign in text)


@settings(max_examples=60, deadline=None)
@given(st.tuples(NAMES, NAMES, NAMES))
def test_no_answer_is_wider_than_80_columns(names: tuple[str, str, str]) -> None:
    forecast = samples.forecast(names)._replace(doubts=(Doubt("odd", names[0] * 3),))
    texts = [
        forecast_text(forecast),
        forecast_text(forecast, plain=True),
        pace_text(samples.pace(names)),
        estimate_text(samples.estimate(names[0])),
        backlog_text(samples.backlog()._replace(end=None, reason=names[0])),
        ready_text(_ready(names)),
    ]
    for text in texts:
        assert _harmless(text)
        assert max(map(plain.cells, text.split("\n"))) <= 80


def _ready(names: tuple[str, str, str]) -> ReadyAnswer:
    line = ReadyLine("Host", names[0], names[1], 12, 3, "resin", "dry weather")
    now = samples.NOW
    return ReadyAnswer(
        now, (line, line._replace(step="sanding")), (line._replace(until=now),), 12, has_units=True
    )


@given(NAMES, st.integers(2, 40))
def test_clip_keeps_to_its_columns(name: str, most: int) -> None:
    assert plain.cells(plain.clip(name, most)) <= most


def test_a_table_lines_up() -> None:
    lines = plain.table(
        (plain.Column("Unit", gives=True), plain.Column("n", right=True)), [("龍", "5"), ("ab", "12")]
    )
    assert lines == ["Unit   n", "----  --", "龍     5", "ab    12"]
