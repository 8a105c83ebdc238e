"""A moment as a person says it: a clock time, a day and a time, or how long ago."""

from __future__ import annotations

import re
from datetime import UTC, datetime, timedelta

from tracker.domain.problems import Problem

_CLOCK = re.compile(r"(?:(?P<day>\d{4}-\d\d-\d\d)[ T])?(?P<hour>\d{1,2})[:.](?P<minute>\d\d)")
_AGO = re.compile(r"(?P<count>\d+(?:[.,]\d+)?)\s*(?P<unit>h|hours?|m|min|minutes?)(?:\s+ago)?")
_YEARS_MOST = 50
"""Further off, and a year was mistyped."""
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
        then = day.replace(
            hour=int(clock["hour"]), minute=int(clock["minute"]), second=0, microsecond=0, fold=0
        )
    except ValueError:
        return Problem("the time", f'"{text}" does not exist', _MEND)
    if abs(then.year - now.year) > _YEARS_MOST:
        return Problem("the time", f"{then.date().isoformat()} is too far off", "Check the year")
    if not clock["day"] and not _was(then, now) and not _was(then.replace(fold=1), now):
        then -= timedelta(days=1)
    return _on_the_clock(then, now, text)


def _on_the_clock(then: datetime, now: datetime, text: str) -> datetime | Problem:
    """The moment at which the clock showed that; of two the last one that was, of none a problem.

    In autumn an hour is struck twice, in spring one is left out (PEP 495).
    """
    first, second = then.replace(fold=0), then.replace(fold=1)
    if _back(first) != first.replace(tzinfo=None):
        what = f'"{text}" was left out when the clocks were put forward'
        return Problem("the time", what, "Say the hour after it")
    return second if _was(second, now) else first


def _was(then: datetime, now: datetime) -> bool:
    return then.astimezone(UTC) <= now.astimezone(UTC)


def _back(local: datetime) -> datetime:
    """What the clock on the wall shows at that moment."""
    return local.astimezone(UTC).astimezone(local.tzinfo).replace(tzinfo=None)


def _ago(now: datetime, minutes: float) -> datetime:
    """Elapsed time, so a change of the clocks in between does not bend it."""
    aware = now if now.tzinfo else now.astimezone()
    return (aware - timedelta(minutes=minutes)).astimezone(now.tzinfo)
