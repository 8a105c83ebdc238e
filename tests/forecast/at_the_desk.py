"""Invented people who work through their units on their true evenings, with the log they would keep.

The evenings are those of `calendars`, the true minutes those of `tests.pace.hobbyists`. A person works
the units in order, step by step and batch by batch; an evening that ends leaves a batch in hand, taking
it up again costs the step's set-up once more; what has to dry is waited for (the usual hours give or take
a third), and meanwhile the next thing that is ready is worked on, of a later unit if need be; what is
sprayed needs an evening fit for it, and one that is not gets a note. Evenings are told in total, with the
minutes of single lines or without, as the person is.
"""

from __future__ import annotations

from datetime import date, timedelta
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from tests.forecast.people import TUESDAY
from tests.pace.hobbyists import DRIFT_LINES, DRIFT_MEMORY, Truth, draw_truth, unit_lines
from tracker.domain.answers import PlannedLine
from tracker.domain.records import Army, Line, Model, Records, Session, Unit
from tracker.domain.routes import comes_before, usual_route
from tracker.domain.steps import find_step, wait_hours
from tracker.forecast.simulate import is_gated

Floats = NDArray[np.float64]
EVENING = 20 * 60
DAY = 24 * 60
WAIT_SPREAD = 0.3
FIT_EVENINGS = (4.0, 1.0)
"""Of a person's share of evenings fit for spraying ~ Beta; common practice, no source."""


class Batch:
    """Some models of a unit at one step."""

    def __init__(self, line: PlannedLine, models: tuple[int, ...]) -> None:
        self.line, self.models = line, models
        self.left: float | None = None
        """Minutes still to come; none = not begun."""
        self.dry_at: float | None = None
        """Minute (since the first midnight) from which the next step may start; none = not done."""


class Project:
    """One unit on its way: batches in the order they are worked."""

    def __init__(self, number: int, lines: list[PlannedLine], first_model: int) -> None:
        self.name = f"unit {number}"
        self.number, self.kind = number, lines[0].kind
        self.material, self.standard = lines[0].material, lines[0].standard
        self.route = usual_route(self.kind, self.standard, self.material)
        self.before = comes_before(self.route)
        self.size = sum(line.models for line in lines if line.step == lines[0].step)
        self.first_model = first_model
        self.batches = [
            Batch(line, tuple(first_model + line.done_before + i for i in range(line.models)))
            for line in lines
        ]
        self.ready_day: int | None = None

    def next_batch(self, minute: float, fit: bool) -> tuple[Batch | None, Batch | None]:
        """The first batch that may be worked on at that minute, and one before it that the weather keeps.

        fit: whether one can spray this evening.
        """
        kept = None
        done = {(b.line.step, b.models): b.dry_at for b in self.batches if b.dry_at is not None}
        for batch in self.batches:
            if batch.dry_at is None:
                before = [done.get((step, batch.models)) for step in self.before.get(batch.line.step, ())]
                if all(at is not None and at <= minute for at in before):
                    if fit or not is_gated(batch.line.step):
                        return batch, kept
                    kept = kept or batch
        return None, kept


class Life(NamedTuple):
    """A person's whole log and the day on which each unit was really ready (none = not by the end)."""

    records: Records
    minutes: Floats
    """Minutes at the desk by day."""
    ready_days: tuple[int | None, ...]
    """By unit, in order."""


def live(rng: np.random.Generator, minutes: Floats, units: int) -> Life:
    """Work through so many units on these evenings; minutes (days,) at the desk, day 0 = TUESDAY."""
    return _Desk(rng, draw_truth(rng), minutes, units).live()


