"""The JSON of answers has exactly the forms that scripts rely on, and never a NaN or a lone bit."""

from __future__ import annotations

import json
import math

from tests.report import samples
from tracker.domain.answers import (
    BacklogAnswer,
    EstimateAnswer,
    ForecastAnswer,
    GuessesAnswer,
    GuessesOfStep,
    PaceAnswer,
)
from tracker.report.answers import (
    backlog_json,
    estimate_json,
    forecast_json,
    pace_json,
    track_record_json,
    why_json,
)
from tracker.report.tonight import ready_json

LEVELS = [str(level) for level in range(5, 100, 5)]
OUTLOOK = {
    "army", "unit", "models", "models_ready", "minutes_left", "ready", "goal_date", "chance_by_goal",
}  # fmt: skip


def test_forecast() -> None:
    document = json.loads(json.dumps(forecast_json(samples.forecast()), allow_nan=False))
    assert set(document) == {"as_of", "seed", "draws", "doubts", "units", "armies"}
    assert document["as_of"] == "2026-10-31"
    assert document["doubts"] == [{"code": "few-evenings", "text": samples.forecast().doubts[0].text}]
    spears, riders, captain = document["units"]
    assert set(spears) == set(riders) == set(document["armies"][0]) == OUTLOOK
    assert list(spears["minutes_left"]) == list(spears["ready"]) == LEVELS
    assert (spears["goal_date"], spears["chance_by_goal"]) == ("2026-11-14", 0.4242)
    assert (captain["goal_date"], captain["chance_by_goal"]) == (None, None)
    assert spears["ready"]["5"] == "2026-11-03"
    assert riders["ready"]["95"] is None


def test_estimate() -> None:
    document = json.loads(json.dumps(estimate_json(samples.estimate()), allow_nan=False))
    assert set(document) == {"as_of", "seed", "doubts", "lines", "total"}
    assert [set(line) for line in document["lines"]] == [
        {"unit", "step", "models", "minutes", "guess_minutes"}
    ] * 2
    assert set(document["total"]) == {"minutes"}
    assert list(document["total"]["minutes"]) == LEVELS
    assert document["total"]["minutes"]["95"] == 312.0


def test_pace() -> None:
    document = json.loads(json.dumps(pace_json(samples.pace()), allow_nan=False))
    assert set(document) == {"as_of", "doubts", "steps", "guesses"}
    assert [set(step) for step in document["steps"]] == [{"step", "minutes_per_model", "lines", "from"}] * 3
    assert [step["from"] for step in document["steps"]] == ["you", "mostly you", "trade"]


def test_guesses() -> None:
    answer = samples.pace()._replace(guesses=GuessesAnswer(31, 0.4, 1.3, (GuessesOfStep("shade", 5, 1.251),)))
    assert pace_json(answer)["guesses"] == {
        "guesses": 31, "kept_share": 0.4, "times_if_missed": 1.3,
        "steps": [{"step": "shade", "guesses": 5, "times": 1.25}],
    }  # fmt: skip
    lines = estimate_json(samples.guessed_estimate())["lines"]
    assert isinstance(lines, list)
    assert [line["guess_minutes"] for line in lines] == [15.0, None]


def test_why_multiplies() -> None:
    document = json.loads(json.dumps(why_json(samples.why()), allow_nan=False))
    assert set(document) == {
        "as_of", "unit", "step", "models", "plain_minutes_per_model", "from", "lines", "factors",
        "middle_minutes_per_model", "minutes_per_model", "doubts",
    }  # fmt: skip
    assert [set(factor) for factor in document["factors"]] == [{"code", "name", "times", "lines"}] * 5
    product = document["plain_minutes_per_model"] * math.prod(f["times"] for f in document["factors"])
    assert math.isclose(product, document["middle_minutes_per_model"], rel_tol=1e-5)


def test_track_record() -> None:
    document = json.loads(json.dumps(track_record_json(samples.record()), allow_nan=False))
    assert set(document) == {
        "as_of", "estimates", "held", "times", "tenths", "tenths_luck", "totals", "totals_held",
        "totals_luck", "score", "rivals", "doubts",
    }  # fmt: skip
    assert document["held"][1] == {"percent": 80, "held": 33, "luck": [27, 36], "share": [0.681, 0.913]}
    assert sum(document["tenths"]) == document["estimates"] == 40
    assert [rival["against"] for rival in document["rivals"]] == ["spreadsheet", "guess"]


def test_backlog() -> None:
    document = json.loads(json.dumps(backlog_json(samples.backlog()), allow_nan=False))
    assert set(document) == {
        "as_of", "seed", "doubts", "history", "end", "reason", "minutes_left", "points_left", "flows",
        "change",
    }  # fmt: skip
    assert document["flows"][1]["models_a_month"] == {"10": 0.6, "50": 1.8, "90": 4.1}
    assert document["change"] == []
    growing = backlog_json(samples.growing_backlog())
    assert [(way["what"], way["amount"]) for way in json.loads(json.dumps(growing))["change"]] == [
        ("fewer models", 2),
        ("more evenings", 1),
    ]
    assert set(document["history"][0]) == {
        "date", "models", "minutes", "added", "finished", "taken_away", "sold", "given_away", "broken",
        "points",
    }  # fmt: skip
    assert list(document["end"]) == LEVELS
    assert document["end"]["95"] is None
    no_end = samples.backlog()._replace(end=None, reason="More comes in than leaves.")
    assert (backlog_json(no_end)["end"], backlog_json(no_end)["reason"]) == (
        None,
        "More comes in than leaves.",
    )


def test_hostile_names_come_back_unharmed_and_are_only_ascii_on_the_way() -> None:
    text = json.dumps(forecast_json(samples.forecast(samples.HOSTILE)))
    assert text.isascii()
    assert text.isprintable()
    assert [unit["unit"] for unit in json.loads(text)["units"]] == list(samples.HOSTILE)


def test_empty_answers_are_still_documents() -> None:
    day = samples.TODAY
    nothing = (0.0,) * 19
    assert forecast_json(ForecastAnswer(day, (), ()))["units"] == []
    assert estimate_json(EstimateAnswer(day, (), nothing))["lines"] == []
    assert pace_json(PaceAnswer(day, ()))["steps"] == []
    assert backlog_json(BacklogAnswer(day, (), None))["history"] == []


def test_a_negative_zero_is_a_zero() -> None:
    answer = samples.estimate()._replace(total=(-0.001,) * 19)
    assert "-0.0" not in json.dumps(estimate_json(answer)["total"])


def test_ready() -> None:
    document = ready_json(samples.ready())
    assert set(document) == {"as_of", "doubts", "models_left", "ready", "drying"}
    assert document["drying"] == [
        {"army": "Host", "unit": "Riders", "step": "varnish", "models": 8, "in_hand": 0,
         "needs": "dry weather", "dry_at": "2026-10-31T23:30"}
    ]  # fmt: skip
