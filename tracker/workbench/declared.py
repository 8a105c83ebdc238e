"""Declared evenings: by a rule, one by one, and days away. They move what is expected, never what was."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date, timedelta
from typing import NamedTuple

from tracker.domain.problems import DataError, Problem
from tracker.domain.records import MINUTES_A_DAY, Declared
from tracker.domain.text import tidy
from tracker.sheets.evening_rule import read_rule, rule_words
from tracker.store.declared import all_declared, delete_declared, insert_declared
from tracker.workbench.desk import Desk
from tracker.workbench.naming import good_text
from tracker.workbench.units_plan import Changed
from tracker.workbench.words import day_words

_ISO_DAY = re.compile(r"(?<!\d)\d{4}-\d\d-\d\d(?!\d)")
AHEAD_MOST_DAYS = 3660
AWAY_MOST_DAYS = 366


class PlansAnswer(NamedTuple):
    """What is declared, the evenings it gives in the coming weeks, and how well plans were kept."""

    as_of: date
    declared: tuple[Declared, ...]
    coming: tuple[date, ...]
    """Declared evenings of the next four weeks that are not away."""
    kept: int
    planned: int
    """Evenings that were planned and could have been held by now, and how many were."""
    kept_share: float
    """What is expected of the next: (3 + kept) / (4 + planned), the last eight weeks weighing most."""


def plan_evenings(
    desk: Desk,
    said: str,
    *,
    first: date | None = None,
    last: date | None = None,
    without: Sequence[date] = (),
    note: str = "",
) -> Changed:
    """Evenings by a rule: plain words or RFC 5545, from `first` (default: today) on."""
    from tracker.forecast.declared import AHEAD_DAYS, evenings_of_rule

    rule = read_rule(said)
    if isinstance(rule, Problem):
        raise DataError(rule)
    today = desk.evening_day()
    begins = first or today
    _in_reach("--from", begins, today)
    plan = Declared(
        0, "evenings", begins, last, rule, tuple(sorted(set(without))), note=_noted(note), said_on=today
    )
    if not evenings_of_rule(plan, max(begins, today) + timedelta(days=AHEAD_DAYS)):
        raise DataError(
            Problem("the evenings", "they never come in two years", "Check the rule and its days")
        )
    until = f" until {day_words(last, today)}" if last else ""
    since = f" from {day_words(begins, today)}" if begins != today else ""
    return _declare(desk, plan, f"evenings planned {rule_words(rule)}{since}{until}")


def plan_once(desk: Desk, day: date, *, minutes: float | None = None, note: str = "") -> Changed:
    """One evening to come, perhaps a long one."""
    today = desk.evening_day()
    _in_reach("the day", day, today)
    if day < today:
        raise DataError(Problem("the day", f"{day.isoformat()} is past", "Log what was done: lastcoat log"))
    if minutes is not None and not 0 < minutes <= MINUTES_A_DAY:
        mend = f"Say more than 0 and at most {MINUTES_A_DAY} minutes"
        raise DataError(Problem("--minutes", f"{minutes:g} cannot be", mend))
    plan = Declared(0, "once", day, minutes=minutes, note=_noted(note), said_on=today)
    long = f", {minutes:g} min" if minutes else ""
    return _declare(desk, plan, f"an evening planned on {day_words(day, today)}{long}")


def plan_away(desk: Desk, first: date, last: date | None = None, *, note: str = "") -> Changed:
    """Days away from the desk, past ones too: no evening is expected, and none is missed."""
    today = desk.evening_day()
    last = last or first
    _in_reach("the first day", first, today)
    if last < first:
        raise DataError(
            Problem("the last day", f"{last.isoformat()} is before {first.isoformat()}", "Swap them")
        )
    if (last - first).days >= AWAY_MOST_DAYS:
        raise DataError(Problem("the last day", "that is longer than a year", "Say at most a year at a time"))
    plan = Declared(0, "away", first, last, note=_noted(note), said_on=today)
    span = day_words(first, today) + (f" to {day_words(last, today)}" if last != first else "")
    return _declare(desk, plan, f"away {span}")


def plan_said(desk: Desk, said: str) -> Changed:
    """One plan in a line: "every Tuesday", "2027-03-06 240 min", "away 2027-04-01 2027-04-10"."""
    days = [_day(word) for word in _ISO_DAY.findall(said)]
    rest = _ISO_DAY.sub(" ", said)
    if re.search(r"\baway\b", rest, re.IGNORECASE) and days:
        return plan_away(desk, days[0], days[1] if len(days) > 1 else None)
    if days and not re.search(r"[a-z]{4}", rest.casefold().replace("minutes", "")):
        minutes = re.search(r"\d+(?:\.\d+)?", rest)
        hours = re.search(r"\d\s*h", rest, re.IGNORECASE)
        long = float(minutes[0]) * (60 if hours else 1) if minutes else None
        return plan_once(desk, days[0], minutes=long)
    return plan_evenings(desk, rest)


def _day(said: str) -> date:
    try:
        return date.fromisoformat(said)
    except ValueError:
        raise DataError(Problem("the day", f"{said} does not exist", "Write it as 2027-03-06")) from None


def drop_plan(desk: Desk, number: int) -> Changed:
    """Take one declaration back, by its number in the list."""
    with desk.open() as store, store.change("plan") as change:
        said = all_declared(store)
        if not 1 <= number <= len(said):
            there = f"There are 1 to {len(said)}" if said else "Nothing is declared"
            raise DataError(
                Problem("the number", f"{number} is not in the list", f"{there}: lastcoat plan show")
            )
        delete_declared(store, said[number - 1].id)
        done = Changed(f"no longer {plan_words(said[number - 1], desk.evening_day())}")
        change.words = done.words()
    return done


def plans(desk: Desk) -> PlansAnswer:
    """What is declared and what came of it."""
    from tracker.forecast.declared import days_away, evenings_of_rule, intent_of, planned_until
    from tracker.forecast.evenings import evenings_of, minutes_by_day

    known, today = desk.records(), desk.evening_day()
    held = evenings_of(known)
    ahead = today + timedelta(weeks=4)
    away = {day for one in known.declared if one.kind == "away" for day in days_away(one)}
    coming = {day for one in known.declared if one.kind == "evenings" for day in evenings_of_rule(one, ahead)}
    coming |= {one.first for one in known.declared if one.kind == "once"}
    planned = planned_until(known.declared, held, today)
    return PlansAnswer(
        today,
        known.declared,
        tuple(sorted(day for day in coming - away if today <= day < ahead)),
        len(planned & set(minutes_by_day(held))),
        len(planned),
        intent_of(known.declared, held, today).kept_share,
    )


def plan_words(said: Declared, today: date) -> str:
    """One declaration in words."""
    if said.kind == "evenings":
        until = f" until {day_words(said.last, today)}" if said.last else ""
        return f"evenings {rule_words(said.rule)}{until}"
    if said.kind == "once":
        return f"an evening on {day_words(said.first, today)}" + (
            f", {said.minutes:g} min" if said.minutes else ""
        )
    last = f" to {day_words(said.last, today)}" if said.last and said.last != said.first else ""
    return f"away {day_words(said.first, today)}{last}"


def _declare(desk: Desk, plan: Declared, words: str) -> Changed:
    with desk.open(create=True) as store, store.change("plan", words):
        insert_declared(store, plan)
    return Changed(words)


def _noted(note: str) -> str:
    good_text("--note", note)
    return tidy(note)


def _in_reach(where: str, day: date, today: date) -> None:
    if abs((day - today).days) > AHEAD_MOST_DAYS:
        raise DataError(Problem(where, f"{day.isoformat()} is too far off", "Check the year"))
