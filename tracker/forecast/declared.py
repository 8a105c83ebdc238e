"""What a person declared of evenings to come, as the rhythm takes it.

A plan is a prior and nothing else: it moves how often and on which weekdays evenings are expected.
A single evening takes place as often as this person keeps plans. A day away is no evidence, ever.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date, timedelta
from itertools import chain
from typing import NamedTuple

from tracker.domain.records import Declared
from tracker.forecast.evenings import (
    LOOK_AHEAD_WEEKS,
    EveningMinutes,
    Plan,
    declared_days,
    minutes_by_day,
    plan_of_days,
    share_of_plans_kept,
)

LONGEST_AWAY_DAYS = 3660
AHEAD_DAYS = 740
"""A little more than is ever simulated."""


class Intent(NamedTuple):
    """Declared evenings and days away, as known on one day."""

    plan: Plan | None = None
    away: frozenset[date] = frozenset()
    once: Mapping[date, float | None] = {}
    """Single evenings to come, with the minutes they are meant to have."""
    kept_share: float = 0.75
    """How often planned evenings took place (see `share_of_plans_kept`)."""


def intent_of(declared: Iterable[Declared], evenings: Iterable[EveningMinutes], as_of: date) -> Intent:
    """What was declared by `as_of` says of the days after it, and how well plans were kept before."""
    said = [one for one in declared if one.said_on <= as_of]
    if not said:
        return Intent()
    away = frozenset(chain.from_iterable(days_away(one) for one in said if one.kind == "away"))
    evenings = tuple(evenings)
    ahead = as_of + timedelta(weeks=LOOK_AHEAD_WEEKS)
    weekly = {day for one in said if one.kind == "evenings" for day in evenings_of_rule(one, ahead)}
    once = {one.first: one.minutes for one in said if one.kind == "once" and one.first not in away}
    kept = share_of_plans_kept(sorted(planned_until(said, evenings, as_of)), evenings, as_of)
    plan = plan_of_days([day for day in weekly if as_of < day <= ahead])
    return Intent(plan, away, {day: m for day, m in once.items() if day >= as_of}, kept)


def planned_until(
    declared: Iterable[Declared], evenings: Iterable[EveningMinutes], as_of: date
) -> frozenset[date]:
    """Planned days that have come and were not away; today only once it was held.

    A plan counts from the day it was said on: what was said afterwards was never planned.
    """
    said, held = tuple(declared), minutes_by_day(evenings)
    away = frozenset(chain.from_iterable(days_away(one) for one in said if one.kind == "away"))
    return frozenset(
        day
        for one in said
        if one.kind != "away"
        for day in (evenings_of_rule(one, as_of) if one.rule else (one.first,))
        if one.said_on <= day <= as_of and day not in away and (day < as_of or day in held)
    )


def evenings_of_rule(said: Declared, until: date) -> tuple[date, ...]:
    """The evenings that a declared rule gives up to and with `until`."""
    last = min(until, said.last) if said.last else until
    return declared_days(said.rule, said.first, last, said.without) if said.first <= last else ()


def days_away(said: Declared) -> tuple[date, ...]:
    """Every day of an absence."""
    days = ((said.last or said.first) - said.first).days
    return tuple(said.first + timedelta(days=n) for n in range(min(days, LONGEST_AWAY_DAYS) + 1))
