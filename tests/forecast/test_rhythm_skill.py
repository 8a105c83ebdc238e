"""How well the rhythm forecasts calendars it was not made for, beside plainer ways."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
import pytest

from tests.forecast import calendars as cal

ORIGIN_WEEKS = (1, 3, 6, 12, 26, 52)
SESSIONS = (3, 10, 30)
PLAINER = ("days", "recent days", "weeks", "constant")
"""Independent days, the same with weights that halve in eight weeks, whole weeks drawn again, mean pace."""


class Skill(NamedTuple):
    """Mean CRPS of ln(days) by method, and the shares of the rhythm's outcomes.

    Inside the central 80 %, and later than the median; an outcome on the median day counts half.
    """

    scores: dict[str, float]
    cover80: float
    later_than_median: float


def measure(people: int, origins: tuple[int, ...], paths: int, seed: int) -> Skill:
    """Forecast 3, 10 and 30 usual evenings ahead; every person weighs the same."""
    people_rng, rng = np.random.default_rng(seed).spawn(2)  # the same people whatever the ways
    scores: dict[str, list[float]] = {way: [] for way in ("rhythm", *PLAINER)}
    inside: list[float] = []
    later: list[float] = []
    for _ in range(people):
        minutes = cal.invented_minutes(people_rng)
        usual = float(np.median(minutes[minutes > 0]))
        for week in origins:
            day = 7 * week
            ways = {
                "rhythm": cal.by_rhythm(minutes, day, rng, paths),
                "days": cal.by_independent_days(minutes, day, rng, paths // 4),
                "recent days": cal.by_independent_days(minutes, day, rng, paths // 4, 8.0),
                "weeks": cal.by_whole_weeks(minutes, day, rng, paths // 4),
                "constant": cal.by_constant_pace(minutes, day),
            }
            for sessions in SESSIONS:
                true = int(cal.days_until(minutes[None, day:].cumsum(axis=1), sessions * usual)[0])
                true = min(true, cal.LIMIT_DAYS)
                for way, done in ways.items():
                    draws = cal.days_until(done, sessions * usual)
                    scores[way].append(cal.crps(np.log(draws), np.log(true)))
                ahead = cal.days_until(ways["rhythm"], sessions * usual)
                low, middle, high = np.quantile(ahead, (0.1, 0.5, 0.9), method="inverted_cdf")
                inside.append(float(low <= true <= high))
                later.append(float(true > middle) + 0.5 * float(true == middle))
    return Skill(
        {way: float(np.mean(s)) for way, s in scores.items()}, float(np.mean(inside)), float(np.mean(later))
    )


def test_crps_against_published_values() -> None:
    # Ensemble {1, 2, 4, 7} at 3 scores .75, {30, 35, 40, 50, 80} at 45 scores 4.8; one member =
    # absolute error (formula = numerical integral = two scoring packages).
    assert cal.crps(np.array([1.0, 2, 4, 7]), 3) == pytest.approx(0.75)
    assert cal.crps(np.array([30.0, 35, 40, 50, 80]), 45) == pytest.approx(4.8)
    assert cal.crps(np.array([2.0]), 5) == pytest.approx(3.0)


def test_a_few_invented_people(capsys: pytest.CaptureFixture[str]) -> None:
    skill = measure(people=40, origins=(1, 6, 26), paths=400, seed=11)
    with capsys.disabled():
        print(f"\n40 invented people: {_words(skill)}")  # noqa: T201
    # 360 forecasts of 40 people: about +-.03 on the score and +-.04 on the share. The full size below
    # holds the agreed figures; here only what cannot be luck.
    assert skill.scores["rhythm"] < 0.55
    assert all(skill.scores["rhythm"] < 0.9 * skill.scores[way] for way in PLAINER)
    assert 0.72 <= skill.cover80 <= 0.94


@pytest.mark.slow
def test_three_hundred_invented_people(capsys: pytest.CaptureFixture[str]) -> None:
    # Agreed for 300 people x 190 weeks: CRPS of ln(days) at most .44, 78 to 90 % in the 80 % range. An
    # independent implementation reached .416 and .85; independent days .529, weeks .622 (recent ones drawn
    # more often), constant .663. Beside it: `pytest -n 0 -s -m slow tests/forecast/test_rhythm_skill.py`.
    skill = measure(people=300, origins=ORIGIN_WEEKS, paths=300, seed=12)
    with capsys.disabled():
        print(f"\n300 invented people: {_words(skill)}")  # noqa: T201
    assert skill.scores["rhythm"] <= 0.44
    assert 0.78 <= skill.cover80 <= 0.90
    # No figure was agreed for this share on invented people; .43 was measured here.
    assert 0.38 <= skill.later_than_median <= 0.60
    assert all(skill.scores["rhythm"] < 0.85 * skill.scores[way] for way in PLAINER)


def _words(skill: Skill) -> str:
    scores = ", ".join(f"{way} {score:.3f}" for way, score in skill.scores.items())
    return (
        f"CRPS {scores}; 80 % range held {skill.cover80:.3f}; later than median {skill.later_than_median:.3f}"
    )
