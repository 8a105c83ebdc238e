"""The backlog's course: what was left at the end of each day on which something moved."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Mapping
from datetime import date
from typing import Literal, NamedTuple

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
    """Models, points and minutes left at the end of every day on which the backlog moved.

    A model is backlog from the day it came in until every step up to its unit's finish line is
    behind it, or until it leaves; spares are none. Day by day, models = models of the day before +
    added - finished - taken away; a finished model that is opened again counts as added. One pass
    over all events, in proportion to their number.
    """
    units = {unit.id: unit for unit in records.units}
    state = _State(records, units, step_minutes)
    went_how = {model.id: model.left_how for model in records.models}
    days: list[BacklogDay] = []
    for move in sorted(moves_of(records, units)):
        if not days or days[-1].date != move.date:
            days.append(BacklogDay(move.date, state.models, state.minutes))
        happened = state.apply(move)
        days[-1] = _count(days[-1], happened, went_how[move.model_id])._replace(
            models=state.models,
            minutes=max(state.minutes, 0.0) if state.models else 0.0,
            points=max(state.points, 0.0) if state.models else 0.0,
        )
    return tuple(days)


Happened = Literal["", "added", "finished", "taken"]


def _count(day: BacklogDay, happened: Happened, went_how: str) -> BacklogDay:
    """The day with one more model in the column of what happened to it."""
    if happened == "added":
        return day._replace(added=day.added + 1)
    if happened == "finished":
        return day._replace(finished=day.finished + 1)
    if happened == "taken":
        return day._replace(
            taken_away=day.taken_away + 1,
            sold=day.sold + (went_how == "sold"),
            given_away=day.given_away + (went_how == "given away"),
            broken=day.broken + (went_how == "broken"),
        )
    return day


class _State:
    """What is left as the moves are applied one after the other."""

    def __init__(self, records: Records, units: Mapping[int, Unit], step_minutes: StepMinutes) -> None:
        self.models = 0
        self.minutes = 0.0
        self.points = 0.0
        self._open: dict[int, set[str]] = {}
        self._unit_of = {m.id: m.unit_id for m in records.models if m.unit_id in units}
        self._steps = {unit.id: frozenset(finish_steps(unit)) for unit in units.values()}
        self._step_minutes = step_minutes
        self._open_models: Counter[int] = Counter()
        self._points = {unit.id: unit.points or 0.0 for unit in units.values()}

    def apply(self, move: Move) -> Happened:
        """Apply one move; what it did to the model."""
        unit_id = self._unit_of[move.model_id] or 0
        if move.order == 0:
            self._open[move.model_id] = set()
            return self._reopen(unit_id, move.model_id, self._steps[unit_id])
        left = self._open[move.model_id]
        if move.opened:
            return self._reopen(unit_id, move.model_id, (move.step,))
        was_open = bool(left)
        behind = (move.step,) if move.order == 1 else tuple(left)
        self.minutes -= sum(self._cost(unit_id, step) for step in behind)
        left.difference_update(behind)
        if not was_open or left:
            return ""
        self._move_models(unit_id, -1)
        return "finished" if move.order == 1 else "taken"

    def _reopen(self, unit_id: int, model_id: int, steps: Collection[str]) -> Happened:
        """Steps are still to do; whether the model is backlog by that, and was not before."""
        left = self._open[model_id]
        is_new = bool(steps) and not left
        left.update(steps)
        self.minutes += sum(self._cost(unit_id, step) for step in steps)
        if not is_new:
            return ""
        self._move_models(unit_id, 1)
        return "added"

    def _move_models(self, unit_id: int, by: int) -> None:
        """One model more or fewer is open; a unit's points are left while any of its models is."""
        self.models += by
        self._open_models[unit_id] += by
        if self._open_models[unit_id] == max(by, 0):
            self.points += by * self._points[unit_id]

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
