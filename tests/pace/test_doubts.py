"""Every doubt is provoked once, and a log without cause for it does not raise it."""

from __future__ import annotations

import math
import re
from datetime import date, timedelta

import numpy as np
import pytest

from tracker.domain.answers import PlannedLine
from tracker.domain.records import Army, Line, Records, Session, Unit
from tracker.pace import learn
from tracker.pace.doubts import line_doubts, pace_doubts

STEPS = ("cleaning", "assembly", "base colours", "shade", "highlights")
FIRST = date(2026, 1, 5)


def a_log(minutes: list[float]) -> Records:
    """One timed line an evening on one unit, steps in turn."""
    unit = Unit(1, 1, "Spears", route=STEPS, added_on=FIRST, open_ended=True)
    sessions = tuple(Session(i + 1, FIRST + timedelta(days=3 * i)) for i in range(len(minutes)))
    lines = tuple(
        Line(i + 1, i + 1, 1, STEPS[i % len(STEPS)], models=2, minutes=spent)
        for i, spent in enumerate(minutes)
    )
    return Records((Army(1, "Host"),), (unit,), (), (), sessions, lines, ())


def steady(count: int, seed: int = 1) -> list[float]:
    """Minutes of a person without moods."""
    middle = (14.0, 16.0, 36.0, 5.0, 18.0)
    surprise = np.exp(0.25 * np.random.default_rng(seed).standard_normal(count))
    return [round(middle[i % 5] * float(s), 1) for i, s in enumerate(surprise)]


def codes(minutes: list[float]) -> list[str]:
    """Codes of the doubts about a log."""
    records = a_log(minutes)
    return [doubt.code for doubt in pace_doubts(records, learn(records))]


def test_a_steady_log_raises_none() -> None:
    assert codes(steady(60)) == []


def test_little_history_until_it_is_the_persons_own() -> None:
    assert codes([]) == ["little-history"]
    assert codes(steady(1)) == ["little-history"]
    assert "little-history" in codes(steady(29))
    assert "little-history" not in codes(steady(30))


def test_minutes_rounded_to_the_half_hour() -> None:
    halves = [30.0 * max(round(spent / 15), 1) for spent in steady(40)]
    assert "rounded" in codes(halves)


@pytest.mark.parametrize("seed", [1, 2, 3])
@pytest.mark.parametrize(("times", "word"), [(2.2, "longer"), (1.6, "longer"), (1 / 2.2, "less time")])
def test_a_pace_that_has_drifted(times: float, word: str, seed: int) -> None:
    minutes = steady(120, seed)
    records = a_log(minutes[:80] + [spent * times for spent in minutes[80:]])
    (doubt,) = [d for d in pace_doubts(records, learn(records)) if d.code == "drift"]
    # A known truth: a third of the log at `times`, so lately off the mean log by two thirds of its log.
    share = re.search(r"about (\d+)% ([a-z ]+) than", doubt.text)
    assert share is not None
    assert share[2] == word
    assert math.log1p(int(share[1]) / 100 * (1 if times > 1 else -1)) == pytest.approx(
        2 / 3 * math.log(times), abs=0.12
    )


@pytest.mark.parametrize("seed", [1, 2, 3])
@pytest.mark.parametrize("times", [0.4, 2.5])
def test_being_quick_or_slow_from_the_first_evening_is_no_drift(times: float, seed: int) -> None:
    assert "drift" not in codes([spent * times for spent in steady(120, seed)])


def test_an_evening_that_does_not_fit_is_named() -> None:
    minutes = steady(60)
    minutes[42] *= 12
    records = a_log(minutes)
    (doubt,) = [d for d in pace_doubts(records, learn(records)) if d.code == "odd-evening"]
    assert records.sessions[42].date.isoformat() in doubt.text


def test_steps_and_kinds_never_met() -> None:
    records = a_log(steady(40))
    pace = learn(records)
    known = PlannedLine("Host", "Spears", "shade", 5)
    assert line_doubts([known], pace) == ()
    found = line_doubts(
        [known, known._replace(step="decals"), known._replace(unit="Ogre", kind="monster")], pace
    )
    assert [doubt.code for doubt in found] == ["new-step", "new-kind"]
    assert "decals" in found[0].text
    assert "monster" in found[1].text


def test_more_history_never_makes_them_louder() -> None:
    counts = [len(codes(steady(n))) for n in (0, 10, 30, 60, 120)]
    assert counts == sorted(counts, reverse=True)
