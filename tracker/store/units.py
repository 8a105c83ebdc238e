"""Rows of armies, units, routes and a person's own steps."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from tracker.domain.text import tidy
from tracker.store import book_gone
from tracker.store.journal import Store
from tracker.store.ranks import base_changed, forget_unit

_COLUMN_OF = {"order": "place"}


def name_key(name: str) -> str:
    """What makes two names the same: capitals and blanks at the ends do not count."""
    return tidy(name).casefold()


def find_army(store: Store, name: str) -> int | None:
    """Id of the army of that name."""
    found = store.rows("SELECT id FROM army WHERE name_key = ?", (name_key(name),))
    return int(found[0][0]) if found else None


def insert_army(store: Store, name: str) -> int:
    """Add an army; its id."""
    return store.insert("army", uid=store.new_uid(), name=tidy(name), name_key=name_key(name))


def find_units(store: Store, name: str) -> list[tuple[int, str, str]]:
    """(id, army name, name) of the units of that name, in whichever army."""
    return [
        (int(number), str(army), str(unit))
        for number, army, unit in store.rows(
            "SELECT unit.id, army.name, unit.name FROM unit JOIN army ON army.id = unit.army_id"
            " WHERE unit.name_key = ? ORDER BY unit.id",
            (name_key(name),),
        )
    ]


def all_unit_names(store: Store) -> list[tuple[int, str, str]]:
    """(id, army name, name) of every unit."""
    return [
        (int(number), str(army), str(unit))
        for number, army, unit in store.rows(
            "SELECT unit.id, army.name, unit.name FROM unit JOIN army ON army.id = unit.army_id"
            " ORDER BY unit.id"
        )
    ]


def insert_unit(store: Store, army_id: int, name: str, fields: dict[str, Any]) -> int:
    """Add a unit with fields named as in the record `Unit`; its id."""
    said = {_COLUMN_OF.get(key, key): _plain(value) for key, value in fields.items()}
    return store.insert(
        "unit", uid=store.new_uid(), army_id=army_id, name=tidy(name), name_key=name_key(name), **said
    )


def update_unit(store: Store, unit_id: int, fields: dict[str, Any]) -> None:
    """Change fields of a unit, named as in the record `Unit`; a base it had is remembered."""
    if "base" in fields:
        had = store.rows("SELECT base FROM unit WHERE id = ?", (unit_id,))[0][0]
        if had and had != fields["base"]:
            base_changed(store, unit_id, had, store.now().date())
    said = {_COLUMN_OF.get(key, key): _plain(value) for key, value in fields.items()}
    store.update("unit", unit_id, **said)


def rename_unit(store: Store, unit_id: int, name: str, army_id: int) -> None:
    """Call a unit otherwise, in this army."""
    store.update("unit", unit_id, name=tidy(name), name_key=name_key(name), army_id=army_id)


def delete_unit(store: Store, unit_id: int) -> None:
    """Take out a unit that has no models and no lines left."""
    forget_unit(store, unit_id)
    book_gone.forget_unit(store, unit_id)
    store.connection.execute("DELETE FROM route_step WHERE unit_id = ?", (unit_id,))
    store.connection.execute("DELETE FROM unit WHERE id = ?", (unit_id,))


def move_history(store: Store, unit_id: int, other_id: int) -> None:
    """All lines of a unit become lines of another one, and what the bench book says of it."""
    book_gone.unit_joined(store, unit_id, other_id)
    store.connection.execute("UPDATE line SET unit_id = ? WHERE unit_id = ?", (other_id, unit_id))


def places_of(store: Store) -> list[tuple[int, int | None, str]]:
    """(id, place, day it came in) of every unit that still has models."""
    return [
        (int(unit), place, str(day))
        for unit, place, day in store.rows(
            "SELECT id, place, added_on FROM unit WHERE EXISTS"
            " (SELECT 1 FROM model WHERE unit_id = unit.id AND left_on IS NULL)"
        )
    ]


def route_of(store: Store, unit_id: int) -> tuple[str, ...]:
    """The unit's steps in order."""
    rows = store.rows("SELECT step FROM route_step WHERE unit_id = ? ORDER BY place", (unit_id,))
    return tuple(str(step) for (step,) in rows)


def all_routes(store: Store) -> dict[int, tuple[str, ...]]:
    """Every unit's steps in order, by unit id."""
    routes: dict[int, list[str]] = {}
    for unit, step in store.rows("SELECT unit_id, step FROM route_step ORDER BY unit_id, place"):
        routes.setdefault(unit, []).append(step)
    return {unit: tuple(steps) for unit, steps in routes.items()}


def set_route(store: Store, unit_id: int, route: Sequence[str]) -> None:
    """Put this route in place of the old one; steps outside the catalogue become the person's own."""
    store.connection.execute("DELETE FROM route_step WHERE unit_id = ?", (unit_id,))
    for place, step in enumerate(route, start=1):
        store.connection.execute(
            "INSERT INTO route_step (unit_id, place, step) VALUES (?, ?, ?)", (unit_id, place, step)
        )


def own_steps(store: Store) -> dict[str, str]:
    """Names of the person's own steps by their folded name."""
    return {str(key): str(name) for key, name in store.rows("SELECT name_key, name FROM own_step")}


def insert_own_step(store: Store, name: str, catalogue: str = "", wait_hours: float | None = None) -> int:
    """Add a step of the person's own; its id."""
    return store.insert(
        "own_step", name=tidy(name), name_key=name_key(name), catalogue=catalogue, wait_hours=wait_hours
    )


def set_wait(store: Store, name: str, wait_hours: float | None) -> None:
    """Change the wait of one of the person's own steps; none = the trade's usual one again."""
    store.connection.execute(
        "UPDATE own_step SET wait_hours = ? WHERE name_key = ?", (wait_hours, name_key(name))
    )


def _plain(value: Any) -> Any:
    """Dates as ISO text; everything else as it is."""
    return value.isoformat() if hasattr(value, "isoformat") else value
