"""How backups are named, and which of them are kept."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import datetime, timedelta
from typing import NamedTuple

KEPT_NEWEST = 10
"""So many are kept whatever their age."""
KEPT_DAYS = 366
"""For so long one of every week is kept: a year, a leap year too."""
BY_HAND = "by-hand"
DAILY = "daily"
DAMAGED = "damaged"
"""A log that was damaged when it was replaced: kept as it was, never dropped, never taken for the newest."""
_MOMENT = "%Y%m%d-%H%M%S"
_TAIL = re.compile(r"-([0-9]{8}-[0-9]{6})-(schema-[0-9]{1,6}|[a-z]+(?:-[a-z]+)*)(?:-([0-9]{1,6}))?\.db")


class Named(NamedTuple):
    """What the name of a backup says."""

    name: str
    when: datetime
    """Local time."""
    why: str
    turn: int = 1
    """Which of those made in one second for one reason."""


class Backup(NamedTuple):
    """One backup as it lies in the folder."""

    name: str
    path: str
    when: datetime
    why: str
    size_bytes: int
    schema: int | None
    """None, as the counts, where it cannot be read."""
    units: int | None = None
    lines: int | None = None


def backup_name(stem: str, when: datetime, why: str, turn: int = 1) -> str:
    """As in "lastcoat-20261125-213000-before-import.db": the names sort by time."""
    again = f"-{turn}" if turn > 1 else ""
    return f"{stem}-{when:%Y%m%d-%H%M%S}-{why}{again}.db"


def named(name: str, stem: str) -> Named | None:
    """What a file's name says of a backup of the log `stem`; None where it is not one of its backups."""
    if not name.startswith(f"{stem}-"):
        return None
    found = _TAIL.fullmatch(name, len(stem))
    if found is None:
        return None
    try:
        when = datetime.strptime(found[1], _MOMENT)
    except ValueError:
        return None
    return Named(name, when, found[2], int(found[3] or 1))


def to_drop(names_with_times: Iterable[tuple[str, datetime]], now: datetime) -> tuple[str, ...]:
    """Names that need not be kept: neither among the newest 10, nor the newest of an ISO week within a year.

    One dated after `now` was made by a clock that was wrong: it is kept and counts for nothing.
    Weeks: ISO 8601, so that week 53 and the days of week 1 in December stay whole.
    """
    past = [(when, name) for name, when in names_with_times if when <= now]
    past.sort(reverse=True)
    oldest = now - timedelta(days=KEPT_DAYS)
    weeks: set[tuple[int, int]] = set()
    dropped = []
    for place, (when, name) in enumerate(past):
        week = when.isocalendar()[:2]
        newest_of_week = week not in weeks and when >= oldest
        weeks.add(week)
        if place >= KEPT_NEWEST and not newest_of_week:
            dropped.append(name)
    return tuple(dropped)
