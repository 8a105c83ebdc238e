"""Desks for tests: a log in a temporary folder, a clock that stands still, names that count up."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from itertools import count
from pathlib import Path

from tracker.domain.rows import RosterRow
from tracker.workbench.adding import add_unit
from tracker.workbench.desk import Desk

NOW = datetime(2026, 3, 10, 21, 30)
"""A Tuesday (ISO 8601 calendar)."""


def counting_uid() -> Callable[[], str]:
    """Names "n1", "n2" …."""
    numbers = count(1)
    return lambda: f"n{next(numbers)}"


def a_desk(folder: Path, now: datetime = NOW) -> Desk:
    """A desk whose log lies in the folder; the log is not made yet."""
    return Desk(str(folder / "log.db"), lambda: now, counting_uid())


def with_spears(folder: Path, models: int = 20) -> Desk:
    """A desk with one unit of spears on it, made on 1 March 2026."""
    desk = a_desk(folder)
    add_unit(desk, RosterRow("Spears", models, added=datetime(2026, 3, 1).date()))
    return desk
