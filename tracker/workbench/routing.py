"""Changing a unit's route and its finish line."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from tracker.domain.problems import DataError, Problem
from tracker.domain.steps import find_step
from tracker.domain.text import same_name
from tracker.store.evenings import rename_step
from tracker.store.journal import Store
from tracker.store.read import one_unit
from tracker.store.units import insert_own_step, own_steps, set_wait
from tracker.workbench.adding import put_route
from tracker.workbench.desk import Desk
from tracker.workbench.lines import remember_step
from tracker.workbench.naming import (
    catalogue_name,
    good_name,
    new_step_name,
    on_route,
    place_step,
    shown,
    the_step,
    the_unit,
)

WAIT_HOURS_MOST = 24 * 365


class RouteWish(NamedTuple):
    """What should become of a route; each part only if it is said, in this order."""

    steps: tuple[str, ...] = ()
    """The whole route anew, in order."""
    renamed: tuple[tuple[str, str], ...] = ()
    """(old, new) names; progress stays."""
    dropped: tuple[str, ...] = ()
    added: tuple[tuple[str, str], ...] = ()
    """(step, the step it follows); without that step it goes where the catalogue has it."""
    finish_line: str | None = None
    """The step after which models are table-ready; "" = the last of the route."""
    waits: tuple[tuple[str, float], ...] = ()
    """(step, hours until the next may start), for every unit."""


class RouteNow(NamedTuple):
    """A unit's route after a change."""

    unit: str
    steps: tuple[str, ...]
    finish_line: str
    changed: bool

    def words(self) -> str:
        """As in "the route of Spears: cleaning, priming, …"."""
        return f"the route of {self.unit}: {', '.join(self.steps)}"

    def sentence(self) -> str:
        """The route, its finish line marked."""
        last = self.finish_line or (self.steps[-1] if self.steps else "")
        steps = ", ".join(f"{step} (finish line)" if same_name(step, last) else step for step in self.steps)
        return f"Route of {self.unit}: {steps or 'no steps'}."


def change_route(desk: Desk, unit: str, wish: RouteWish, *, army: str | None = None) -> RouteNow:
    """Change a unit's route; a `DataError` and nothing changed if a part of the wish cannot be."""
    with desk.open() as store, store.change("route") as change:
        known = the_unit(store, unit, army)
        before = one_unit(store, known.id)
        route = _wished(store, known.id, known.name, before.route, wish)
        finish = _finish(route, known.name, before.finish_line, wish)
        for step, hours in wish.waits:
            _set_wait(store, the_step(route, step, known.name), hours)
        if route != before.route:
            put_route(store, known.id, route)
        if finish != before.finish_line:
            store.update("unit", known.id, finish_line=finish)
        changed = bool(store.rows("SELECT 1 FROM change_row WHERE change_id = ? LIMIT 1", (change.number,)))
        now = RouteNow(known.name, route, finish, changed)
        change.words = now.words()
    return now


def _wished(
    store: Store, unit_id: int, unit: str, route: tuple[str, ...], wish: RouteWish
) -> tuple[str, ...]:
    if wish.steps:
        route = _anew(store, route, wish.steps)
    for old, new in wish.renamed:
        route = _renamed(store, (unit_id, unit), route, old, new)
    for step in wish.dropped:
        gone = the_step(route, step, unit)
        route = tuple(s for s in route if s != gone)
    for step, after in wish.added:
        route = _with_step(store, unit, route, step, after)
    if not route:
        raise DataError(Problem("route", f"{shown(unit)} would have no step left", "Keep one"))
    return route


def _anew(store: Store, route: Sequence[str], said: Sequence[str]) -> tuple[str, ...]:
    out: list[str] = []
    for name in said:
        step = on_route(route, name) or new_step_name(store, good_name("--steps", name))
        if step in out:
            raise DataError(Problem("--steps", f"the step {shown(step)} stands there twice", "Name it once"))
        out.append(step)
    return tuple(out)


def _renamed(
    store: Store, which: tuple[int, str], route: tuple[str, ...], old: str, new: str
) -> tuple[str, ...]:
    unit_id, unit = which
    before, after = the_step(route, old, unit), good_name("--rename", new)
    if any(same_name(step, after) for step in route if step != before):
        raise DataError(Problem("--rename", f"{shown(after)} is on the route already", "Use another name"))
    if find_step(after) is None and after.casefold() not in own_steps(store):
        catalogue = find_step(before)
        insert_own_step(store, after, catalogue.name if catalogue else "")
    rename_step(store, unit_id, before, after)
    return tuple(after if step == before else step for step in route)


def _with_step(store: Store, unit: str, route: tuple[str, ...], said: str, after: str) -> tuple[str, ...]:
    step = new_step_name(store, catalogue_name(good_name("--add", said)))
    if any(same_name(step, there) for there in route):
        raise DataError(Problem("--add", f"{shown(step)} is on the route already", "Nothing to add"))
    if not after:
        return place_step(route, step)
    place = route.index(the_step(route, after, unit)) + 1
    return (*route[:place], step, *route[place:])


def _finish(route: tuple[str, ...], unit: str, before: str, wish: RouteWish) -> str:
    if wish.finish_line is not None:
        return the_step(route, wish.finish_line, unit) if wish.finish_line else ""
    for old, new in wish.renamed:
        before = new if same_name(old, before) else before
    return before if before and any(same_name(before, step) for step in route) else ""


def _set_wait(store: Store, step: str, hours: float) -> None:
    if not 0 <= hours <= WAIT_HOURS_MOST:
        raise DataError(Problem("--wait", f"{hours:g} hours cannot be", f"Say 0 to {WAIT_HOURS_MOST} hours"))
    if step.casefold() in own_steps(store):
        set_wait(store, step, hours)
    elif find_step(step):
        insert_own_step(store, step, step, hours)
    else:
        remember_step(store, step)
        set_wait(store, step, hours)