class _Desk:
    def __init__(self, rng: np.random.Generator, truth: Truth, minutes: Floats, units: int) -> None:
        self.rng, self.truth, self.minutes = rng, truth, minutes
        self.projects: list[Project] = []
        models = 1
        for number in range(1, units + 1):
            project = Project(number, unit_lines(truth, number, rng), models)
            models += project.size
            self.projects.append(project)
        self.fit_share = rng.beta(*FIT_EVENINGS)
        self.drift = truth.spreads["drift"] * rng.standard_normal()
        self.sessions: list[Session] = []
        self.lines: list[Line] = []

    def live(self) -> Life:
        for day in np.flatnonzero(self.minutes):
            self._evening(int(day), float(self.minutes[day]))
        ready = tuple(project.ready_day for project in self.projects)
        return Life(self._records(), self.minutes, ready)

    def _evening(self, day: int, minutes: float) -> None:
        start = float(day * DAY + EVENING)
        clock, end = start, start + minutes
        fit = self.rng.random() < self.fit_share
        told_in_total = self.rng.random() < self.truth.totals_only
        session = len(self.sessions) + 1
        while clock < end:
            found = self._next(clock, session, fit)
            if found is None:
                break  # everything dries
            project, batch = found
            spent = self._work(batch, end - clock)
            clock += spent
            if batch.left == 0:
                self._finish(project, batch, clock, day)
            told = None if told_in_total else spent
            self._log(session, project, batch, told, "")
        if self.lines and self.lines[-1].session_id == session:
            self.sessions.append(Session(session, TUESDAY + timedelta(days=day), minutes=clock - start))

    def _next(self, minute: float, session: int, fit: bool) -> tuple[Project, Batch] | None:
        for project in self.projects:
            if project.ready_day is None:
                batch, kept = project.next_batch(minute, fit)
                if kept is not None:
                    self._note_weather(project, kept, session)
                if batch is not None:
                    return project, batch
        return None

    def _note_weather(self, project: Project, batch: Batch, session: int) -> None:
        """A line without minutes that says why nothing was sprayed, once an evening."""
        if not self.lines or self.lines[-1].session_id != session:
            self._log(session, project, batch, 0.0, "rain")

    def _log(self, session: int, project: Project, batch: Batch, minutes: float | None, note: str) -> None:
        moved = () if note else batch.models
        self.lines.append(
            Line(
                len(self.lines) + 1, session, project.number, batch.line.step, len(moved), minutes,
                batch.left == 0 and not note, note=note, model_ids=moved,
            )
        )  # fmt: skip

    def _work(self, batch: Batch, minutes: float) -> float:
        """Work on a batch for at most so many minutes; how many it took."""
        if batch.left is None:
            batch.left = self._true_minutes(batch.line)
        else:
            step = find_step(batch.line.step)
            batch.left += step.set_up_minutes if step else 0.0
        spent = min(batch.left, minutes)
        batch.left = 0.0 if spent == batch.left else batch.left - spent
        return spent

    def _true_minutes(self, line: PlannedLine) -> float:
        memory = DRIFT_MEMORY ** (1 / DRIFT_LINES)
        fresh = self.truth.spreads["drift"] * self.rng.standard_normal()
        self.drift = memory * self.drift + float(np.sqrt(1 - memory**2)) * fresh
        surprise = self.truth.noise * self.rng.standard_normal()
        return float(np.exp(self.truth.mean(line) + self.drift + surprise))

    def _finish(self, project: Project, batch: Batch, minute: float, day: int) -> None:
        hours = wait_hours(batch.line.step) * float(np.exp(WAIT_SPREAD * self.rng.standard_normal()))
        batch.dry_at = minute + 60 * hours
        if all(b.dry_at is not None for b in project.batches):
            project.ready_day = day

    def _records(self) -> Records:
        return Records(
            armies=(Army(1, "army"),),
            units=tuple(
                Unit(
                    p.number, 1, p.name, p.kind, p.material, p.standard,
                    added_on=TUESDAY, order=p.number, route=p.route,
                )
                for p in self.projects
            ),
            models=tuple(
                Model(p.first_model + i, p.number, i + 1, added_on=TUESDAY)
                for p in self.projects
                for i in range(p.size)
            ),
            sessions=tuple(self.sessions),
            lines=tuple(self.lines),
        )  # fmt: skip


def known_on(life: Life, day: date, ahead: int) -> Records:
    """What is known on the evening of a day: the units finished by then, and the next few to do."""
    past = life.records.as_of(day)
    number = (day - TUESDAY).days
    finished = [at is not None and at <= number for at in life.ready_days]
    still = [i for i, done in enumerate(finished) if not done][:ahead]
    begun = {line.unit_id - 1 for line in past.lines}
    kept = (
        {i + 1 for i, done in enumerate(finished) if done} | {i + 1 for i in still} | {i + 1 for i in begun}
    )
    return past._replace(
        units=tuple(unit for unit in past.units if unit.id in kept),
        models=tuple(model for model in past.models if model.unit_id in kept),
    )
