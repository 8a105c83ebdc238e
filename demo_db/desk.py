"""What the invented painter does of an evening: takes up lines of the route, puts minutes in."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from math import exp
from typing import NamedTuple

from numpy.random import Generator

from demo_db.army import Already, Departure, steps_of
from demo_db.people import Person, log_minutes
from demo_db.rhythm import Evening
from tracker.domain.progress import EVENING_ENDS
from tracker.domain.routes import comes_before
from tracker.domain.rows import RosterRow
from tracker.domain.steps import CATALOGUE

_SITS_DOWN = time(19, 30)


class Stint(NamedTuple):
    """True minutes put into one line in one evening."""

    day: date
    row: RosterRow
    step: str
    models: int
    minutes: float
    finished: bool
    whole_minutes: float
    """True minutes of the whole line, over all its evenings."""
    begun_now: bool


class _InHand:
    """A line that is begun: which, and how many of its true minutes are still to come."""

    def __init__(self, row: RosterRow, step: str, models: int, minutes: float) -> None:
        self.row, self.step, self.models = row, step, models
        self.whole_minutes = self.minutes_left = minutes


class Desk:
    """The state of the work: counts per unit and step, the line in hand, the drift."""

    def __init__(
        self,
        person: Person,
        roster: tuple[RosterRow, ...],
        already: tuple[Already, ...] = (),
        departures: tuple[Departure, ...] = (),
    ) -> None:
        self.person, self.roster = person, roster
        self.alive = {row.unit: row.models for row in roster}
        # What will be sold lies aside from the first day on: nobody paints it.
        for gone in departures:
            self.alive[gone.unit] -= gone.last - gone.first + 1
        self.steps = {row.unit: steps_of(row) for row in roster}
        self.before = {row.unit: comes_before(self.steps[row.unit]) for row in roster}
        self.done: dict[tuple[str, str], int] = {}
        self.done_on: dict[tuple[str, str], date] = {}
        self.in_hand: dict[str, _InHand] = {}
        self.drift, self.week = 0.0, 0
        for word in already:
            steps = self.steps[word.unit]
            for step in steps[: steps.index(word.up_to) + 1]:
                self.done[word.unit, step] = self.alive[word.unit]

    def copy(self) -> Desk:
        """A desk in the same state, to simulate on from here."""
        twin = Desk(self.person, self.roster)
        twin.alive, twin.done, twin.done_on = self.alive, dict(self.done), dict(self.done_on)
        twin.drift, twin.week = self.drift, self.week
        for name, task in self.in_hand.items():
            twin.in_hand[name] = again = _InHand(task.row, task.step, task.models, task.whole_minutes)
            again.minutes_left = task.minutes_left
        return twin

    def is_finished(self, unit: str) -> bool:
        """Whether every model of the unit has every step behind it."""
        return all(self.done.get((unit, step), 0) >= self.alive[unit] for step in self.steps[unit])

    def work(self, evening: Evening, rng: Generator) -> list[Stint]:
        """One evening; empty when nothing can be worked on."""
        self._drift_on(evening.week, rng)
        left = evening.minutes
        stints: list[Stint] = []
        while left > 4 or not stints:
            task = self._next(evening.day, rng)
            if task is None:
                break
            stint = self._put_in(task, left, evening.day)
            stints.append(stint)
            left -= stint.minutes
        return stints

    def _drift_on(self, week: int, rng: Generator) -> None:
        spreads = self.person.spreads
        fresh = spreads.drift * (1 - spreads.drift_kept**2) ** 0.5
        while self.week < week:
            self.drift = spreads.drift_kept * self.drift + fresh * rng.standard_normal()
            self.week += 1

    def _put_in(self, task: _InHand, minutes: float, day: date) -> Stint:
        begun_now = task.minutes_left == task.whole_minutes
        # Nobody leaves the last few minutes of a line for another evening.
        spent = task.minutes_left if task.minutes_left <= minutes + 8 else max(minutes, 5.0)
        finished = spent >= task.minutes_left
        task.minutes_left -= spent
        unit = task.row.unit
        if finished:
            key = (unit, task.step)
            self.done[key] = self.done.get(key, 0) + task.models
            self.done_on[key] = day
            del self.in_hand[unit]
        return Stint(day, task.row, task.step, task.models, spent, finished, task.whole_minutes, begun_now)

    def _next(self, day: date, rng: Generator) -> _InHand | None:
        """The line to take up: of the first unit in order mostly, now and then of the next."""
        open_rows = [r for r in self.roster if (r.added or day) <= day and not self.is_finished(r.unit)]
        if len(open_rows) > 1 and rng.random() < 0.2:
            open_rows = [open_rows[1], open_rows[0], *open_rows[2:]]
        for row in open_rows:
            if row.unit in self.in_hand:
                return self.in_hand[row.unit]
            ready = self._ready(row, day)
            if ready is not None:
                self.in_hand[row.unit] = task = self._begin(row, *ready, rng)
                return task
        return None

    def _begin(self, row: RosterRow, step: str, models: int, rng: Generator) -> _InHand:
        done = self.done.get((row.unit, step), 0)
        noise = self.person.spreads.noise * rng.standard_normal()
        return _InHand(
            row, step, models, exp(log_minutes(self.person, row, step, models, done) + self.drift + noise)
        )

    def _ready(self, row: RosterRow, day: date) -> tuple[str, int] | None:
        """The first step of the route that some models wait for, and how many to take along."""
        alive = self.alive[row.unit]
        for step in self.steps[row.unit]:
            before = self.before[row.unit][step]
            done = self.done.get((row.unit, step), 0)
            could = min((self.done.get((row.unit, b), 0) for b in before), default=alive)
            models = min(could, alive) - done
            if models <= 0 or any(self._dries(row.unit, b, day) for b in before):
                continue
            if CATALOGUE[step].mostly_set_up or CATALOGUE[step].counting in ("unit", "batch"):
                if models < alive - done:
                    continue
                return step, models
            return step, min(models, self._batch(row, step))
        return None

    def _batch(self, row: RosterRow, step: str) -> int:
        """The person's usual batch, or as many as go into three quarters of an hour if that is more."""
        each = exp(log_minutes(self.person, row, step, 10, 0)) / 10
        return max(self.person.batch, int(45 / each))

    def _dries(self, unit: str, step: str, day: date) -> bool:
        done_on = self.done_on.get((unit, step))
        if done_on is None:
            return False
        hours = CATALOGUE[step].wait.usual_hours
        if done_on == day:
            return hours > 1
        return datetime.combine(done_on, EVENING_ENDS) + timedelta(hours=hours) > datetime.combine(
            day, _SITS_DOWN
        )
