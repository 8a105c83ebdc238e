"""Goals as the page and the calendar file show them: a name, a day, what must be ready, the chance."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from typing import NamedTuple

from tracker.domain.answers import Outlook
from tracker.domain.records import Goal
from tracker.report.plain import clip, count_words

_NAME_COLUMNS_MOST = 60


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


def goal_rows(
    goals: Iterable[tuple[Goal, float | None]], units: Mapping[int, str], today: date
) -> list[GoalRow]:
    """Goals that lie ahead with their chances, the next one first; `units` are names by id."""
    rows = []
    for goal, chance in goals:
        names = [units[number] for number in sorted(goal.unit_ids) if number in units]
        if goal.date >= today and (names or not goal.unit_ids):
            rows.append(GoalRow(goal_title(goal, names), goal.date, goal_asks(goal, names), chance))
    return rows


def goal_title(goal: Goal, names: Sequence[str]) -> str:
    """Its own name; a goal date without words goes by its units."""
    if goal.name != goal.date.isoformat():
        return clip(goal.name, _NAME_COLUMNS_MOST)
    return clip(_joined(names), _NAME_COLUMNS_MOST)


def goal_asks(goal: Goal, names: Sequence[str]) -> str:
    """What must be table-ready: "Spears, Riders", "20 models of Spears", "1,000 points", "every unit"."""
    if goal.points is not None:
        what = f"{goal.points:,g} points"
    elif goal.models is not None:
        what = count_words(goal.models, "model")
    else:
        return _joined(names) or "every unit"
    return f"{what} of {_joined(names)}" if names else what


def _joined(names: Sequence[str]) -> str:
    return ", ".join(clip(name, _NAME_COLUMNS_MOST) for name in names)
