"""The track record of dates in words, exactly; and as JSON."""

from __future__ import annotations

import json
from pathlib import Path

from tests.report import samples
from tracker.domain.answers import Doubt, Held
from tracker.domain.answers_dates import DateRival, DatesRecordAnswer
from tracker.report.dates_record_words import (
    dates_record_json,
    dates_record_sentence,
    dates_record_text,
    late_words,
)
from tracker.report.screens.dates_page import dates_lines

GOLDEN = Path(__file__).parent.parent / "golden" / "dates_record.txt"


def record() -> DatesRecordAnswer:
    """Forty forecasts of twelve units; late by a week, as a rule."""
    return DatesRecordAnswer(
        samples.TODAY, 18, 40, 12, 31, 1,
        (Held(50, 19, 10, 30, 0.22, 0.73), Held(80, 33, 26, 40, 0.55, 0.95)),
        3, 4, 1, 0.575, (0.25, 0.75), 7.0, 1.1, 0.42,
        (DateRival("constant pace", 40, 0.42, 0.6, 11, 24.0), DateRival("hoped for", 6, 0.4, 0.5, 2, -3.0)),
        seed=1,
    )  # fmt: skip


def test_text() -> None:
    assert dates_record_text(record()) + "\n" == GOLDEN.read_text(encoding="utf-8")


def test_without_history_it_says_so() -> None:
    answer = DatesRecordAnswer(samples.TODAY, doubts=(Doubt("little-history", "Too little history."),))
    assert dates_record_text(answer).endswith("Mind: Too little history.")
    assert dates_record_sentence(answer) == dates_record_sentence(None) == ""


def test_trust() -> None:
    narrow, wide = record().held
    seldom = record()._replace(held=(narrow._replace(held=9), wide))
    often = record()._replace(held=(narrow._replace(held=31), wide))
    assert "allow for more time" in dates_record_text(seldom)
    assert "safe side" in dates_record_text(often)
    worse = record()._replace(rivals=(DateRival("hoped for", 6, 0.6, 0.5, 4),))
    assert "missed by 20 % more" in dates_record_text(worse).replace("\n  ", " ")


def test_late_words() -> None:
    assert late_words(-1.2, "the middle") == "Units came 1 day earlier than the middle, as a rule."
    assert late_words(0.4, "the middle") == "Units came neither later nor earlier than the middle, as a rule."


def test_one_sentence_below_the_dates_where_it_is_known() -> None:
    said = "So far such ranges held 33 of 40 times where 80 in 100 should"
    with_it, without = (
        " ".join(line.text for line in dates_lines(samples.forecast(), 200, record=known))
        for known in (record(), None)
    )
    assert said in with_it
    assert said not in without


def test_json() -> None:
    document = json.loads(json.dumps(dates_record_json(record()), allow_nan=False))
    assert set(document) == {
        "as_of", "seed", "months", "forecasts", "units", "not_yet", "left_unfinished", "held", "early",
        "late", "not_ready_yet", "after_middle", "after_middle_luck", "days_later_than_middle", "times",
        "score", "rivals", "doubts",
    }  # fmt: skip
    assert document["held"][1] == {"percent": 80, "held": 33, "luck": [26, 40], "share": [0.55, 0.95]}
    assert [rival["against"] for rival in document["rivals"]] == ["constant pace", "hoped for"]
