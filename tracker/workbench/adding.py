"""Putting units and spare models on the desk."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
from typing import Any, NamedTuple

from tracker.domain.bases import parse_base
from tracker.domain.problems import DataError, Problem, did_you_mean
from tracker.domain.routes import usual_route
from tracker.domain.rows import RosterRow
from tracker.domain.steps import find_step
from tracker.domain.text import same_name
from tracker.store.journal import Store
from tracker.store.models import insert_mark, insert_models
from tracker.store.units import (
    find_army,
    find_units,
    insert_army,
    insert_unit,
    set_route,
)
from tracker.workbench.desk import Desk
from tracker.workbench.lines import GUESS_MINUTES_MOST, remember_step
from tracker.workbench.naming import good_minutes, good_name, good_text, on_route, shown, the_unit
from tracker.workbench.words import count_words

MODELS_MOST = 10_000
PLAN_FIELDS = (
    "kind", "material", "standard", "base", "files", "ranks", "points", "guess_minutes", "goal_date", "goal",
    "order", "source", "cost", "note", "finish_line",
)  # fmt: skip
"""Fields that a roster row and a unit share."""


class Figure(NamedTuple):
    """A model of a unit that has a name, and perhaps a kind of its own."""

    name: str
    kind: str = ""


class Added(NamedTuple):
    """Models that came in."""

    army: str
    unit: str
    """Empty for spares."""
    models: int
    models_of_unit: int
    steps: tuple[str, ...]
    steps_behind: int
    """How many steps they came in with behind them."""
    care: str = ""
    """The caution for a material that is new on this desk; empty = none."""

    def words(self) -> str:
        """As in "20 models of Spears (My army)"."""
        if not self.unit:
            return f"{count_words(self.models, 'spare model')}"
        return f"{count_words(self.models, 'model')} of {self.unit} ({self.army})"

    def sentence(self) -> str:
        """What was stored and the route they have before them."""
        if not self.unit:
            return f"Added: {self.words()}. Spares are kept and are no backlog."
        behind = f" {self.steps_behind} of them behind it already." if self.steps_behind else ""
        said = f"Added: {self.words()}. {len(self.steps)} steps: {', '.join(self.steps)}.{behind}"
        return said + (f"\n{self.care}" if self.care else "")


def add_unit(
    desk: Desk, row: RosterRow, *, already: str = "", figures: Sequence[Figure] = (), more: bool = False
) -> Added:
    """Add a unit with its models; with `more`, models to a unit that is there.

    The models come in with every step up to `already` behind them. `figures` name the first models.
    A `DataError` says what cannot be.
    """
    row = checked_plan(row)
    if not 1 <= row.models <= MODELS_MOST:
        raise DataError(Problem("--models", f"{row.models} models cannot be", f"Say 1 to {MODELS_MOST}"))
    if len(figures) > row.models:
        raise DataError(Problem("--named", f"{len(figures)} names for {row.models} models", "Name fewer"))
    day = row.added or desk.evening_day()
    with desk.open(create=True) as store, store.change("add") as change:
        unit_id, army, unit = _more_of(store, row) if more else _new(store, row, day)
        route = tuple(step for (step,) in store.rows(
            "SELECT step FROM route_step WHERE unit_id = ? ORDER BY place", (unit_id,)
        ))  # fmt: skip
        behind = steps_behind(route, already, unit)
        models = put_models(store, unit_id, row.models, day, behind)
        name_figures(store, models, figures)
        of_unit = store.rows("SELECT count(*) FROM model WHERE unit_id = ? AND left_on IS NULL", (unit_id,))[
            0
        ][0]
        care = "" if more else care_of(store, row.material, unit_id)
        added = Added(army, unit, row.models, of_unit, route, len(behind), care)
        change.words = added.words()
    return added


def care_of(store: Store, material: str, unit_id: int) -> str:
    """The caution for the material of a unit, where no other unit brought it up."""
    if same_name(material, "plastic"):
        return ""
    from tracker.workbench.cautions import first_of_material

    return first_of_material(store, material, unit_id)


def add_spares(desk: Desk, models: int, *, kind: str = "", note: str = "", day: date | None = None) -> Added:
    """Add models without a unit: kept, but no backlog."""
    if not 1 <= models <= MODELS_MOST:
        raise DataError(Problem("--spares", f"{models} models cannot be", f"Say 1 to {MODELS_MOST}"))
    good_text("--kind", kind)
    good_text("--note", note)
    with desk.open(create=True) as store, store.change("add") as change:
        insert_models(store, None, models, day or desk.evening_day(), kind=kind, note=note)
        added = Added("", "", models, models, (), 0)
        change.words = added.words()
    return added


def checked_plan(row: RosterRow) -> RosterRow:
    """The row with tidy names; a `DataError` for what no unit can have."""
    for option, text in (("--kind", row.kind), ("--material", row.material), ("--standard", row.standard)):
        good_name(option, text)
    for option, text in (("--goal", row.goal), ("--source", row.source), ("--cost", row.cost)):
        good_text(option, text)
    good_text("--note", row.note)
    good_minutes("--guess", row.guess_minutes, GUESS_MINUTES_MOST)
    for option, count in (("--files", row.files), ("--ranks", row.ranks)):
        if count is not None and not 1 <= count <= MODELS_MOST:
            raise DataError(Problem(option, f"{count} cannot be", f"Say 1 to {MODELS_MOST}"))
    if row.points is not None and not 0 <= row.points < float("inf"):
        raise DataError(Problem("--points", f"{row.points:g} cannot be", "Say 0 or more"))
    base = parse_base(row.base) if row.base else None
    if isinstance(base, Problem):
        raise DataError(base._replace(where="--base"))
    names = (good_name("--steps", step) for step in row.steps)
    steps = tuple(known.name if (known := find_step(name)) else name for name in names)
    twice = next((s for i, s in enumerate(steps) if any(same_name(s, other) for other in steps[:i])), None)
    if twice is not None:
        raise DataError(Problem("--steps", f"the step {shown(twice)} stands there twice", "Name it once"))
    return row._replace(army=good_name("--army", row.army), unit=good_name("--unit", row.unit), steps=steps)


def route_for(row: RosterRow) -> tuple[str, ...]:
    """The route a row asks for, or the usual one of its kind; its finish line must stand on it."""
    usual = usual_route(row.kind, row.standard, row.material, ranked=bool(row.files and row.ranks))
    route = row.steps or usual
    if row.finish_line and not any(same_name(row.finish_line, step) for step in route):
        mend = did_you_mean(row.finish_line, route, "Name one of its steps")
        raise DataError(Problem("--finish", f"{shown(row.finish_line)} is none of its steps", mend))
    return route


def make_unit(store: Store, row: RosterRow, day: date, *, open_ended: bool = False) -> tuple[int, str]:
    """Put in a unit without models, and its army if need be; (id, army name)."""
    army_id = find_army(store, row.army) or insert_army(store, row.army)
    army = store.rows("SELECT name FROM army WHERE id = ?", (army_id,))[0][0]
    fields: dict[str, Any] = {field: getattr(row, field) for field in PLAN_FIELDS}
    unit_id = insert_unit(store, army_id, row.unit, fields | {"open_ended": int(open_ended), "added_on": day})
    return unit_id, str(army)


def put_route(store: Store, unit_id: int, route: Sequence[str]) -> None:
    """Set a unit's route and keep steps that the catalogue does not have."""
    for step in route:
        remember_step(store, step)
    set_route(store, unit_id, route)


