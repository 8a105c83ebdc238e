"""The backlog's course: what was left at the end of each day on which something moved."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date
from typing import NamedTuple

from tracker.domain.answers import BacklogDay
from tracker.domain.progress import finish_steps
from tracker.domain.records import Line, Mark, Records, Unit

StepMinutes = Mapping[tuple[int, str], float]
"""Median minutes per model by (unit id, step)."""


class Move(NamedTuple):
    """One thing that changed the backlog on a day."""

    date: date
    order: int
    """Within a day: a model comes in (0), a step moves (1), a model leaves (2)."""
    place: int
    """Moves of one day and order keep the order in which they were stored."""
    model_id: int
    step: str = ""
    opened: bool = False
    """For a step: whether it was taken back rather than done."""


def backlog_course(records: Records, step_minutes: StepMinutes) -> tuple[BacklogDay, ...]:
    """Models and minutes left at the end of every day on which the backlog moved.

    A model is backlog from the day it came in until every step up to its unit's finish line is
    behind it, or until it leaves; spares are none. Day by day, models = models of the day before +
    added - finished - taken away; a finished model that is opened again counts as added. One pass
    over all events, in proportion to their number.
    """
    units = {unit.id: unit for unit in records.units}
    state = _State(records, units, step_minutes)
    days: list[BacklogDay] = []
    for move in sorted(moves_of(records, units)):
        if not days or days[-1].date != move.date:
            days.append(BacklogDay(move.date, state.models, state.minutes))
        added, finished, taken = state.apply(move)
        last = days[-1]
        days[-1] = BacklogDay(
            move.date,
            state.models,
            max(state.minutes, 0.0) if state.models else 0.0,
            last.added + added,
            last.finished + finished,
            last.taken_away + taken,
        )
    return tuple(days)


class _State:
    """What is left as the moves are applied one after the other."""

    def __init__(self, records: Records, units: Mapping[int, Unit], step_minutes: StepMinutes) -> None:
        self.models = 0
        self.minutes = 0.0
        self._open: dict[int, set[str]] = {}
        self._unit_of = {m.id: m.unit_id for m in records.models if m.unit_id in units}
        self._steps = {unit.id: frozenset(finish_steps(unit)) for unit in units.values()}
        self._step_minutes = step_minutes

    def apply(self, move: Move) -> tuple[int, int, int]:
        """Apply one move; models it (added, finished, took away)."""
        unit_id = self._unit_of[move.model_id] or 0
        if move.order == 0:
            self._open[move.model_id] = set(self._steps[unit_id])
            return self._count(
                bool(self._steps[unit_id]), sum(self._cost(unit_id, s) for s in self._steps[unit_id])
            )
        left = self._open[move.model_id]
        if move.order == 2:
            gone = bool(left)
            self.models -= gone
            self.minutes -= sum(self._cost(unit_id, step) for step in left)
            left.clear()
            return 0, 0, int(gone)
        if move.opened:
            reopened = not left
            left.add(move.step)
            return self._count(reopened, self._cost(unit_id, move.step))
        left.discard(move.step)
        self.models -= not left
        self.minutes -= self._cost(unit_id, move.step)
        return 0, int(not left), 0

    def _count(self, is_new: bool, minutes: float) -> tuple[int, int, int]:
        self.models += is_new
        self.minutes += minutes
        return int(is_new), 0, 0

    def _cost(self, unit_id: int, step: str) -> float:
        return self._step_minutes.get((unit_id, step), 0.0)


def moves_of(records: Records, units: Mapping[int, Unit]) -> Iterable[Move]:
    """Comings, steps and leavings of all models that have a unit; in no order."""
    mine = {model.id: model for model in records.models if model.unit_id in units}
    for model in mine.values():
        yield Move(model.added_on, 0, 0, model.id)
        if model.left_on is not None:
            yield Move(max(model.left_on, model.added_on), 2, 0, model.id)
    steps = {unit.id: frozenset(finish_steps(unit)) for unit in units.values()}
    last_change: dict[tuple[int, str], date] = {}
    behind: set[tuple[int, str]] = set()
    for place, (model_id, step, day, done) in enumerate(_changes(records)):
        key = (model_id, step)
        if model_id not in mine or done == (key in behind):
            continue
        model = mine[model_id]
        if step not in steps[model.unit_id or 0]:
            continue
        # Lines may be entered late: a later word about an earlier day counts from the earlier word on.
        on = max(day, model.added_on, last_change.get(key, day))
        (behind.add if done else behind.discard)(key)
        last_change[key] = on
        if model.left_on is None or on <= model.left_on:
            yield Move(on, 1, place, model_id, step, not done)


def _changes(records: Records) -> Iterable[tuple[int, str, date, bool]]:
    """(model, step, day, behind it?) of every line and mark, in the order they were stored."""
    day = {session.id: session.date for session in records.sessions}
    placed: list[tuple[tuple[int, int, int], Line | Mark]] = [((x.id, 0, 0), x) for x in records.lines]
    placed += [((mark.after_line, 1, mark.id), mark) for mark in records.marks]
    for _, event in sorted(placed, key=lambda pair: pair[0]):
        if isinstance(event, Mark):
            yield event.model_id, event.step, event.date, event.state in ("done", "skipped")
        elif event.finished:
            for model_id in event.model_ids:
                yield model_id, event.step, day[event.session_id], True
