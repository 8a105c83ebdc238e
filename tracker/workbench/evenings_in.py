"""Taking in the rows of an evening sheet: all or nothing, and the same sheet twice changes nothing."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, time
from typing import NamedTuple

from tracker.domain.problems import DataError, Problem
from tracker.domain.records import DEFAULT_ARMY, MINUTES_A_DAY, Line, Session
from tracker.domain.rows import EveningRow, RosterRow
from tracker.domain.text import same_name
from tracker.store.evenings import find_session, insert_line, insert_session, minutes_of_lines
from tracker.store.journal import Store
from tracker.store.models import came_by, insert_models
from tracker.store.units import find_units, name_key, route_of
from tracker.workbench.adding import make_unit
from tracker.workbench.desk import Desk
from tracker.workbench.lines import ROUNDING_MINUTES, add_to_route, mistyped_year
from tracker.workbench.naming import good_name, good_text, shown
from tracker.workbench.results import Imported
from tracker.workbench.same_lines import new_rows, row_key
from tracker.workbench.standing import Standing
from tracker.workbench.words import count_words


def import_evenings(
    desk: Desk, rows: Sequence[EveningRow], *, dry_run: bool = False, keep_good: bool = False
) -> Imported:
    """Store the rows that are not in the log yet, in the order of their dates.

    Problems carry their row: a `DataError` with all of them and nothing stored, or, with
    `keep_good`, the result tells them and the other rows are stored.
    """
    with desk.open(create=True) as store, store.change("import evenings") as change:
        intake = _Intake(store, desk.today())
        fresh = new_rows(store, rows)
        for row, is_new in sorted(zip(rows, fresh, strict=True), key=lambda pair: pair[0].date):
            intake.take(row, is_new=is_new)
        if intake.problems and not keep_good:
            raise DataError(sorted(intake.problems, key=_row_number))
        change.kept = not dry_run
        done = intake.result()._replace(unchanged=fresh.count(False), dry_run=dry_run)
        change.words = f"{done.words()} over {count_words(intake.evenings_touched, 'evening')}"
    return done


def _row_number(problem: Problem) -> int:
    return int(problem.where.removeprefix("row "))


class _UnitHere(NamedTuple):
    """A unit as the intake knows it."""

    id: int
    name: str
    open_ended: bool
    earliest_new: date
    """The newest day any of it came in: a line before that day moves it back."""


class _EveningHere:
    """An evening while lines are put in."""

    def __init__(self, session: Session, timed_minutes: float) -> None:
        self.session = session
        self.timed_minutes = timed_minutes


class _Intake:
    """The rows taken so far, and what is known of their units, steps and evenings."""

    def __init__(self, store: Store, today: date) -> None:
        self._store = store
        self._today = today
        self._units: dict[tuple[str, str], _UnitHere] = {}
        self._routes: dict[int, tuple[str, ...]] = {}
        self._standings: dict[int, dict[str, Standing]] = {}
        self._evenings: dict[tuple[date, str], _EveningHere] = {}
        self._touched: set[int] = set()
        self._changed: set[int] = set()
        self._added = 0
        self._notes: list[str] = []
        self.problems: list[Problem] = []

    @property
    def evenings_touched(self) -> int:
        """How many evenings got lines or another total."""
        return len(self._touched | self._changed)

    def result(self) -> Imported:
        """What was done so far."""
        return Imported("line", self._added, len(self._changed), 0, tuple(self._notes), tuple(self.problems))

    def take(self, row: EveningRow, *, is_new: bool) -> None:
        """Store one row, or only its evening's total when its line is known; or note its problem."""
        problem = self._store_row(row, is_new=is_new)
        if problem is not None:
            self.problems.append(problem._replace(where=f"row {row.row}"))

    def _store_row(self, row: EveningRow, *, is_new: bool) -> Problem | None:
        """Everything is checked before anything is written, so a row is stored whole or not at all."""
        try:
            row = _tidy_row(row)
        except DataError as refusal:
            return refusal.problems[0]
        if row.date > self._today:
            return Problem("", f"{row.date} lies in the future", f"Today is {self._today}")
        if mistyped := mistyped_year(row.date, self._today):
            return mistyped
        evening = self._evening(row)
        too_long = _too_long(evening, row, is_new=is_new)
        if too_long or not is_new:
            if not too_long:
                self._settle_evening(evening, row)
            return too_long
        unit = self._unit(row)
        chosen = self._choose(unit, row) if unit else ()
        if isinstance(chosen, Problem):
            return chosen
        self._write(evening, row)
        return None

    def _evening(self, row: EveningRow) -> _EveningHere:
        key = (row.date, row.evening)
        if key not in self._evenings:
            found = find_session(self._store, *key)
            timed = minutes_of_lines(self._store, found.id) if found else 0.0
            self._evenings[key] = _EveningHere(found or Session(0, *key), timed)
        return self._evenings[key]

    def _settle_evening(self, evening: _EveningHere, row: EveningRow) -> None:
        """Give the evening the total and start that the row tells."""
        before = evening.session
        total = before.minutes if row.evening_minutes is None else row.evening_minutes
        after = before._replace(minutes=total, start=row.start or before.start)
        if after.id == 0:
            number = insert_session(self._store, after.date, after.label, after.start, after.minutes)
            evening.session = after._replace(id=number)
        elif after != before:
            self._store.update("session", after.id, minutes=after.minutes, start=after.start)
            self._changed.add(after.id)
            self._notes.append(f"the evening of {after.date}{_was(before, after)}")
            evening.session = after

    def _unit(self, row: EveningRow) -> _UnitHere | None:
        key = (name_key(row.army), name_key(row.unit))
        if key not in self._units:
            found = self._find(row)
            if found is None:
                return None
            self._units[key] = found
        return self._units[key]

    def _find(self, row: EveningRow) -> _UnitHere | None:
        """The unit of that army; where no army was said, the only unit of that name in any."""
        named = find_units(self._store, row.unit)
        found = [unit for unit in named if same_name(unit[1], row.army)]
        if not found and row.army == DEFAULT_ARMY and len(named) == 1:
            found = named
            self._notes.append(f"{shown(row.unit)} was taken as the one of {shown(named[0][1])}")
        if not found:
            return None
        unit_id, _, name = found[0]
        open_ended, newest = self._store.rows(
            "SELECT open_ended, max(added_on, coalesce((SELECT max(added_on) FROM model"
            " WHERE unit_id = unit.id), '')) FROM unit WHERE id = ?",
            (unit_id,),
        )[0]
        return _UnitHere(unit_id, name, bool(open_ended), date.fromisoformat(newest))

    def _standing(self, unit_id: int, step: str, day: date) -> Standing:
        of_unit = self._standings.setdefault(unit_id, {})
        if step not in of_unit:
            of_unit[step] = Standing(self._store, unit_id, step, Session(0, day))
        return of_unit[step]

    def _step(self, unit_id: int, said: str) -> str | None:
        if unit_id not in self._routes:
            self._routes[unit_id] = route_of(self._store, unit_id)
        return next((step for step in self._routes[unit_id] if same_name(step, said)), None)

    def _choose(self, unit: _UnitHere, row: EveningRow) -> tuple[int, ...] | Problem:
        """A first look: whether a closed unit has that many models left."""
        step = self._step(unit.id, row.step)
        standing = self._standing(unit.id, step or row.step, row.date)
        return () if unit.open_ended else standing.choose(row.models, unit.name)

    def _write(self, evening: _EveningHere, row: EveningRow) -> None:
        self._settle_evening(evening, row)
        unit = self._unit(row) or self._make_unit(row)
        step = self._step(unit.id, row.step) or self._new_step(unit, row)
        standing = self._standing(unit.id, step, row.date)
        if row.models > standing.left:
            self._grow(unit, row.models - standing.left, row.date)
        chosen = standing.choose(row.models, unit.name)
        models = () if isinstance(chosen, Problem) else chosen
        finished = row.finished and row.models > 0
        line = Line(
            0, evening.session.id, unit.id, step, row.models, row.minutes, finished, row.guess_minutes,
            row.note, models,
        )  # fmt: skip
        insert_line(self._store, line, row_key(row))
        standing.take(models, finished=finished)
        if row.date < unit.earliest_new:
            came_by(self._store, unit.id, models, row.date)
        evening.timed_minutes += row.minutes or 0.0
        self._touched.add(evening.session.id)
        self._added += 1

    def _make_unit(self, row: EveningRow) -> _UnitHere:
        unit_id, army = make_unit(self._store, RosterRow(row.unit, 0, row.army), row.date, open_ended=True)
        self._notes.append(f"new unit {shown(row.unit)} ({shown(army)}), as many models as its lines show")
        unit = _UnitHere(unit_id, row.unit, open_ended=True, earliest_new=row.date)
        self._units[name_key(row.army), name_key(row.unit)] = unit
        return unit

    def _new_step(self, unit: _UnitHere, row: EveningRow) -> str:
        step = add_to_route(self._store, unit.id, self._routes.get(unit.id, ()), row.step)
        self._routes[unit.id] = route_of(self._store, unit.id)
        if not unit.open_ended:
            self._notes.append(f"{shown(step)} is now on the route of {shown(unit.name)} (row {row.row})")
        return step

    def _grow(self, unit: _UnitHere, count: int, day: date) -> None:
        models = insert_models(self._store, unit.id, count, day)
        for standing in self._standings[unit.id].values():
            standing.join(models)


