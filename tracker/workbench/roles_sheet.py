"""The sheet of roles, both ways: new ones are planned, known ones brought to what the sheet says."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from tracker.domain.keeping import Role
from tracker.domain.problems import DataError, Problem
from tracker.domain.rows_spares import RoleRow
from tracker.domain.text import same_name
from tracker.store.book import change as change_record
from tracker.store.book import keep
from tracker.store.journal import Store
from tracker.store.spares import KeptRole, roles_kept
from tracker.workbench.desk import Desk
from tracker.workbench.models import said_models
from tracker.workbench.naming import KnownUnit, good_name, shown, the_unit
from tracker.workbench.results import Imported
from tracker.workbench.roles import RoleSaid, checked_role


def export_roles(desk: Desk) -> tuple[RoleRow, ...]:
    """A row for every role."""
    with desk.open() as store:
        return tuple(map(_row_of, roles_kept(store)))


def import_roles(
    desk: Desk, rows: Sequence[RoleRow], *, dry_run: bool = False, keep_good: bool = False
) -> Imported:
    """Store what is new or told otherwise; the units, and the models that have a role, must be there."""
    with desk.open(create=True) as store, store.change("import roles") as change:
        counts = {"added": 0, "changed": 0, "unchanged": 0}
        problems: list[Problem] = []
        for row in rows:
            try:
                counts[_take(store, row, desk.evening_day())] += 1
            except DataError as refusal:
                problems += [_of_row(problem, row.row) for problem in refusal.problems]
        if problems and not keep_good:
            raise DataError(problems)
        change.kept = not dry_run
        added, changed, unchanged = counts.values()
        done = Imported("role", added, changed, unchanged, (), tuple(problems), dry_run)
        change.words = done.words()
    return done


def _of_row(problem: Problem, row: int) -> Problem:
    return Problem(f"row {row}", f"{problem.where.removeprefix('--')}: {problem.what}", problem.mend)


def _row_of(kept: KeptRole) -> RoleRow:
    own, standing = kept.own, kept.standing
    return RoleRow(
        standing.unit, own.name, standing.army, own.kind, own.base, own.height_mm, own.tags, standing.model,
        own.stand_in, own.added_on,
    )  # fmt: skip


def _take(store: Store, row: RoleRow, today: date) -> str:
    """Store one row: "added", "changed" or "unchanged"."""
    known = the_unit(store, row.unit, row.army or None)
    asks = checked_role(RoleSaid(row.kind, row.base, row.height_mm, row.tags))
    name = good_name("role", row.role)
    there = roles_kept(store, "role.unit_id = ?", (known.id,))
    before = next((kept.own for kept in there if same_name(kept.own.name, name)), None)
    model = _model(store, known, row, there)
    added = row.added or (before.added_on if before else today)
    role = Role(before.id if before else 0, known.id, name, *asks, model, row.stand_in, added)
    if before == role:
        return "unchanged"
    if before is None:
        keep(store, role)
        return "added"
    change_record(store, role)
    return "changed"


def _model(store: Store, known: KnownUnit, row: RoleRow, there: Sequence[KeptRole]) -> int | None:
    """The model that has the role."""
    if row.model is None:
        return None
    ((model, _),) = said_models(store, known.id, known.name, str(row.model))
    other = next((k for k in there if k.own.model_id == model and not same_name(k.own.name, row.role)), None)
    if other is not None:
        what = f"{row.model} of {shown(known.name)} has the role {shown(other.own.name)} already"
        raise DataError(Problem("model", what, "Say another one, or leave it empty"))
    return model
