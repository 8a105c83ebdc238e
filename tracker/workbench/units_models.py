"""Single models: a name, a note, a part of their own, and a step more or less than their unit has."""

from __future__ import annotations

from typing import NamedTuple

from tracker.domain.problems import DataError, Problem
from tracker.domain.text import same_name
from tracker.store.journal import Store
from tracker.store.models import insert_mark
from tracker.store.units import route_of
from tracker.workbench.adding import put_route
from tracker.workbench.desk import Desk
from tracker.workbench.models import number_ranges, said_models
from tracker.workbench.naming import (
    catalogue_name,
    good_name,
    good_text,
    new_step_name,
    place_step,
    shown,
    the_step,
    the_unit,
)
from tracker.workbench.units_plan import Changed


class ModelWish(NamedTuple):
    """What should become of models; None = as it is, "" = taken away."""

    name: str | None = None
    note: str | None = None
    part: str | None = None
    """Which part it is, where parts are painted apart: "rider", "mount"."""
    kind: str | None = None


def change_models(desk: Desk, unit: str, models: str, wish: ModelWish, *, army: str | None = None) -> Changed:
    """Name a model, or give models ("1-5,8", a name, "all") a note, a part, a kind of their own."""
    fields = {field: good_text(f"--{field}", value).strip() for field, value in wish._asdict().items()
              if value is not None}  # fmt: skip
    if not fields:
        raise DataError(Problem("--name", "nothing is said", "Say --name, --note, --part or --kind"))
    with desk.open() as store, store.change("models") as change:
        known = the_unit(store, unit, army)
        chosen = said_models(store, known.id, known.name, models)
        if fields.get("name") and len(chosen) > 1:
            raise DataError(Problem("--name", "one name for several models", "Name them one at a time"))
        for model, _ in chosen:
            store.update("model", model, **fields)
        what = ", ".join(f"{field} {value or 'none'}" for field, value in fields.items())
        done = Changed(f"{known.name} {number_ranges([number for _, number in chosen])}: {what}")
        change.words = done.words()
    return done


def add_step_for(
    desk: Desk, unit: str, models: str, step: str, *, after: str = "", army: str | None = None
) -> Changed:
    """A step for some models only: it goes on the unit's route, and the others skip it."""
    said = good_name("--step", step)
    day = desk.evening_day()
    with desk.open() as store, store.change("models") as change:
        known = the_unit(store, unit, army)
        chosen = said_models(store, known.id, known.name, models)
        name = _on_route(store, (known.id, known.name), said, after)
        numbers = [number for _, number in chosen]
        meant = {model for model, _ in chosen}
        for model, _ in said_models(store, known.id, known.name, "all"):
            if model not in meant:
                insert_mark(store, model, name, "skipped", day)
        done = Changed(f"{known.name} {number_ranges(numbers)}: step {name}, the others skip it")
        change.words = done.words()
    return done


def _on_route(store: Store, unit: tuple[int, str], said: str, after: str) -> str:
    """Put a new step on the unit's route; its name."""
    unit_id, unit_name = unit
    route = route_of(store, unit_id)
    step = new_step_name(store, catalogue_name(said))
    if any(same_name(step, there) for there in route):
        what = f"{shown(step)} is on the route of {shown(unit_name)} already"
        raise DataError(Problem("--step", what, "Mark it: lastcoat mark"))
    if after:
        place = route.index(the_step(route, after, unit_name)) + 1
        put_route(store, unit_id, (*route[:place], step, *route[place:]))
    else:
        put_route(store, unit_id, place_step(route, step))
    return step
