"""What is planned for a unit: its name, its place in the order, goal, standard, finish line."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any, NamedTuple

from tracker.domain.problems import DataError, Problem, UsageError, did_you_mean
from tracker.domain.records import Unit
from tracker.domain.routes import usual_route
from tracker.domain.rows import RosterRow
from tracker.domain.text import same_name
from tracker.store.journal import Store
from tracker.store.read import one_unit
from tracker.store.units import (
    find_army,
    find_units,
    insert_army,
    places_of,
    rename_unit,
    update_unit,
)
from tracker.workbench.adding import PLAN_FIELDS, care_of, checked_plan, put_route
from tracker.workbench.desk import Desk
from tracker.workbench.naming import good_name, shown, the_step, the_unit
from tracker.workbench.words import day_words

_SETTABLE = tuple(field for field in PLAN_FIELDS if field != "order")


class Changed(NamedTuple):
    """A change of a unit or its models."""

    said: str
    """As in "Spears: goal date Fri 1 May 2026"."""
    more: str = ""
    """What goes with it and is not the change itself."""

    def words(self) -> str:
        """As the log keeps it, for undo."""
        return self.said

    def sentence(self) -> str:
        """What was stored."""
        return f"Stored: {self.said}." + (f" {self.more}" if self.more else "")


def rename(desk: Desk, unit: str, new: str, *, army: str | None = None, new_army: str = "") -> Changed:
    """Call a unit otherwise, or let it join another army (made if there is none of that name)."""
    name = good_name("--name", new)
    with desk.open() as store, store.change("unit") as change:
        known = the_unit(store, unit, army)
        to_army = good_name("--to-army", new_army) if new_army else known.army
        taken = [number for number, its_army, _ in find_units(store, name) if same_name(its_army, to_army)]
        if any(number != known.id for number in taken):
            what = f"there is a unit {shown(name)} in {shown(to_army)} already"
            raise DataError(Problem("--name", what, "Use another name, or merge them"))
        rename_unit(store, known.id, name, find_army(store, to_army) or insert_army(store, to_army))
        where = "" if same_name(to_army, known.army) else f" in {to_army}"
        done = Changed(f"{known.name} is now {name}{where}")
        change.words = done.words()
    return done


def set_plan(desk: Desk, unit: str, fields: Mapping[str, Any], *, army: str | None = None) -> Changed:
    """Set what is planned, by the names of the roster's columns; None or "" takes a value away.

    A unit that follows the usual route of its kind, standard and material goes on doing so when one of
    these changes; a route of one's own stays.
    """
    unknown = next((field for field in fields if field not in _SETTABLE), None)
    if unknown is not None:
        mend = did_you_mean(unknown, _SETTABLE, f"One of: {', '.join(_SETTABLE)}")
        raise UsageError(Problem("unit", f"{shown(unknown)} is nothing to set", mend))
    with desk.open() as store, store.change("unit") as change:
        known = the_unit(store, unit, army)
        before = one_unit(store, known.id)
        said = {field: _empty(field) if value is None else value for field, value in fields.items()}
        if said.get("finish_line"):
            said["finish_line"] = the_step(before.route, said["finish_line"], known.name)
        row = checked_plan(RosterRow(known.name, 1)._replace(**said))
        values = {field: getattr(row, field) for field in said}
        update_unit(store, known.id, values)
        more = _follow_usual_route(store, before, one_unit(store, known.id))
        if "material" in values and not same_name(row.material, before.material):
            more = "\n".join(part for part in (more, care_of(store, row.material, known.id)) if part)
        parts = ", ".join(f"{_words_of(field)} {_value(value, desk)}" for field, value in values.items())
        done = Changed(f"{known.name}: {parts}", more)
        change.words = done.words()
    return done


def set_order(desk: Desk, unit: str, place: int | None, *, army: str | None = None) -> Changed:
    """Put a unit at a place of the order, 1 = do first; None takes its place away."""
    with desk.open() as store, store.change("unit") as change:
        known = the_unit(store, unit, army)
        if place is None:
            update_unit(store, known.id, {"order": None})
            done = Changed(f"{known.name} has no place in the order")
        else:
            at = _put_at(store, _in_order(store), known.id, place)
            done = Changed(f"{known.name} is number {at} in the order")
        change.words = done.words()
    return done


def set_orders(desk: Desk, units: Sequence[tuple[str, str]]) -> Changed:
    """Put these units, as (unit, army), first in this order; the others follow as they stand."""
    with desk.open() as store, store.change("unit") as change:
        places = _in_order(store)
        first = [the_unit(store, unit, army or None) for unit, army in units]
        numbers = [known.id for known in first]
        _number(store, places, [*numbers, *(unit for unit in places if unit not in numbers)], len(numbers))
        done = Changed(f"the order is now {', '.join(known.name for known in first)}")
        change.words = done.words()
    return done


def move(desk: Desk, unit: str, by: int, *, army: str | None = None) -> Changed:
    """Move a unit in the order: -1 = one up, sooner; 1 = one down, later."""
    with desk.open() as store, store.change("unit") as change:
        known = the_unit(store, unit, army)
        places = _in_order(store)
        if known.id not in places:
            raise DataError(Problem("--unit", f"{shown(known.name)} has no models", "Add some first"))
        at = _put_at(store, places, known.id, max(list(places).index(known.id) + 1 + by, 1))
        done = Changed(f"{known.name} is number {at} in the order")
        change.words = done.words()
    return done


def _in_order(store: Store) -> dict[int, int | None]:
    """Places of the units that still have models, in the person's order, then by age."""
    found = sorted(places_of(store), key=lambda one: (one[1] is None, one[1] or 0, one[2], one[0]))
    return {unit: place for unit, place, _ in found}


def _put_at(store: Store, places: dict[int, int | None], unit_id: int, place: int) -> int:
    """Number the units anew with this one at its place; those behind it that had no number keep none."""
    if place < 1:
        raise DataError(Problem("--order", f"{place} is no place", "1 = do first"))
    others = [number for number in places if number != unit_id]
    at = min(place, len(others) + 1)
    order = [*others[: at - 1], unit_id, *others[at - 1 :]]
    _number(store, places, order, at)
    return at


def _number(store: Store, places: dict[int, int | None], order: Sequence[int], at_least: int) -> None:
    """Number the units in this order, as far as any of them had a number, and at least so many."""
    last = max([at_least, *(i for i, number in enumerate(order, 1) if places.get(number) is not None)])
    for i, number in enumerate(order[:last], start=1):
        if places.get(number) != i:
            update_unit(store, number, {"order": i})


def _follow_usual_route(store: Store, before: Unit, after: Unit) -> str:
    if before.route != _usual(before) or _usual(after) == before.route:
        return ""
    put_route(store, after.id, _usual(after))
    if after.finish_line and after.finish_line not in _usual(after):
        update_unit(store, after.id, {"finish_line": ""})
    return f"Its steps are now: {', '.join(_usual(after))}."


def _usual(unit: Unit) -> tuple[str, ...]:
    ranked = bool(unit.files and unit.ranks)
    return usual_route(unit.kind, unit.standard, unit.material, ranked=ranked)


def _empty(field: str) -> Any:
    """What a field holds when nothing is said of it."""
    return RosterRow("", 1)._asdict()[field]


def _words_of(field: str) -> str:
    return field.replace("_", " ")


def _value(value: Any, desk: Desk) -> str:
    if value in (None, ""):
        return "none"
    if isinstance(value, date):
        return day_words(value, desk.today())
    return f"{value:.12g}" if isinstance(value, float) else str(value)
