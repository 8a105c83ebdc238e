"""Goals as the page and the calendar file show them: a name, a day, what must be ready, the chance."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import NamedTuple

from tracker.domain.answers import Outlook


class GoalRow(NamedTuple):
    """One goal and how likely it is to be met."""

    name: str
    date: date
    what: str
    """What must be table-ready by then, in words."""
    chance: float | None = None
    """Share of the simulated futures in which it is met; None = not known."""


def unit_goal_rows(outlooks: Iterable[Outlook]) -> list[GoalRow]:
    """The goal dates of units that are not ready yet, the next one first."""
    rows = [
        GoalRow(outlook.unit, outlook.goal_date, outlook.unit, outlook.chance_by_goal)
        for outlook in outlooks
        if outlook.unit and outlook.goal_date and outlook.models_ready < outlook.models
    ]
    return sorted(rows, key=lambda row: (row.date, row.name))
