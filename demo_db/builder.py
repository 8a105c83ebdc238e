"""Builds the demo: a person, their evenings as they wrote them down, and the truth behind them."""

from __future__ import annotations

from datetime import timedelta
from math import exp
from typing import NamedTuple

from numpy.random import Generator, default_rng

from demo_db.army import ALREADY, DEPARTURES, FIRST_DAY, LAST_DAY, ROSTER, Already, Departure, steps_of
from demo_db.desk import Desk
from demo_db.notebook import write_down
from demo_db.people import Person, Spreads, draw_person, log_minutes
from demo_db.rhythm import evenings
from tracker.domain.rows import EveningRow, RosterRow

SHIPPED_SEED = 27
_SPREADS = Spreads()
_EVENINGS_MOST = 20_000
_SHARE_DONE = 0.66
_USUAL_MINUTES = 14_000
"""About what two years of the usual rhythm come to."""


class UnitTruth(NamedTuple):
    """True hands-on minutes of what a unit still needs after the last day."""

    expected_minutes: float
    """About the mean over futures of this very person (their drift fades to nothing)."""
    realised_minutes: float
    """What it came to in one future."""


class Demo(NamedTuple):
    """What the invented person wrote down, and the truth that they cannot know."""

    seed: int
    roster: tuple[RosterRow, ...]
    evenings: tuple[EveningRow, ...]
    already: tuple[Already, ...]
    departures: tuple[Departure, ...]
    truth: dict[str, UnitTruth]
    """By unit name; finished units have 0."""
    person: Person
    desk: Desk
    """The state of the work on the last day, to simulate on from."""


def build(seed: int, spreads: Spreads = _SPREADS) -> Demo:
    """A person at random and two years of their evenings; the same seed gives the same demo."""
    rng = default_rng(seed)
    person = _with_time(draw_person(rng, ROSTER, spreads))
    desk = Desk(person, ROSTER, ALREADY, DEPARTURES)
    rows: list[EveningRow] = []
    for evening in evenings(rng, FIRST_DAY, person.spreads):
        if evening.day > LAST_DAY:
            break
        rows += write_down(desk.work(evening, rng), person, rng)
    realised = _totals(desk.copy(), default_rng([seed, 1]))
    expected = _expected(desk)
    truth = {unit: UnitTruth(expected[unit], realised[unit]) for unit in realised}
    return Demo(seed, _with_guesses(person, rng), tuple(rows), ALREADY, DEPARTURES, truth, person, desk)


def truth_totals(demo: Demo, rng: Generator) -> dict[str, float]:
    """Minutes the remaining work of each unit comes to in one future, simulated on from the last day.

    The person keeps their pace, batches and drift and buys nothing more; another generator is
    another future of the same person. Finished units have 0.
    """
    return _totals(demo.desk.copy(), rng)


def _totals(desk: Desk, rng: Generator) -> dict[str, float]:
    totals = {row.unit: 0.0 for row in desk.roster}
    tomorrow = LAST_DAY + timedelta(days=1)
    start_week = desk.week
    for count, evening in enumerate(evenings(rng, tomorrow, desk.person.spreads)):
        for stint in desk.work(evening._replace(week=start_week + evening.week), rng):
            totals[stint.row.unit] += stint.minutes
        if all(desk.is_finished(row.unit) for row in desk.roster):
            return totals
        if count > _EVENINGS_MOST:
            break
    raise AssertionError("the work does not end: a route or a wait of the army is wrong")


def _expected(desk: Desk) -> dict[str, float]:
    """One future without noise and drift, times the mean of a lognormal: exp(sd**2 / 2)."""
    spreads = desk.person.spreads
    calm = desk.copy()
    calm.person = desk.person._replace(spreads=spreads._replace(noise=0.0, drift=0.0))
    calm.drift = 0.0
    factor = exp((spreads.noise**2 + spreads.drift**2) / 2)
    return {unit: minutes * factor for unit, minutes in _totals(calm, default_rng(0)).items()}


def _with_time(person: Person) -> Person:
    """The person with so many evenings that about `_SHARE_DONE` of the army fits into the history.

    Without it the quick would have nothing left to forecast and the slow nothing to learn from.
    """
    spreads = person.spreads
    work = sum(_typical_minutes(person, row) for row in ROSTER)
    times = min(max(_SHARE_DONE * work / _USUAL_MINUTES, 0.2), 4.0) ** 0.5
    return person._replace(
        spreads=spreads._replace(
            evenings_a_week=spreads.evenings_a_week * times,
            evening_minutes=spreads.evening_minutes * times,
        )
    )


def _typical_minutes(person: Person, row: RosterRow) -> float:
    """Minutes of the whole unit in one go, half its practice behind it."""
    return sum(exp(log_minutes(person, row, step, row.models, row.models // 2)) for step in steps_of(row))


def _with_guesses(person: Person, rng: Generator) -> tuple[RosterRow, ...]:
    """The roster with the person's own guess for the units that came in later; guesses are low."""
    out = []
    for row in ROSTER:
        said = person.guess_bias + person.spreads.guess_noise * rng.standard_normal()
        hours = max(round(_typical_minutes(person, row) * exp(said) / 60), 1)
        out.append(row._replace(guess_minutes=60.0 * hours) if row.order and row.order >= 3 else row)
    return tuple(out)
