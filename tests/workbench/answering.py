"""A small log to ask: for tests of the verbs and commands that answer."""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path

from tracker.domain.rows import RosterRow
from tracker.workbench.adding import add_unit
from tracker.workbench.desk import Desk
from tracker.workbench.lines import Entry, log_line

NOW = datetime(2026, 10, 31, 20, 0)
TODAY = NOW.date()


def empty_desk(folder: Path) -> Desk:
    """A desk without a log."""
    return Desk(str(folder / "log.db"), now=lambda: NOW)


def small_desk(folder: Path) -> Desk:
    """Spears in work, riders not begun, and a few evenings in October."""
    folder.mkdir(exist_ok=True)
    desk = empty_desk(folder)
    add_unit(desk, RosterRow("Spears", 4, "Host", added=date(2026, 9, 1), goal_date=date(2027, 6, 1)))
    add_unit(desk, RosterRow("Riders", 2, "Host", kind="cavalry", standard="good", added=date(2026, 10, 3)))
    for day, step in ((5, "cleaning"), (7, "assembly"), (12, "base texture"), (30, "priming")):
        log_line(desk, Entry("Spears", step, models=4, minutes=40, day=date(2026, 10, day)))
    log_line(desk, Entry("Spears", "base colours", models=2, minutes=25, day=TODAY, finished=False))
    return desk
