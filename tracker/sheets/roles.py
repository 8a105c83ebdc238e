"""The sheet of roles: one row for each, open or filled."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from tracker.domain.problems import Problem
from tracker.domain.records import KINDS
from tracker.domain.rows_spares import RoleRow
from tracker.sheets.cells import MODELS_MOST, Cells, plain_number
from tracker.sheets.rows import Form, cells_of, read_rows
from tracker.sheets.shown import shown
from tracker.sheets.table import Read, guard, write_table
from tracker.sheets.tags import HEIGHT_MOST_MM, read_base, read_tags, write_tags

COLUMNS = ("army", "unit", "role", "kind", "base", "height_mm", "tags", "model", "stand_in", "added")
FORM = Form(COLUMNS, ("unit", "role"))
HOW = ("stand-in", "for good")


def read_roles(text: str, *, today: date) -> Read[RoleRow]:
    """The roles of a sheet, with every problem by its row."""

    def make(cells: Cells, number: int, _note: str) -> RoleRow | None:
        return _make(cells, number, today)

    return read_rows(text, FORM, make, _roles_once)


def write_roles(rows: Iterable[RoleRow]) -> str:
    """The sheet of these roles; `read_roles` gives the same ones back."""
    return write_table(COLUMNS, map(_cells, rows))


def _make(cells: Cells, row: int, today: date) -> RoleRow | None:
    stand_in, model = cells.one_of("stand_in", HOW, ""), cells.whole("model", 1, MODELS_MOST * 10)
    if stand_in and stand_in not in HOW:
        cells.wrong(f"stand_in is {shown(stand_in)}", f"Write {' or '.join(HOW)}, or leave it empty")
    elif stand_in and model is None and not cells.problems:
        cells.wrong("nobody has the role, so nobody stands in", "Write the number of its model, or neither")
    return RoleRow(
        unit=cells.needed_name("unit"),
        role=cells.needed_name("role"),
        army=cells.name("army"),
        kind=cells.one_of("kind", KINDS, ""),
        base=read_base(cells),
        height_mm=cells.number("height_mm", HEIGHT_MOST_MM),
        tags=read_tags(cells),
        model=model,
        stand_in=stand_in,
        added=cells.day("added", latest=today),
        row=row,
    )


def _roles_once(rows: list[RoleRow]) -> tuple[list[RoleRow], list[Problem]]:
    first: dict[tuple[str, ...], int] = {}
    kept, problems = [], []
    for row in rows:
        at = first.setdefault((row.army.casefold(), row.unit.casefold(), row.role.casefold()), row.row)
        if at == row.row:
            kept.append(row)
        else:
            what = f"the role {shown(row.role)} of {shown(row.unit)} already stands in row {at}"
            problems.append(Problem(f"row {row.row}", what, "Give it a name of its own"))
    return kept, problems


def _cells(row: RoleRow) -> list[str]:
    return cells_of(
        (
            guard(row.army),
            guard(row.unit),
            guard(row.role),
            guard(row.kind),
            guard(row.base),
            plain_number(row.height_mm),
            guard(write_tags(row.tags)),
            row.model,
            row.stand_in,
            row.added,
        )
    )
