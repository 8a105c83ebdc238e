"""The calendar that is known: evenings logged, evenings declared, days away."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from datetime import MAXYEAR, date, datetime, time, timedelta
from typing import NamedTuple

from tracker.domain.problems import Problem, UsageError
from tracker.domain.records import Records
from tracker.domain.text import printable
from tracker.domain.work import session_minutes

SHORTEST_EVENING_MINUTES = 5.0
EVENING_STARTS = time(20, 0)
"""When an evening is taken to begin: what dries until then is dry for it."""
LOOK_AHEAD_WEEKS = 26
_KEPT_HALF_LIFE_WEEKS = 8.0
_SHOWN_LETTERS = 80
_FREQUENCIES = frozenset({"DAILY", "WEEKLY", "MONTHLY", "YEARLY"})
_RULE_PARTS = frozenset(
    {"FREQ", "UNTIL", "COUNT", "INTERVAL", "WKST", "BYSETPOS"}
    | {"BYDAY", "BYMONTHDAY", "BYYEARDAY", "BYWEEKNO", "BYMONTH"}
)
"""All parts of RFC 5545, 3.3.10, that tell days."""
_HOURS = frozenset({"BYHOUR", "BYMINUTE", "BYSECOND"})
"""They do not count: an evening is one a day, and when it begins is nobody's business here."""
_EASTER, _EASTER_DAYS_MOST = "BYEASTER", 200
"""Days from Easter, which RFC 5545 does not know and the library does; it comes in every year."""
_UNTIL = re.compile(r"[0-9]{8}(?:T[0-9]{6})?")
_CYCLE_YEARS = 400
"""After so many years the calendar is the same again, weekdays too: 146,097 days are 20,871 weeks."""
_YEARS_READ = 9900
"""A rule that never comes is looked for up to the last year there is, 9999. That takes many seconds from
today on; whole cycles later it takes a part of one, and the days found are the same."""


class EveningMinutes(NamedTuple):
    """One session: its day and its minutes; none = not said."""

    date: date
    minutes: float | None = None


class Plan(NamedTuple):
    """Declared evenings as the rhythm takes them: how many a week and on which weekdays."""

    days_a_week: float
    weekday_shares: tuple[float, ...]
    """Share of the planned days that falls on Monday … Sunday; sums to 1."""


def evenings_of(records: Records) -> tuple[EveningMinutes, ...]:
    """Every session that has a line or minutes of its own, by date."""
    minutes = session_minutes(records)
    worked = {line.session_id for line in records.lines}
    out = [
        EveningMinutes(session.date, minutes[session.id])
        for session in records.sessions
        if session.id in worked or minutes[session.id] is not None
    ]
    return tuple(sorted(out, key=lambda evening: evening.date))


def minutes_by_day(evenings: Iterable[EveningMinutes]) -> dict[date, float | None]:
    """Session days in order, with the day's minutes; none = at least one session was not timed.

    Days of less than five minutes altogether are not session days.
    """
    total: dict[date, float] = {}
    untimed: set[date] = set()
    for evening in evenings:
        total[evening.date] = total.get(evening.date, 0.0) + (evening.minutes or 0.0)
        if evening.minutes is None:
            untimed.add(evening.date)
    return {
        day: None if day in untimed else total[day]
        for day in sorted(total)
        if day in untimed or total[day] >= SHORTEST_EVENING_MINUTES
    }


