"""Hours that go by, told from what the clock on the wall shows: they differ when the clocks are changed."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

_YEARS = range(1900, 9999)
"""Years in which no zone leads out of the calendar; outside of them the clocks are taken as never changed."""


def later(local: datetime, hours: float) -> datetime:
    """What the wall's clock shows when that many hours have gone by since it showed `local`.

    Both are local times of this machine without an offset (PEP 495 for hours that are struck twice).
    """
    if local.year not in _YEARS:
        return local + min(timedelta(hours=hours), datetime.max - local)
    return (local.astimezone(UTC) + timedelta(hours=hours)).astimezone().replace(tzinfo=None)


def hours_between(begun: datetime, ended: datetime) -> float:
    """Hours that went by between two local times of this machine; below 0 where the second is earlier."""
    if begun.year in _YEARS and ended.year in _YEARS:
        begun, ended = begun.astimezone(UTC), ended.astimezone(UTC)
    return (ended - begun) / timedelta(hours=1)
