"""Rows of goals and of the units they ask for."""

from __future__ import annotations

from datetime import date
from typing import Any

from tracker.domain.records import Goal
from tracker.domain.text import tidy
from tracker.store.journal import Store
from tracker.store.units import name_key


def all_goals(store: Store) -> tuple[Goal, ...]:
    """Every goal that was set, in the order it was said."""
    units: dict[int, list[int]] = {}
    for goal, unit in store.rows("SELECT goal_id, unit_id FROM goal_unit ORDER BY goal_id, unit_id"):
        units.setdefault(goal, []).append(unit)
    return tuple(
        Goal(
            number, name, date.fromisoformat(day), tuple(units.get(number, ())), models, points, least,
            date.fromisoformat(said_on),
        )
        for number, name, day, models, points, least, said_on in store.rows(
            "SELECT id, name, date, models, points, least_models, said_on FROM goal ORDER BY id"
        )
    )  # fmt: skip


def find_goal(store: Store, name: str) -> int | None:
    """Id of the goal of that name."""
    found = store.rows("SELECT id FROM goal WHERE name_key = ?", (name_key(name),))
    return int(found[0][0]) if found else None


def insert_goal(store: Store, goal: Goal) -> int:
    """Add a goal with its units; its id (that of the record does not matter)."""
    number = store.insert("goal", uid=store.new_uid(), **_row(goal))
    _set_units(store, number, goal.unit_ids)
    return number


def update_goal(store: Store, goal: Goal) -> None:
    """Put a goal in the place of the one with its id."""
    store.update("goal", goal.id, **_row(goal))
    store.connection.execute("DELETE FROM goal_unit WHERE goal_id = ?", (goal.id,))
    _set_units(store, goal.id, goal.unit_ids)


def delete_goal(store: Store, goal_id: int) -> None:
    """Take a goal back."""
    store.connection.execute("DELETE FROM goal_unit WHERE goal_id = ?", (goal_id,))
    store.connection.execute("DELETE FROM goal WHERE id = ?", (goal_id,))


def goal_uids(store: Store) -> dict[int, str]:
    """Identity of each goal, the same for ever, by id."""
    return {int(number): str(uid) for number, uid in store.rows("SELECT id, uid FROM goal")}


def goals_follow(store: Store, unit_id: int, other_id: int) -> None:
    """Goals that ask for a unit ask for another one, because it joined that one."""
    store.connection.execute(
        "INSERT INTO goal_unit (goal_id, unit_id) SELECT goal_id, ? FROM goal_unit WHERE unit_id = ?"
        " AND goal_id NOT IN (SELECT goal_id FROM goal_unit WHERE unit_id = ?)",
        (other_id, unit_id, other_id),
    )
    store.connection.execute("DELETE FROM goal_unit WHERE unit_id = ?", (unit_id,))


def _set_units(store: Store, goal_id: int, unit_ids: tuple[int, ...]) -> None:
    for unit in dict.fromkeys(unit_ids):
        store.connection.execute("INSERT INTO goal_unit (goal_id, unit_id) VALUES (?, ?)", (goal_id, unit))


def _row(goal: Goal) -> dict[str, Any]:
    return {
        "name": tidy(goal.name),
        "name_key": name_key(goal.name),
        "date": goal.date.isoformat(),
        "models": goal.models,
        "points": goal.points,
        "least_models": goal.least_models,
        "said_on": goal.said_on.isoformat(),
    }
