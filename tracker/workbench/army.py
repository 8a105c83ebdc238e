"""The army as it stands: every unit with the models that each step still needs; and the evenings so far."""

from __future__ import annotations

from datetime import date

from tracker.domain.standings import ArmyAnswer, StepLeft, UnitSheet, UnitStanding, unit_sheet
from tracker.domain.work import UnitWork, session_minutes, work_left
from tracker.store.read import unit_records
from tracker.store.spares import stand_ins_of
from tracker.workbench.desk import Desk
from tracker.workbench.naming import the_unit


def army_list(desk: Desk) -> ArmyAnswer:
    """Every unit that still has models, in the person's order, and how many spares there are."""
    known = desk.records()
    armies = {army.id: army.name for army in known.armies}
    units = tuple(_standing(work, armies[work.unit.army_id]) for work in work_left(known) if work.models)
    spares = sum(model.unit_id is None and model.left_on is None for model in known.models)
    return ArmyAnswer(desk.evening_day(), units, spares)


def _standing(work: UnitWork, army: str) -> UnitStanding:
    left: dict[str, int] = {}
    for line in work.lines:
        left[line.step] = left.get(line.step, 0) + line.models
    unit = work.unit
    steps = tuple(StepLeft(step, left.get(step, 0)) for step in work.before)
    return UnitStanding(
        army, unit.name, unit.kind, unit.order, work.models, work.models_ready, steps,
        unit.goal_date, unit.goal, unit.points,
    )  # fmt: skip


def evening_minutes(desk: Desk) -> tuple[tuple[date, float | None], ...]:
    """(day, minutes) of every day at the desk, oldest first; None where nobody said how long."""
    known = desk.records()
    minutes = session_minutes(known)
    out: dict[date, float | None] = {}
    for session in sorted(known.sessions, key=lambda session: session.date):
        said, before = minutes[session.id], out.get(session.date)
        out[session.date] = before if said is None else (before or 0.0) + said
    return tuple(out.items())


def sheet(desk: Desk, unit: str, army: str | None = None) -> UnitSheet:
    """The unit's models down and its steps across; a `DataError` where there is no such unit."""
    with desk.open() as store:
        known = unit_records(store, the_unit(store, unit, army).id)
        stand_ins = stand_ins_of(store, known.units[0].id)
    whole = unit_sheet(known, known.units[0], desk.now())
    if not stand_ins:
        return whole
    rows = tuple(row._replace(stand_in=stand_ins.get(row.number, "")) for row in whole.rows)
    return whole._replace(rows=rows)
