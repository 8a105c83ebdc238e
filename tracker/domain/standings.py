"""How units stand: which steps how many of their models still need."""

from __future__ import annotations

from datetime import date, datetime
from typing import NamedTuple

from tracker.domain.progress import Progress, alive, finish_steps, progress_of
from tracker.domain.records import CellState, Model, Records, Unit


class StepLeft(NamedTuple):
    """A step of a unit's route and how many models still need it."""

    step: str
    models: int


class UnitStanding(NamedTuple):
    """A unit that is on the desk."""

    army: str
    unit: str
    kind: str
    order: int | None
    models: int
    models_ready: int
    steps: tuple[StepLeft, ...]
    """Every step up to the finish line, in route order."""
    goal_date: date | None = None
    goal: str = ""
    points: float | None = None


class ArmyAnswer(NamedTuple):
    """Every unit that has models, in the person's order."""

    as_of: date
    units: tuple[UnitStanding, ...]
    spares: int
    """Models without a unit: kept, but no backlog."""


class SheetCell(NamedTuple):
    """Where one model stands with one step."""

    state: CellState
    on: date | None = None
    until: datetime | None = None
    """When it is dry; only while it dries."""


class SheetRow(NamedTuple):
    """One model of a unit and its cells, in route order."""

    number: int
    name: str
    part: str
    note: str
    cells: tuple[SheetCell, ...]
    stand_in: str = ""
    """How it fills its role, see `keeping.StandIn`."""


class UnitSheet(NamedTuple):
    """A unit's models down, its steps across."""

    army: str
    unit: str
    steps: tuple[str, ...]
    finish_line: str
    """The step after which a model is table-ready."""
    rows: tuple[SheetRow, ...]
    goal_date: date | None = None
    goal: str = ""
    note: str = ""


def unit_sheet(records: Records, unit: Unit, now: datetime) -> UnitSheet:
    """Every model of the unit that has not left, and where it stands at a moment."""
    progress = progress_of(records)
    army = next(army.name for army in records.armies if army.id == unit.army_id)
    rows = tuple(_sheet_row(model, unit, progress, now) for model in alive(records.models, unit.id))
    finish = (finish_steps(unit) or ("",))[-1]
    return UnitSheet(army, unit.name, unit.route, finish, rows, unit.goal_date, unit.goal, unit.note)


def _sheet_row(model: Model, unit: Unit, progress: Progress, now: datetime) -> SheetRow:
    cells = []
    for step in unit.route:
        known = progress.cells.get((model.id, step))
        state = progress.state(model.id, step, now)
        until = progress.dry_at(model.id, step) if state == "drying" else None
        cells.append(SheetCell(state, known.on if known else None, until))
    return SheetRow(model.number, model.name, model.part, model.note, tuple(cells))