def _tidy_row(row: EveningRow) -> EveningRow:
    """The row with tidy names; a `DataError` for what no line can have."""
    for minutes in (row.minutes, row.evening_minutes):
        if minutes is not None and not 0 <= minutes <= MINUTES_A_DAY:
            raise DataError(Problem("", f"{minutes:g} minutes cannot be", "Say 0 to 1440 minutes"))
    if row.models < 0:
        raise DataError(Problem("", f"{row.models} models cannot be", "Say 0 or more"))
    if row.start and not _is_clock(row.start):
        raise DataError(Problem("", f"{shown(row.start)} is no time of day", "Write it like 20:15"))
    return row._replace(
        army=good_name("army", row.army or DEFAULT_ARMY),
        unit=good_name("unit", row.unit),
        step=good_name("step", row.step),
        evening=good_text("evening", row.evening),
        note=good_text("note", row.note),
    )


def _is_clock(text: str) -> bool:
    try:
        return time.fromisoformat(text).strftime("%H:%M") == text
    except ValueError:
        return False


def _too_long(evening: _EveningHere, row: EveningRow, *, is_new: bool) -> Problem | None:
    total = evening.session.minutes if row.evening_minutes is None else row.evening_minutes
    timed = evening.timed_minutes + (row.minutes or 0.0 if is_new else 0.0)
    if total is None or timed <= total + ROUNDING_MINUTES:
        return None
    what = f"with it the lines of {row.date} take {timed:g} minutes, but the evening had {total:g}"
    return Problem("", what, "Correct the minutes or the evening_minutes")


def _was(before: Session, after: Session) -> str:
    parts = []
    if before.minutes != after.minutes:
        was = "no total" if before.minutes is None else f"{before.minutes:g}"
        parts.append(f" has {after.minutes:g} minutes now (before: {was})")
    if before.start != after.start:
        parts.append(f" began {after.start} (before: {before.start or 'not said'})")
    return " and".join(parts)