def put_models(store: Store, unit_id: int, count: int, day: date, behind: Iterable[str] = ()) -> list[int]:
    """Add models that come in with steps behind them; their ids."""
    models = [model for model, _ in insert_models(store, unit_id, count, day)]
    for step in behind:
        for model in models:
            insert_mark(store, model, step, "done", day)
    return models


def steps_behind(route: Sequence[str], already: str, unit: str) -> tuple[str, ...]:
    """The steps up to and with `already`."""
    if not already:
        return ()
    step = on_route(route, already)
    if step is None:
        mend = did_you_mean(already, route, "Name one of its steps")
        raise DataError(Problem("--already", f"{shown(already)} is not on the route of {shown(unit)}", mend))
    return tuple(route[: route.index(step) + 1])


def name_figures(store: Store, models: Sequence[int], figures: Sequence[Figure]) -> None:
    """Name the first models."""
    for model, figure in zip(models, figures, strict=False):
        store.update(
            "model", model, name=good_name("--named", figure.name), kind=good_text("--named", figure.kind)
        )


def _new(store: Store, row: RosterRow, day: date) -> tuple[int, str, str]:
    there = [army for _, army, _ in find_units(store, row.unit) if same_name(army, row.army)]
    if there:
        raise DataError(
            Problem("--unit", f"there is a unit {shown(row.unit)} already", "Say --more to add models to it")
        )
    route = route_for(row)
    unit_id, army = make_unit(store, row, day)
    put_route(store, unit_id, route)
    return unit_id, army, row.unit


def _more_of(store: Store, row: RosterRow) -> tuple[int, str, str]:
    return the_unit(store, row.unit, row.army)
