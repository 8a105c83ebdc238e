"""Taking in the rows of a roster sheet: new units are made, known ones brought to what the sheet says."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from datetime import date
from typing import Any

from tracker.domain.problems import DataError, Problem
from tracker.domain.routes import usual_route
from tracker.domain.rows import RosterRow
from tracker.domain.text import same_name
from tracker.store.journal import Store
from tracker.store.models import delete_models, insert_models, models_of, move_added, untouched
from tracker.store.read import one_unit
from tracker.store.units import find_units, name_key, update_unit
from tracker.workbench.adding import (
    MODELS_MOST,
    PLAN_FIELDS,
    care_of,
    checked_plan,
    make_unit,
    put_route,
    route_for,
)
from tracker.workbench.desk import Desk
from tracker.workbench.naming import on_route, place_step, shown
from tracker.workbench.results import Imported


def import_roster(
    desk: Desk,
    rows: Sequence[RosterRow],
    *,
    columns: Collection[str] | None = None,
    dry_run: bool = False,
    keep_good: bool = False,
) -> Imported:
    """Make the units that are new and change those that the sheet tells otherwise.

    Of a known unit only the fields of `columns` are changed (None = all of them). An empty route
    leaves the unit's route as it is. Problems as in `import_evenings`.
    """
    with desk.open(create=True) as store, store.change("import roster") as change:
        intake = _Intake(store, desk.evening_day(), columns)
        for row in rows:
            try:
                intake.take(row)
            except DataError as refusal:
                where = f"row {row.row}"
                intake.problems += [Problem(where, _of(p), p.mend) for p in refusal.problems]
        if intake.problems and not keep_good:
            raise DataError(intake.problems)
        change.kept = not dry_run
        done = intake.result()._replace(dry_run=dry_run)
        change.words = done.words()
    return done


def _of(problem: Problem) -> str:
    """What is wrong, with the column in place of the command's option."""
    return f"{problem.where.removeprefix('--')}: {problem.what}"


class _Intake:
    """The rows taken so far."""

    def __init__(self, store: Store, today: date, columns: Collection[str] | None) -> None:
        self._store = store
        self._today = today
        self._columns = columns
        self._seen: dict[tuple[str, str], int] = {}
        self._added = self._changed = self._unchanged = 0
        self._notes: list[str] = []
        self.problems: list[Problem] = []

    def result(self) -> Imported:
        """What was done so far."""
        return Imported(
            "unit", self._added, self._changed, self._unchanged, tuple(self._notes), tuple(self.problems)
        )

    def take(self, row: RosterRow) -> None:
        """Store one unit; a `DataError` for what cannot be."""
        row = checked_plan(row)
        if not 0 <= row.models <= MODELS_MOST:
            raise DataError(Problem("models", f"{row.models} models cannot be", f"Say 1 to {MODELS_MOST}"))
        key = (name_key(row.army), name_key(row.unit))
        if key in self._seen:
            raise DataError(
                Problem("unit", f"{shown(row.unit)} stands in row {self._seen[key]} already", "Take one out")
            )
        self._seen[key] = row.row
        found = [n for n, army, _ in find_units(self._store, row.unit) if same_name(army, row.army)]
        if not found:
            self._make(row)
        elif changes := self._bring(found[0], row):
            self._changed += 1
            self._notes.append(f"{shown(row.unit)}: {', '.join(changes)}")
        else:
            self._unchanged += 1

    def _make(self, row: RosterRow) -> None:
        if row.models == 0:
            raise DataError(Problem("models", "a new unit needs models", f"Say 1 to {MODELS_MOST}"))
        route = route_for(row)
        day = row.added or self._today
        unit_id, _ = make_unit(self._store, row, day)
        put_route(self._store, unit_id, route)
        insert_models(self._store, unit_id, row.models, day)
        care = care_of(self._store, row.material, unit_id)
        self._notes += [care] if care else []
        self._added += 1

    def _says(self, column: str) -> bool:
        return self._columns is None or column in self._columns

    def _bring(self, unit_id: int, row: RosterRow) -> list[str]:
        """Bring a known unit to what the row says; what changed, in words.

        The number of models comes first: only it can be refused, and then nothing is written.
        """
        unit = one_unit(self._store, unit_id)
        route = self._route(row, unit.route, open_ended=unit.open_ended)
        if row.finish_line and on_route(route, row.finish_line) is None:
            raise DataError(
                Problem("finish_line", f"{shown(row.finish_line)} is none of its steps", "Name one of them")
            )
        words = self._models(unit_id, row)
        fields: dict[str, Any] = {
            field: getattr(row, field)
            for field in PLAN_FIELDS
            if self._says(field) and getattr(row, field) != getattr(unit, field)
        }
        words += [field.replace("_", " ") for field in fields]
        if unit.open_ended:
            fields["open_ended"] = 0
            words.append("it has as many models as said here")
        if fields:
            update_unit(self._store, unit_id, fields)
        if route != unit.route:
            put_route(self._store, unit_id, route)
            words.append("steps")
        if row.added and self._says("added") and self._move(unit_id, unit.added_on, row.added):
            words.append("the day it came in")
        return words

    def _route(self, row: RosterRow, now: tuple[str, ...], *, open_ended: bool) -> tuple[str, ...]:
        if row.steps:
            return tuple(on_route(now, step) or step for step in row.steps)
        if not open_ended:
            return now
        ranked = bool(row.files and row.ranks)
        route = usual_route(row.kind, row.standard, row.material, ranked=ranked)
        for step in now:
            if on_route(route, step) != step:
                route = place_step(route, step)
        return route

    def _models(self, unit_id: int, row: RosterRow) -> list[str]:
        there = len(models_of(self._store, unit_id))
        if row.models > there:
            insert_models(self._store, unit_id, row.models - there, row.added or self._today)
        elif row.models < there:
            free = untouched(self._store, unit_id)
            if len(free) < there - row.models:
                raise DataError(
                    Problem(
                        "models",
                        f"{shown(row.unit)} has {there} models, {there - len(free)} of them worked on",
                        "For models that are gone: lastcoat leave",
                    )
                )
            delete_models(self._store, free[: there - row.models])
        return [f"{there} → {row.models} models"] if row.models != there else []

    def _move(self, unit_id: int, before: date, said: date) -> bool:
        """Move the day it came in, but not behind its first evening."""
        first = self._store.rows(
            "SELECT min(date) FROM session JOIN line ON session_id = session.id WHERE unit_id = ?", (unit_id,)
        )[0][0]
        day = min(said, date.fromisoformat(first)) if first else said
        if day != before:
            move_added(self._store, unit_id, before, day)
        return day != before
