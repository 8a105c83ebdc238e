"""Planned evenings and days away as entries of the calendar file.

Evenings are local times without a zone ("floating", RFC 5545, 3.3.5): an evening at eight is at eight
wherever the person is. Where no hour is usual they are whole days.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date, datetime, time, timedelta
from typing import NamedTuple

from tracker.domain.records import Declared, Session
from tracker.forecast.declared import days_away, evenings_of_rule
from tracker.report.calendar_entries import day_after, shown, uid_of
from tracker.report.calendar_file import Entry

_PARTS = ("FREQ", "INTERVAL", "COUNT", "BYMONTH", "BYWEEKNO", "BYYEARDAY", "BYMONTHDAY", "BYDAY", "BYSETPOS",
          "WKST")  # fmt: skip
"""What a rule of days may be made of (RFC 5545, 3.3.10); its UNTIL is written anew."""
_HOURS = {"BYHOUR", "BYMINUTE", "BYSECOND", "UNTIL"}
_LOOK_AHEAD = timedelta(days=366 * 5)
_SEEN_LEAST, _SEEN_MOST = 3, 20
_NIGHT_ENDS_HOUR = 4


class UsualEvening(NamedTuple):
    """When an evening begins and how long it is; None = not known."""

    start: time | None = None
    minutes: float | None = None


def usual_evening(sessions: Iterable[Session], minutes: Sequence[float]) -> UsualEvening:
    """The median of the last twenty that were noted, to five minutes; None below three of them."""
    starts = [_minute_of_evening(session.start) for session in sessions if session.start][-_SEEN_MOST:]
    lengths = list(minutes)[-_SEEN_MOST:]
    start = _middle(starts)
    at = None if start is None else time(int(start) // 60 % 24, int(start) % 60)
    return UsualEvening(at, _middle(lengths))


def _minute_of_evening(start: str) -> float:
    hour, minute = map(int, start.split(":"))
    return 60.0 * (hour + 24 * (hour < _NIGHT_ENDS_HOUR)) + minute


def _middle(values: Sequence[float]) -> float | None:
    if len(values) < _SEEN_LEAST:
        return None
    return 5.0 * round(sorted(values)[len(values) // 2] / 5)


def planned_days(declared: Iterable[Declared], first: date, last: date) -> tuple[date, ...]:
    """Every planned evening from `first` up to and with `last` that is not on a day away."""
    said = list(declared)
    days = {one.first for one in said if one.kind == "once"}
    for one in said:
        if one.kind == "evenings":
            days.update(evenings_of_rule(one, last))
    away = _away(said)
    return tuple(sorted(day for day in days if first <= day <= last and day not in away))


def evening_entries(
    declared: Iterable[Declared], uids: Mapping[int, str], usual: UsualEvening, today: date
) -> list[Entry]:
    """Everything declared that is not over yet: evenings, single evenings, days away."""
    said = [one for one in declared if one.id in uids]
    away = _away(said)
    entries: list[Entry] = []
    for one in said:
        uid = uid_of(uids[one.id], "planned")
        if one.kind == "away":
            entries += _away_entry(one, uid, today)
        elif one.kind == "once":
            entries += [_evening(one, uid, one.first, usual, one.minutes)] if one.first >= today else []
        else:
            entries += _repeated(one, uid, usual, today, away)
    return entries


def _away(declared: Iterable[Declared]) -> set[date]:
    return {day for one in declared if one.kind == "away" for day in days_away(one)}


def _away_entry(one: Declared, uid: str, today: date) -> list[Entry]:
    last = one.last or one.first
    if last < today:
        return []
    words = shown(one.note) if one.note else "Away from the desk"
    return [
        Entry(uid, words, "No evening at the desk is expected on these days.", one.first, day_after(last))
    ]


def _evening(one: Declared, uid: str, day: date, usual: UsualEvening, minutes: float | None) -> Entry:
    words = f"At the desk: {shown(one.note)}" if one.note else "At the desk"
    start = _begin(day, usual)
    length = minutes or usual.minutes
    end = start + timedelta(minutes=length) if isinstance(start, datetime) and length else None
    return Entry(uid, words, "A planned evening.", start, end, takes_time=end is not None)


def _begin(day: date, usual: UsualEvening) -> date | datetime:
    return day if usual.start is None else datetime.combine(day, usual.start)


def _repeated(one: Declared, uid: str, usual: UsualEvening, today: date, away: set[date]) -> list[Entry]:
    """The rule as one entry that comes back; a rule that calendars do not know, day by day."""
    days = tuple(dict.fromkeys(evenings_of_rule(one._replace(without=()), today + _LOOK_AHEAD)))
    ahead = [day for day in days if day >= today]
    if not ahead:
        return []
    without = {day for day in days if day in away or day in one.without}
    parts = dict(part.split("=", 1) for part in one.rule.upper().removeprefix("RRULE:").split(";"))
    if not set(parts) <= {*_PARTS, *_HOURS}:
        return [_evening(one, f"{day:%Y%m%d}-{uid}", day, usual, None) for day in ahead if day not in without]
    rule = [f"{name}={parts[name]}" for name in _PARTS if name in parts]
    if one.last is not None or "UNTIL" in parts:
        # Of the kind that DTSTART is of, and never beside COUNT (RFC 5545, 3.3.10).
        until = _begin(days[-1], usual)
        shape = "%Y%m%dT%H%M%S" if isinstance(until, datetime) else "%Y%m%d"
        rule = [part for part in rule if not part.startswith("COUNT=")] + [f"UNTIL={until:{shape}}"]
    entry = _evening(one, uid, days[0], usual, None)
    exceptions = tuple(_begin(day, usual) for day in sorted(without))
    return [entry._replace(rule=";".join(rule), without=exceptions)]
