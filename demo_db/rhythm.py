"""On which days the invented painter sits down, and for how long."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from math import exp, log
from typing import NamedTuple

from numpy.random import Generator

from demo_db.army import GAME_DAYS
from demo_db.people import Spreads

_MONTHS = (1.15, 1.0, 1.0, 1.0, 0.75, 0.75, 0.75, 0.75, 1.0, 1.1, 1.25, 1.35)
"""Times the usual number of evenings, January first. Common practice, no source."""
_WEEKDAYS = (0.8, 1.2, 0.9, 1.3, 0.6, 0.9, 1.3)
"""Monday first; they sum to 7."""


class Evening(NamedTuple):
    """A day with time for the desk."""

    day: date
    week: int
    """Weeks since the first day, for the drift."""
    minutes: float


def evenings(rng: Generator, first: date, spreads: Spreads) -> Iterator[Evening]:
    """Evenings from the first day on, without end; the same rules before and after today.

    A week has a log-rate that wanders; dry spells of a few weeks come at random. The three weeks
    before a game are busy, the fortnight after it is not.
    """
    wander, week, dry_left = 0.0, 0, 0
    while True:
        wander = 0.85 * wander + 0.25 * rng.standard_normal()
        if dry_left:
            dry_left -= 1
        else:
            if rng.random() < spreads.dry_chance:
                dry_left = round(exp(0.5 + 0.9 * rng.standard_normal()))
            yield from _week(rng, first + timedelta(weeks=week), week, exp(wander), spreads)
        week += 1


def _week(rng: Generator, monday: date, week: int, lift: float, spreads: Spreads) -> Iterator[Evening]:
    for offset in range(7):
        day = monday + timedelta(days=offset)
        rate = spreads.evenings_a_week * lift * _WEEKDAYS[day.weekday()] * _MONTHS[day.month - 1]
        if rng.random() < min(rate * _near_game(day) / 7, 0.95):
            minutes = exp(log(spreads.evening_minutes) + spreads.evening_spread * rng.standard_normal())
            yield Evening(day, week, max(minutes, 12.0))


def _near_game(day: date) -> float:
    for game in GAME_DAYS:
        days_to_go = (game - day).days
        if 0 < days_to_go <= 21:
            return 2.2
        if -14 <= days_to_go <= 0:
            return 0.4
    return 1.0
