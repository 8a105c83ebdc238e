"""What goes out as text, and the whole log in and out."""

from __future__ import annotations

from typing import Any

from tracker.domain.progress import alive
from tracker.domain.rows import EveningRow, RosterRow
from tracker.store.document import dump, restore
from tracker.workbench.adding import PLAN_FIELDS
from tracker.workbench.desk import Desk
from tracker.workbench.results import Imported
from tracker.workbench.same_lines import stored_rows
from tracker.workbench.words import count_words


def export_evenings(desk: Desk) -> tuple[EveningRow, ...]:
    """Every line as a row of an evening sheet, evening by evening."""
    with desk.open() as store:
        return tuple(row for row, _ in stored_rows(store))


def export_roster(desk: Desk) -> tuple[RosterRow, ...]:
    """Every unit that still has models as a row of a roster sheet."""
    known = desk.records()
    armies = {army.id: army.name for army in known.armies}
    rows = []
    for unit in known.units:
        models = len(alive(known.models, unit.id))
        if models:
            fields = {field: getattr(unit, field) for field in PLAN_FIELDS}
            row = RosterRow(
                unit.name, models, armies[unit.army_id], steps=unit.route, added=unit.added_on, **fields
            )
            rows.append(row)
    return tuple(rows)


def export_document(desk: Desk) -> dict[str, Any]:
    """The whole log as one plain document."""
    with desk.open() as store:
        return dump(store)


def import_document(desk: Desk, document: dict[str, Any], *, dry_run: bool = False) -> Imported:
    """Restore a whole log into an empty one, exactly; one change that undo takes back."""
    with desk.open(create=True) as store, store.change("import all", "a whole log") as change:
        restore(store, document)
        lines, units = store.rows("SELECT (SELECT count(*) FROM line), (SELECT count(*) FROM unit)")[0]
        change.kept = not dry_run
        words = count_words(units, "unit")
        change.words = f"a whole log: {words}, {count_words(lines, 'line')}"
    return Imported("line", lines, notes=(words,), dry_run=dry_run)
