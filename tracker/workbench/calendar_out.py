"""The calendar file: goals, planned evenings, the middles of ready dates, the ends of drying."""

from __future__ import annotations

import os
from datetime import time
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from tracker import __version__
from tracker.domain.answers import ForecastAnswer, Outlook
from tracker.domain.records import Records
from tracker.workbench.answers import DRAWS, SEED, forecast, learn_pace, tonight_list
from tracker.workbench.desk import Desk
from tracker.workbench.files_out import where_to_write, write_whole
from tracker.workbench.goals_ahead import goals_ahead

if TYPE_CHECKING:
    from tracker.report.calendar_evenings import UsualEvening
    from tracker.report.calendar_file import Entry


class Uids(NamedTuple):
    """Identities that last, by id."""

    units: dict[int, str]
    goals: dict[int, str]
    declared: dict[int, str]
    timers: dict[int, str]


class CalendarWritten(NamedTuple):
    """Where the file lies and what is in it."""

    file: Path
    goals: int
    evenings: int
    ready: int
    drying: int
    is_too_early: bool
    """Whether ready dates were left out because too little is known."""

    def words(self) -> str:
        """As in "Wrote desk.ics: 2 goals, 1 plan of evenings, 6 ready dates, nothing that dries."."""
        parts = [
            _count(self.goals, "goal", "goals"),
            _count(self.evenings, "plan", "plans"),
            _count(self.ready, "ready date", "ready dates"),
            _count(self.drying, "end of drying", "ends of drying"),
        ]
        early = " Ready dates wait for two weeks of evenings." if self.is_too_early else ""
        return f"Wrote {self.file}: {', '.join(parts)}.{early}"


def _count(count: int, one: str, many: str) -> str:
    return f"{count or 'no'} {one if count == 1 else many}"


def write_calendar(
    desk: Desk, path: str, *, at: time | None = None, seed: int = SEED, draws: int = DRAWS
) -> CalendarWritten:
    """Writes the calendar file, whole or not at all; `at` is when planned evenings begin.

    Without `at` they begin when evenings usually did; where that is not known they are whole days.
    """
    from tracker.report.calendar_entries import ready_entries
    from tracker.report.calendar_evenings import evening_entries
    from tracker.report.calendar_file import calendar_bytes
    from tracker.report.little_history import may_name_a_day

    target = where_to_write(desk, path, "a calendar", (b"begin:vcalendar",), "desk.ics")
    known, uids, today = desk.records(), _uids(desk), desk.evening_day()
    answer = forecast(desk, seed=seed, draws=draws)
    is_too_early = not may_name_a_day(answer) and any(one.models_ready < one.models for one in answer.units)
    goals = _goal_entries(desk, known, uids, seed, draws)
    evenings = evening_entries(known.declared, uids.declared, _usual(known, at), today)
    ready = [] if is_too_early else ready_entries(_outlooks(known, uids, answer))
    drying = _drying_entries(desk, known, uids)
    entries = [*goals, *evenings, *ready, *drying]
    write_whole(target, calendar_bytes(entries, desk.now().astimezone(), __version__))
    return CalendarWritten(target, len(goals), len(evenings), len(ready), len(drying), is_too_early)


def _drying_entries(desk: Desk, known: Records, uids: Uids) -> list[Entry]:
    """Steps that wait for something to dry, and whatever else cures."""
    from tracker.domain.answers_curing import curing_of, not_told
    from tracker.domain.progress import progress_of
    from tracker.report.calendar_entries import cure_entries, drying_entries

    now, waiting = desk.now().replace(tzinfo=None), tonight_list(desk).drying
    others = not_told(curing_of(known, progress_of(known), now), waiting, now)
    return drying_entries(waiting, uids.units) + cure_entries(others, uids.units, uids.timers, now)


def _uids(desk: Desk) -> Uids:
    if not os.path.lexists(desk.path):
        return Uids({}, {}, {}, {})
    from tracker.store.declared import declared_uids
    from tracker.store.goals import goal_uids
    from tracker.store.uids import cure_uids, unit_uids

    with desk.open() as store:
        return Uids(unit_uids(store), goal_uids(store), declared_uids(store), cure_uids(store))


def _usual(known: Records, at: time | None) -> UsualEvening:
    from tracker.forecast.evenings import evenings_of
    from tracker.report.calendar_evenings import usual_evening

    sessions = sorted(known.sessions, key=lambda session: session.date)
    minutes = [evening.minutes for evening in evenings_of(known) if evening.minutes is not None]
    usual = usual_evening(sessions, minutes)
    return usual if at is None else usual._replace(start=at)


def _outlooks(known: Records, uids: Uids, answer: ForecastAnswer) -> list[tuple[str, Outlook]]:
    armies = {army.id: army.name for army in known.armies}
    named = {(armies[unit.army_id], unit.name): uids.units[unit.id] for unit in known.units}
    return [(named[one.army, one.unit], one) for one in answer.units if (one.army, one.unit) in named]


def _goal_entries(desk: Desk, known: Records, uids: Uids, seed: int, draws: int) -> list[Entry]:
    from tracker.report.calendar_entries import UnitOfGoal, goal_entries

    day = desk.evening_day()
    now = known.as_of(day)
    goals = goals_ahead(now, learn_pace(desk, now), day, seed, draws)
    units = {unit.id: UnitOfGoal(uids.units[unit.id], unit.name) for unit in known.units}
    return goal_entries(goals, units, uids.goals, day)