def declared_days(rule: str, start: date, until: date, without: Iterable[date] = ()) -> tuple[date, ...]:
    """The days of a recurrence rule (RFC 5545, 3.3.10) from `start` up to and with `until`.

    `start` is the rule's DTSTART; a start that does not fit the rule is left out. `without` are
    its EXDATEs. An UNTIL with a time ends before the evening of its day, one without ends after it.
    Raises UsageError when the rule cannot be read or repeats within a day.
    """
    # late: only people who declare evenings wait for it
    from dateutil.rrule import rrulestr  # type: ignore[import-untyped]

    # Easter has another cycle, and never fails to come.
    cycles = 0 if _EASTER in rule.upper() else (_YEARS_READ - max(start, until).year) // _CYCLE_YEARS
    later = max(cycles * _CYCLE_YEARS, 0)
    first, last = (datetime.combine(_years_on(day, later), hour) for day, hour in
                   ((start, EVENING_STARTS), (until, time.max)))  # fmt: skip
    try:
        days = rrulestr(_as_evenings(rule, later), dtstart=first)
        found = [_years_on(moment.date(), -later) for moment in days.between(first, last, inc=True)]
    except (ValueError, TypeError, LookupError, ArithmeticError) as trouble:
        said = rule if len(rule) <= _SHOWN_LETTERS else f"{rule[:_SHOWN_LETTERS]}…"
        raise UsageError(
            Problem(
                "planned evenings",
                f'"{printable(said)}" is not a rule that can be read',
                'Write it like "FREQ=WEEKLY;BYDAY=TU,TH"',
            )
        ) from trouble
    left_out = set(without)
    return tuple(day for day in found if day not in left_out)


def _years_on(day: date, years: int) -> date:
    return day.replace(year=day.year + years)


def _as_evenings(rule: str, later: int) -> str:
    """The rule checked, and its UNTIL as local time so many years later; raises ValueError or KeyError."""
    parts = dict(part.split("=", 1) for part in rule.strip().upper().removeprefix("RRULE:").split(";"))
    counts = [parts[name] for name in ("INTERVAL", "COUNT") if name in parts]
    parts = {name: value for name, value in parts.items() if name not in _HOURS}
    if parts["FREQ"] not in _FREQUENCIES or not (_RULE_PARTS | {_EASTER}).issuperset(parts):
        raise ValueError(rule)
    if _EASTER in parts and (parts["FREQ"] != "YEARLY" or abs(int(parts[_EASTER])) > _EASTER_DAYS_MOST):
        raise ValueError(rule)
    if not all(count.isdecimal() and int(count) > 0 for count in counts):
        raise ValueError(rule)
    if "UNTIL" in parts:
        until = parts.pop("UNTIL").removesuffix("Z")
        if not _UNTIL.fullmatch(until):
            raise ValueError(rule)
        year = int(until[:4]) + later
        if year <= MAXYEAR:
            parts["UNTIL"] = f"{year:04}{until[4:]}" + ("" if "T" in until else "T235959")
    return ";".join(f"{name}={value}" for name, value in parts.items())


def plan_of(rule: str, start: date, as_of: date, without: Iterable[date] = ()) -> Plan | None:
    """What a rule declares for the coming half year; None when it declares nothing there.

    days_a_week = planned days in the 26 weeks after `as_of` / 26.
    """
    until = as_of + timedelta(weeks=LOOK_AHEAD_WEEKS)
    return plan_of_days(day for day in declared_days(rule, min(start, until), until, without) if day > as_of)


def plan_of_days(ahead: Iterable[date]) -> Plan | None:
    """The plan that the planned days of the coming half year make; None without any."""
    on = [0] * 7
    for day in set(ahead):
        on[day.weekday()] += 1
    count = sum(on)
    if not count:
        return None
    return Plan(count / LOOK_AHEAD_WEEKS, tuple(n / count for n in on))


def share_of_plans_kept(planned: Sequence[date], evenings: Iterable[EveningMinutes], as_of: date) -> float:
    """How reliably planned evenings took place: (3 + kept) / (4 + planned), half-life 8 weeks.

    For display only: the dates rest on what happened, not on what was planned. Without any plan it
    is 3 in 4.
    """
    held = minutes_by_day(evenings)
    kept = all_of_them = 0.0
    for day in planned:
        if day <= as_of:
            weight = 0.5 ** ((as_of - day).days / 7 / _KEPT_HALF_LIFE_WEEKS)
            all_of_them += weight
            kept += weight * (day in held)
    return (3 + kept) / (4 + all_of_them)
