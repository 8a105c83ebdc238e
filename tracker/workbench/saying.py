"""A plain sentence as an entry of the log."""

from __future__ import annotations

from tracker.domain.problems import DataError, Problem
from tracker.domain.steps import CATALOGUE
from tracker.sheets.sentence import UnitName, read_sentence
from tracker.store.evenings import lines_of_step, marks_of_step
from tracker.store.journal import Store
from tracker.store.units import all_unit_names, own_steps, route_of
from tracker.workbench.desk import Desk
from tracker.workbench.lines import Entry
from tracker.workbench.naming import good_text, the_unit


def entry_from_sentence(desk: Desk, text: str) -> Entry:
    """What "washed 10 spears, 50 min" means among the log's units; a `DataError` if that is unclear."""
    good_text("log", text)
    with desk.open() as store:
        known = all_unit_names(store)
        routes = {name.casefold(): route_of(store, number) for number, _, name in reversed(known)}
        steps = dict.fromkeys((*CATALOGUE, *own_steps(store).values()))
    said = read_sentence(
        text,
        [UnitName(name, army) for _, army, name in known],
        list(steps),
        desk.evening_day(),
        route_of=lambda unit: routes.get(unit.casefold(), ()),
    )
    if isinstance(said, Problem):
        raise DataError(said)
    return Entry(
        said.unit,
        _soap_or_shade_of(desk, text, said.unit, said.army, said.step),
        said.army,
        "all" if said.all_left else said.models,
        said.minutes,
        said.day,
        said.finished,
        said.guess_minutes,
        said.note,
    )


def _soap_or_shade_of(desk: Desk, text: str, unit: str, army: str | None, step: str) -> str:
    if not _may_be_soap(text, step):
        return step
    with desk.open() as store:
        return soap_or_shade(store, the_unit(store, unit, army).id, text, step)


def soap_or_shade(store: Store, unit_id: int, text: str, step: str) -> str:
    """The step that "washed" means: a shade cannot be on models that have no colour yet.

    Where no model of the unit has been painted it was soap, on the route or not; the log then offers to
    put it there. Any other word stands as it is.
    """
    if not _may_be_soap(text, step):
        return step
    painted = any(
        lines_of_step(store, unit_id, colour) or marks_of_step(store, unit_id, colour)
        for colour in ("shade", *CATALOGUE["shade"].after)
    )
    return "shade" if painted else "washing"


def _may_be_soap(text: str, step: str) -> bool:
    return step.casefold() == "shade" and "wash" in text.casefold()
