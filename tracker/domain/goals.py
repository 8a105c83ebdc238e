"""Goals: what must be table-ready by a date."""

from __future__ import annotations

from datetime import date

from tracker.domain.records import Goal, Records


def goals_of(records: Records) -> tuple[Goal, ...]:
    """Every goal by its date: those that were set, then the goal dates of units.

    Units that share a date and its words are one goal, which has no id of its own.
    """
    shared: dict[tuple[date, str], list[int]] = {}
    for unit in records.units:
        if unit.goal_date is not None:
            shared.setdefault((unit.goal_date, unit.goal), []).append(unit.id)
    own = [Goal(0, words or day.isoformat(), day, tuple(units)) for (day, words), units in shared.items()]
    return tuple(sorted((*records.goals, *own), key=lambda goal: goal.date))
