"""Models go from one unit to another: split, merge, spares, and a unit that retires as a whole.

What was done on a model goes with it: its cells are kept as marks of their own days, so that it no
longer matters what becomes of the unit whose lines told it.
"""

from __future__ import annotations

import os
from collections.abc import Sequence
from datetime import date
from typing import Any

from tracker.domain.problems import DataError, Problem
from tracker.domain.progress import progress_of
from tracker.domain.records import DEPARTURES
from tracker.domain.spares import Spare
from tracker.domain.text import same_name
from tracker.store.goals import goals_follow
from tracker.store.journal import Store
from tracker.store.models import insert_mark, move_models, spare_models
from tracker.store.ranks import forget_places
from tracker.store.read import one_unit, unit_records
from tracker.store.spares import spares_kept
from tracker.store.units import (
    delete_unit,
    find_army,
    find_units,
    insert_unit,
    move_history,
    set_route,
    update_unit,
)
from tracker.workbench.adding import PLAN_FIELDS
from tracker.workbench.desk import Desk
from tracker.workbench.lines import not_in_future
from tracker.workbench.models import said_models
from tracker.workbench.naming import KnownUnit, good_name, good_text, shown, the_unit
from tracker.workbench.spare_joins import join_unit
from tracker.workbench.units_plan import Changed
from tracker.workbench.words import count_words, day_words

_SHARED = ("points", "guess_minutes")
"""What a unit has in proportion to its models."""


def split(desk: Desk, unit: str, models: str, new: str, *, army: str | None = None) -> Changed:
    """Part of a unit becomes a unit of its own, with the same plan and route.

    `models` are numbers like "1-5,8", a name, or "last 8". Points and the guess are shared by models.
    """
    name = good_name("--new", new)
    with desk.open() as store, store.change("unit") as change:
        known = the_unit(store, unit, army)
        if any(same_name(its_army, known.army) for _, its_army, _ in find_units(store, name)):
            raise DataError(
                Problem("--new", f"there is a unit {shown(name)} already", "Merge them, or rename")
            )
        chosen = said_models(store, known.id, known.name, models)
        there = len(said_models(store, known.id, known.name, "all"))
        if len(chosen) == there:
            raise DataError(Problem("--models", "that is the whole unit", "Rename it, or say fewer"))
        new_id = _like(store, known, name, len(chosen) / there)
        take_over(store, known.id, [model for model, _ in chosen], new_id)
        rest = count_words(there - len(chosen), "model")
        said = f"{count_words(len(chosen), 'model')} of {known.name} became {name}, {rest} stayed"
        done = Changed(said)
        change.words = done.words()
    return done


def merge(
    desk: Desk, unit: str, into: str, *, army: str | None = None, into_army: str | None = None
) -> Changed:
    """A unit joins another one with its models and all that was logged of it; the other's plan stays."""
    with desk.open() as store, store.change("unit") as change:
        gone, kept = the_unit(store, unit, army), the_unit(store, into, into_army)
        if gone.id == kept.id:
            raise DataError(Problem("--into", "a unit cannot join itself", "Name another one"))
        records = unit_records(store, gone.id)
        kind, other = records.units[0].kind, one_unit(store, kept.id).kind
        moved = [model.id for model in records.models]
        if kind != other:
            for model in records.models:
                if not model.kind:
                    store.update("model", model.id, kind=kind)
        move_models(store, moved, kept.id)
        move_history(store, gone.id, kept.id)
        goals_follow(store, gone.id, kept.id)
        _earlier(store, kept.id, records.units[0].added_on)
        delete_unit(store, gone.id)
        done = Changed(f"{gone.name} joined {kept.name} with {count_words(len(moved), 'model')}")
        change.words = done.words()
    return done


