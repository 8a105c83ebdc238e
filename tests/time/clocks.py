"""Clocks of places: a zone for this process, and moments as its wall clocks show them."""

from __future__ import annotations

import os
import time
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from zoneinfo import ZoneInfo

from tracker.workbench.desk import Desk

BERLIN = "Europe/Berlin"
NEW_YORK = "America/New_York"
LORD_HOWE = "Australia/Lord_Howe"
"""Its clocks are changed by half an hour (tz database, australasia)."""


@contextmanager
def living_in(zone: str) -> Iterator[None]:
    """This process in another zone of the tz database for as long as the block runs (POSIX tzset)."""
    before = os.environ.get("TZ")
    os.environ["TZ"] = zone
    time.tzset()
    try:
        yield
    finally:
        if before is None:
            del os.environ["TZ"]
        else:
            os.environ["TZ"] = before
        time.tzset()


def at(desk: Desk, moment: datetime) -> Desk:
    """The desk with its clock at a moment."""
    return desk._replace(now=lambda: moment)


def shown(utc: str, zone: str) -> datetime:
    """What a wall clock of the zone shows at a moment in UTC: without an offset, with its fold (PEP 495).

    It comes from zoneinfo, which reads the tz database by itself, not from the system's C library.
    """
    return datetime.fromisoformat(f"{utc}+00:00").astimezone(ZoneInfo(zone)).replace(tzinfo=None)
