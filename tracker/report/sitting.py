"""An evening as the calendar shows it."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple


class Sitting(NamedTuple):
    """A day at the desk and its minutes; None when nobody said how long."""

    date: date
    minutes: float | None
