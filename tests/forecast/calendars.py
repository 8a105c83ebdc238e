"""Invented people's calendars with drifting habits and dry spells, and plain ways to forecast them."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from tests.forecast.people import TUESDAY
from tracker.forecast.evenings import EveningMinutes
from tracker.forecast.futures import simulate_minutes
from tracker.forecast.rhythm import fit_rhythm

WEEKS = 190
LIMIT_DAYS = 730
Floats = NDArray[np.float64]


def invented_minutes(rng: np.random.Generator) -> Floats:
    """Minutes per day of one person over 190 weeks, from their first evening on.

    Base rate U(1.2, 3) a week; weekly log-rate AR(1) with phi U(.75, .96), sd U(.4, 1.1); each week that
    is not dry starts, with a chance of U(.05, .25) of this person, a dry spell of ceil(exp(N(.5, .9)))
    weeks, followed by at least one week that is not; weekday factors 7 x Dirichlet(3); chance of an
    evening min(.95, rate x factor / 7); minutes lognormal, own median lognormal(60, .5), sd .5.
    """
    base, memory, spread = rng.uniform(1.2, 3), rng.uniform(0.75, 0.96), rng.uniform(0.4, 1.1)
    spell_chance = rng.uniform(0.05, 0.25)
    weekday = 7 * rng.dirichlet(np.full(7, 3.0))
    rates = base * np.exp(_drift(rng, memory, spread)) * ~_dry_weeks(rng, spell_chance)
    chance = np.minimum(0.95, rates[:, None] * weekday / 7)
    at_desk = rng.random((WEEKS, 7)) < chance
    usual = 60 * np.exp(rng.normal(0, 0.5))
    minutes = (at_desk * usual * np.exp(rng.normal(0, 0.5, (WEEKS, 7)))).ravel()
    minutes[minutes < 5] = 0.0
    return np.asarray(minutes[int(np.argmax(minutes > 0)) :])


def _drift(rng: np.random.Generator, memory: float, spread: float) -> Floats:
    """Stationary first-order autoregression, shape (weeks,)."""
    x = np.empty(WEEKS)
    x[0] = rng.normal(0, spread)
    for week in range(1, WEEKS):
        x[week] = memory * x[week - 1] + rng.normal(0, spread * np.sqrt(1 - memory**2))
    return x


def _dry_weeks(rng: np.random.Generator, chance: float) -> NDArray[np.bool_]:
    dry = np.zeros(WEEKS, dtype=bool)
    week = 0
    while week < WEEKS:
        if rng.random() < chance:
            spell = int(np.ceil(np.exp(rng.normal(0.5, 0.9))))
            dry[week + 1 : week + 1 + spell] = True
            week += spell + 1
        week += 1
    return dry


def evenings_before(minutes: Floats, day: int) -> list[EveningMinutes]:
    """The person's evenings on the days before `day`."""
    return [
        EveningMinutes(TUESDAY + timedelta(days=int(i)), float(minutes[i]))
        for i in np.flatnonzero(minutes[:day])
    ]


def as_of(day: int) -> date:
    """The evening before day number `day`."""
    return TUESDAY + timedelta(days=day - 1)


def days_until(done: NDArray[np.float32] | Floats, wanted: float) -> NDArray[np.int64]:
    """Days until so many minutes are put in, capped at what was simulated; `done` = (paths, days)."""
    return np.asarray(np.minimum((done < wanted).sum(axis=1) + 1, done.shape[1]))


def by_rhythm(minutes: Floats, day: int, rng: np.random.Generator, paths: int) -> NDArray[np.float32]:
    """Minutes put in by the end of each coming day by our rhythm, shape (paths, days)."""
    evenings = evenings_before(minutes, day)
    # Whether or not the eve had an evening, day number `day` is the first to come.
    rhythm = fit_rhythm(evenings, as_of(day) if minutes[day - 1] else as_of(day + 1))
    return simulate_minutes(rhythm, rng, paths, LIMIT_DAYS).cumsum(axis=1)


def by_independent_days(
    minutes: Floats, day: int, rng: np.random.Generator, paths: int, half_life_weeks: float = np.inf
) -> NDArray[np.float32]:
    """The same with every day drawn for itself: its weekday's share of evenings, a past evening's minutes.

    Weights fall to half in so many weeks. A weekday never seen has the chance of all days.
    """
    seen = minutes[:day]
    weight = 0.5 ** (np.arange(day)[::-1] / 7 / half_life_weeks)
    at_desk, weekday = seen > 0, np.arange(day) % 7
    of_day = np.bincount(weekday, weight, 7)
    held = np.bincount(weekday, weight * at_desk, 7)
    chance = np.where(of_day > 0, held / np.maximum(of_day, 1e-9), weight @ at_desk / weight.sum())
    of_evening = weight[at_desk] / weight[at_desk].sum()
    came = rng.random((paths, LIMIT_DAYS)) < chance[(day + np.arange(LIMIT_DAYS)) % 7]
    lengths = rng.choice(seen[at_desk], (paths, LIMIT_DAYS), p=of_evening)
    return np.asarray((came * lengths).astype(np.float32).cumsum(axis=1))


def by_whole_weeks(minutes: Floats, day: int, rng: np.random.Generator, paths: int) -> NDArray[np.float32]:
    """The same with whole past weeks drawn again (the last whole ones; the newest of them if only one)."""
    weeks = max(day // 7, 1)
    seen = minutes[day - 7 * weeks : day] if day >= 7 else np.pad(minutes[:day], (7 - day, 0))
    drawn = seen.reshape(weeks, 7)[rng.integers(0, weeks, (paths, -(-LIMIT_DAYS // 7)))]
    return np.asarray(drawn.reshape(paths, -1)[:, :LIMIT_DAYS].astype(np.float32).cumsum(axis=1))


def by_constant_pace(minutes: Floats, day: int) -> NDArray[np.float32]:
    """The same as one future at the mean minutes per day so far."""
    return np.cumsum(np.full((1, LIMIT_DAYS), minutes[:day].mean(), dtype=np.float32), axis=1)


def crps(draws: Floats, outcome: float) -> float:
    """Continuous ranked probability score of draws: mean |x - y| - mean |x - x'| / 2.

    Source: Gneiting & Raftery 2007, JASA 102:359-378.
    """
    ordered = np.sort(draws)
    n = len(ordered)
    spread = (2 * np.arange(1, n + 1) - n - 1) @ ordered / n**2
    return float(np.abs(ordered - outcome).mean() - spread)
