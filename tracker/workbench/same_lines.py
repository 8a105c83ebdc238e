"""Which rows of an evening sheet are in the log already: the same content, counted."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from hashlib import sha256

from tracker.domain.records import Line
from tracker.domain.rows import EveningRow
from tracker.store.evenings import import_keys
from tracker.store.journal import Store
from tracker.store.read import records
from tracker.store.units import name_key


def row_key(row: EveningRow) -> str:
    """What makes two rows the same: all they say of their line, but not the evening's total and start."""
    said = (
        row.date.isoformat(), row.evening, name_key(row.army), name_key(row.unit), name_key(row.step),
        row.models, row.minutes, row.finished and row.models > 0, row.guess_minutes, row.note,
    )  # fmt: skip
    return sha256(json.dumps(said).encode()).hexdigest()[:32]


def new_rows(store: Store, rows: Sequence[EveningRow]) -> list[bool]:
    """For each row whether no stored line says the same.

    A stored line speaks for one row: by the content it was imported with, or else by the content
    it has now.
    """
    lines_by_key: dict[str, list[int]] = {}
    for line, key in import_keys(store):
        lines_by_key.setdefault(key, []).append(line)
    for row, line_id in stored_rows(store):
        lines_by_key.setdefault(row_key(row), []).append(line_id)
    used: set[int] = set()
    return [not _claimed(lines_by_key.get(row_key(row), ()), used) for row in rows]


def _claimed(lines: Iterable[int], used: set[int]) -> bool:
    for line in lines:
        if line not in used:
            used.add(line)
            return True
    return False


def stored_rows(store: Store) -> list[tuple[EveningRow, int]]:
    """Every stored line as a row of an evening sheet, with its id, evening by evening."""
    known = records(store)
    armies = {army.id: army.name for army in known.armies}
    units = {unit.id: unit for unit in known.units}
    sessions = {session.id: session for session in known.sessions}

    def place(line: Line) -> tuple[object, ...]:
        session = sessions[line.session_id]
        return (session.date, session.id, line.id)

    out = []
    for line in sorted(known.lines, key=place):
        session, unit = sessions[line.session_id], units[line.unit_id]
        row = EveningRow(
            session.date, unit.name, line.step, armies[unit.army_id], session.label, session.start,
            session.minutes, line.models, line.minutes, line.finished, line.guess_minutes, line.note,
        )  # fmt: skip
        out.append((row, line.id))
    return out