def retire(
    desk: Desk, unit: str, how: str = "sold", *, army: str | None = None, day: date | None = None
) -> Changed:
    """All models of a unit leave; what was painted on them stays in the log."""
    if how not in DEPARTURES:
        raise DataError(
            Problem("--how", f"{shown(how)} is no way to leave", f"One of: {', '.join(DEPARTURES)}")
        )
    day = day or desk.evening_day()
    not_in_future(day, desk.today())
    with desk.open() as store, store.change("unit") as change:
        known = the_unit(store, unit, army)
        chosen = said_models(store, known.id, known.name, "all")
        for model, _ in chosen:
            store.update("model", model, left_on=day.isoformat(), left_how=how)
        forget_places(store, [model for model, _ in chosen])
        models, when = count_words(len(chosen), "model"), day_words(day, desk.today())
        done = Changed(f"{known.name} retired, {models} {how} ({when})")
        change.words = done.words()
    return done


def to_spares(desk: Desk, unit: str, models: str, *, army: str | None = None) -> Changed:
    """Models leave a unit and are kept as spares: no backlog any more."""
    with desk.open() as store, store.change("unit") as change:
        known = the_unit(store, unit, army)
        chosen = said_models(store, known.id, known.name, models)
        take_over(store, known.id, [model for model, _ in chosen], None)
        done = Changed(f"{count_words(len(chosen), 'model')} of {known.name} became spares")
        change.words = done.words()
    return done


def give_role(
    desk: Desk, numbers: Sequence[int], unit: str, *, army: str | None = None, name: str = ""
) -> Changed:
    """Spares, by their numbers, join a unit; `name` names a single one."""
    good_text("--named", name)
    with desk.open() as store, store.change("unit") as change:
        known = the_unit(store, unit, army)
        spares = {number: model for model, number in spare_models(store)}
        missing = [number for number in numbers if number not in spares]
        if missing or not numbers:
            there = ", ".join(map(str, list(spares)[:10])) or "none"
            what = f"there is no spare {missing[0]}" if missing else "no spare is said"
            raise DataError(Problem("--spares", what, f"There are: {there}"))
        if name and len(numbers) > 1:
            raise DataError(Problem("--named", "one name for several models", "Give them one at a time"))
        chosen = [spares[number] for number in dict.fromkeys(numbers)]
        behind = join_unit(store, chosen, known.id, desk.evening_day())
        if name:
            store.update("model", chosen[0], name=name)
        done = Changed(f"{count_words(len(chosen), 'spare')} joined {known.name}", behind)
        change.words = done.words()
    return done


def spares(desk: Desk) -> tuple[Spare, ...]:
    """Models without a unit, by number."""
    if not os.path.lexists(desk.path):
        return ()
    with desk.open() as store:
        return spares_kept(store)


def _like(store: Store, known: KnownUnit, name: str, share: float) -> int:
    """A new unit of the same plan and route, with its share of points and guess taken from the old one."""
    old = one_unit(store, known.id)
    fields: dict[str, Any] = {field: getattr(old, field) for field in PLAN_FIELDS}
    fields |= {field: None if fields[field] is None else fields[field] * share for field in _SHARED}
    fields |= {"files": None, "ranks": None, "open_ended": 0, "added_on": old.added_on}
    army_id = find_army(store, known.army) or old.army_id
    new_id = insert_unit(store, army_id, name, fields)
    set_route(store, new_id, old.route)
    kept = {field: getattr(old, field) * (1 - share) for field in _SHARED if getattr(old, field) is not None}
    if kept:
        update_unit(store, known.id, kept)
    return new_id


def take_over(store: Store, unit_id: int, models: Sequence[int], new_unit: int | None) -> None:
    """Move models, and keep as marks where they stand."""
    records, wanted = unit_records(store, unit_id), set(models)
    for (model, step), cell in progress_of(records).cells.items():
        if model in wanted:
            insert_mark(store, model, step, cell.state, cell.on)
    move_models(store, models, new_unit)


def _earlier(store: Store, unit_id: int, day: date) -> None:
    """The joined unit was there since the older of the two came in."""
    if day < one_unit(store, unit_id).added_on:
        update_unit(store, unit_id, {"added_on": day})
