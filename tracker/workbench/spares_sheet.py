"""The sheet of spares, both ways: new ones are brought in, numbered ones brought to what the sheet says."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from datetime import date

from tracker.domain.problems import DataError, Problem
from tracker.domain.rows_spares import SpareRow
from tracker.domain.spares import Spare
from tracker.store.journal import Store
from tracker.store.models import insert_model, next_number, spare_models
from tracker.store.spares import spares_kept
from tracker.workbench.desk import Desk
from tracker.workbench.results import Imported
from tracker.workbench.spares import SpareSaid, checked, put_spares, tell_spare

_LOOKS = ("name", "kind", "part", "note", "base", "height_mm", "material", "state", "place", "tags")


def export_spares(desk: Desk) -> tuple[SpareRow, ...]:
    """A row for every spare."""
    with desk.open() as store:
        return tuple(_row_of(spare) for spare in spares_kept(store))


def import_spares(
    desk: Desk, rows: Sequence[SpareRow], *, dry_run: bool = False, keep_good: bool = False
) -> Imported:
    """Store what is new: a row with the number of a spare changes it, one without adds what is not there."""
    with desk.open(create=True) as store, store.change("import spares") as change:
        intake = _Intake(store, desk.evening_day())
        # Rows with a number first, so that those without find only spares that no row speaks of.
        for row in sorted(rows, key=lambda row: row.number is None):
            try:
                intake.take(row)
            except DataError as refusal:
                intake.problems += [_of_row(problem, row.row) for problem in refusal.problems]
        if intake.problems and not keep_good:
            raise DataError(intake.problems)
        change.kept = not dry_run
        done = intake.result(dry_run=dry_run)
        change.words = done.words()
    return done


def _of_row(problem: Problem, row: int) -> Problem:
    return Problem(f"row {row}", f"{problem.where.removeprefix('--')}: {problem.what}", problem.mend)


def _row_of(spare: Spare) -> SpareRow:
    looks = {field: getattr(spare, field) for field in _LOOKS}
    return SpareRow(number=spare.number, added=spare.added_on, **looks)


def _key(one: SpareRow | Spare) -> tuple[object, ...]:
    return tuple(getattr(one, field) for field in _LOOKS)


class _Intake:
    """The rows taken so far."""

    def __init__(self, store: Store, today: date) -> None:
        self._store, self._today = store, today
        self._there = {spare.number: spare for spare in spares_kept(store)}
        self._models = {number: model for model, number in spare_models(store)}
        self._free: dict[tuple[object, ...], list[int]] = defaultdict(list)
        """Numbers of spares that no row spoke of yet, by what is noted of them."""
        for number, spare in self._there.items():
            self._free[_key(spare)].append(number)
        self._added = self._changed = self._unchanged = 0
        self.problems: list[Problem] = []

    def result(self, *, dry_run: bool) -> Imported:
        """What was done so far."""
        counts = (self._added, self._changed, self._unchanged)
        return Imported("spare", *counts, problems=tuple(self.problems), dry_run=dry_run)

    def take(self, row: SpareRow) -> None:
        """Store one row; a `DataError` for what cannot be."""
        good = checked(_said(row))
        if row.number is not None:
            self._numbered(row, row.number, good)
            return
        there = self._free[_key(row)]
        known = min(row.models, len(there))
        del there[:known]
        self._unchanged += known
        if row.models > known:
            put_spares(self._store, row.models - known, good, row.added or self._today)
            self._added += row.models - known

    def _numbered(self, row: SpareRow, number: int, good: SpareSaid) -> None:
        spare = self._there.get(number)
        if spare is None:
            self._new(row, number, good)
            return
        if number in self._free[_key(spare)]:
            self._free[_key(spare)].remove(number)
        added = row.added or spare.added_on
        if _key(row) == _key(spare) and added == spare.added_on:
            self._unchanged += 1
            return
        tell_spare(self._store, self._models[number], good)
        if added != spare.added_on:
            self._store.update("model", self._models[number], added_on=added.isoformat())
        self._changed += 1

    def _new(self, row: SpareRow, number: int, good: SpareSaid) -> None:
        gone = self._store.rows("SELECT 1 FROM model WHERE unit_id IS NULL AND number = ?", (number,))
        if gone:
            what = f"number {number} was a spare that left"
            raise DataError(
                Problem("number", what, f"Leave it empty, or say {next_number(self._store, None)}")
            )
        model = insert_model(self._store, None, number, row.added or self._today)
        tell_spare(self._store, model, good)
        self._added += 1


def _said(row: SpareRow) -> SpareSaid:
    looks = {field: getattr(row, field) for field in _LOOKS}
    return SpareSaid(**looks, no_height=row.height_mm is None)
