"""A moment as a person says it: a clock time, a day and a time, or how long ago."""

from __future__ import annotations

import re
from datetime import datetime, timedelta

from tracker.domain.problems import Problem

_CLOCK = re.compile(r"(?:(?P<day>\d{4}-\d\d-\d\d)[ T])?(?P<hour>\d{1,2})[:.](?P<minute>\d\d)")
_AGO = re.compile(r"(?P<count>\d+(?:[.,]\d+)?)\s*(?P<unit>h|hours?|m|min|minutes?)(?:\s+ago)?")
_MEND = 'Write it like "20:15", "2026-03-14 20:15" or "30 min ago"'


def read_moment(text: str, now: datetime) -> datetime | Problem:
    """The moment that is meant; a bare clock time is the last one that was. `now` is the wall's clock."""
    said = text.strip().casefold()
    if said == "now":
        return now
    ago = _AGO.fullmatch(said)
    if ago:
        minutes = float(ago["count"].replace(",", ".")) * (60 if ago["unit"].startswith("h") else 1)
        too_far = minutes > 60 * 24 * 7
        return Problem("the time", f'"{text}" is too long ago', _MEND) if too_far else _ago(now, minutes)
    clock = _CLOCK.fullmatch(said)
    if not clock:
        return Problem("the time", f'"{text}" is no time', _MEND)
    try:
        day = datetime.fromisoformat(clock["day"]) if clock["day"] else now
        then = day.replace(hour=int(clock["hour"]), minute=int(clock["minute"]), second=0, microsecond=0)
    except ValueError:
        return Problem("the time", f'"{text}" does not exist', _MEND)
    return then - timedelta(days=1) if not clock["day"] and then > now else then


def _ago(now: datetime, minutes: float) -> datetime:
    """Elapsed time, so a change of the clocks in between does not bend it."""
    aware = now if now.tzinfo else now.astimezone()
    return (aware - timedelta(minutes=minutes)).astimezone(now.tzinfo)
