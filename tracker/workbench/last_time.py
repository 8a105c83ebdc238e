"""What a line leaves out and the log can tell: the unit worked on last, its next step, how many."""

from __future__ import annotations

from datetime import datetime
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple

from tracker.domain.records import Session
from tracker.store.evenings import last_lines
from tracker.store.journal import Store
from tracker.store.units import all_unit_names, route_of
from tracker.workbench.desk import Desk
from tracker.workbench.heard import UnderstoodLine, UnitChoice
from tracker.workbench.naming import KnownUnit
from tracker.workbench.standing import Standing

if TYPE_CHECKING:
    from tracker.domain.ready import ReadyLine


class Done(NamedTuple):
    """The last line of a unit."""

    step: str
    models: int
    finished: bool


class LastTime:
    """The last line of every unit, the most recent unit first; lines of the same entry count too."""

    def __init__(self, store: Store, desk: Desk, *, other_units: bool = True) -> None:
        self.store = store
        self._other_units = other_units
        self.now: datetime = desk.now()
        self.total_said = False
        """Whether the evening's total stands for the minutes of its lines."""
        self.units = [KnownUnit(*row) for row in all_unit_names(store)]
        self._ready: dict[int, tuple[ReadyLine, ...]] = {}
        self._standings: dict[tuple[int, str], Standing] = {}

    @cached_property
    def last(self) -> dict[KnownUnit, Done]:
        """Each unit's last line, the most recent unit first."""
        by_id = {unit.id: unit for unit in self.units}
        return {by_id[unit]: Done(step, models, done) for unit, step, models, done in last_lines(self.store)}

    def choices(self) -> list[UnitChoice]:
        """Every unit, the ones worked on last first; none where they are not wanted."""
        if not self._other_units:
            return []
        units = dict.fromkeys((*self.last, *self.units))
        return [UnitChoice(unit.army, unit.name) for unit in units]

    def unit(self) -> KnownUnit | None:
        """The unit worked on last that has something to do, else the first that has, else the last one."""
        for unit in dict.fromkeys((*self.last, *self.units)):
            if self.ready(unit):
                return unit
        return next(iter(self.last), self.units[0] if self.units else None)

    def ready(self, unit: KnownUnit) -> tuple[ReadyLine, ...]:
        """The unit's steps that can be worked on now, in route order; what is drying, where all is."""
        if unit.id not in self._ready:
            from tracker.domain.ready import ready_lines  # only where something is left out
            from tracker.store.read import unit_records

            answer = ready_lines(unit_records(self.store, unit.id), self.now)
            self._ready[unit.id] = answer.ready or answer.drying
        return self._ready[unit.id]

    def step(self, unit: KnownUnit) -> str | None:
        """The step in hand, else the one done last while models are left, else the next that is ready."""
        ready = self.ready(unit)
        begun = next((line.step for line in ready if line.in_hand), None)
        if begun is not None or not ready:
            return begun
        last = self.last.get(unit)
        steps = [line.step for line in ready]
        if last is None or last.step in steps:
            return last.step if last else steps[0]
        route = route_of(self.store, unit.id)
        place = route.index(last.step) if last.step in route else -1
        return next((step for step in steps if route.index(step) > place), steps[0])

    def standing(self, unit: KnownUnit, step: str) -> Standing:
        """The open models of a step; what earlier lines of the entry take is taken."""
        key = (unit.id, step)
        if key not in self._standings:
            self._standings[key] = Standing(self.store, unit.id, step, Session(0, self.now.date()))
        return self._standings[key]

    def batch(self, unit: KnownUnit) -> int | None:
        """How many models were worked on last time."""
        last = self.last.get(unit)
        return last.models or None if last else None

    def worked_on(self, line: UnderstoodLine) -> None:
        """A line of the same entry is what came last for the next one."""
        for unit in self.units:
            if (unit.army, unit.name) == (line.army, line.unit) and line.problem is None:
                self.last = {unit: Done(line.step, line.models, line.finished)} | {
                    other: done for other, done in self.last.items() if other != unit
                }
