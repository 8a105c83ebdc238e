"""The sheet of spares: one row for each, or for several that are alike."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from tracker.domain.keeping import SPARE_STATES
from tracker.domain.problems import Problem
from tracker.domain.records import KINDS, MATERIALS
from tracker.domain.rows_spares import SpareRow
from tracker.sheets.cells import MODELS_MOST, Cells, plain_number
from tracker.sheets.rows import Form, cells_of, read_rows
from tracker.sheets.shown import shown
from tracker.sheets.table import Read, guard, write_table
from tracker.sheets.tags import HEIGHT_MOST_MM, read_base, read_tags, write_tags

COLUMNS = (
    "number", "models", "name", "kind", "part", "base", "height_mm", "material", "state", "place", "tags",
    "added", "note",
)  # fmt: skip
FORM = Form(COLUMNS, ("name",))
_NUMBER_MOST = 1_000_000


def read_spares(text: str, *, today: date) -> Read[SpareRow]:
    """The spares of a sheet, with every problem by its row."""

    def make(cells: Cells, number: int, note: str) -> SpareRow | None:
        return _make(cells, number, note, today)

    return read_rows(text, FORM, make, _numbers_once)


def write_spares(rows: Iterable[SpareRow]) -> str:
    """The sheet of these spares; `read_spares` gives the same ones back."""
    return write_table(COLUMNS, map(_cells, rows))


def _make(cells: Cells, row: int, note: str, today: date) -> SpareRow | None:
    number = cells.whole("number", 1, _NUMBER_MOST)
    models = cells.whole("models", 1, MODELS_MOST)
    if number is not None and (models or 1) > 1:
        cells.wrong(f"number {number} stands for {models} models", "Leave number empty, or write 1 model")
    state = cells.one_of("state", SPARE_STATES, "")
    if state and state not in SPARE_STATES:
        cells.wrong(f"{shown(state)} is no state", f"Write one of: {', '.join(SPARE_STATES)}")
    return SpareRow(
        number=number,
        models=models or 1,
        name=cells.name("name"),
        kind=cells.one_of("kind", KINDS, ""),
        part=cells.name("part"),
        base=read_base(cells),
        height_mm=cells.number("height_mm", HEIGHT_MOST_MM),
        material=cells.one_of("material", MATERIALS, ""),
        state=state,
        place=cells.name("place"),
        tags=read_tags(cells),
        note=note,
        added=cells.day("added", latest=today),
        row=row,
    )


def _numbers_once(rows: list[SpareRow]) -> tuple[list[SpareRow], list[Problem]]:
    first: dict[int, int] = {}
    kept, problems = [], []
    for row in rows:
        at = row.row if row.number is None else first.setdefault(row.number, row.row)
        if at == row.row:
            kept.append(row)
        else:
            what = f"spare {row.number} already stands in row {at}"
            problems.append(Problem(f"row {row.row}", what, "Leave one of the numbers empty"))
    return kept, problems


def _cells(row: SpareRow) -> list[str]:
    return cells_of(
        (
            row.number,
            row.models,
            guard(row.name),
            guard(row.kind),
            guard(row.part),
            guard(row.base),
            plain_number(row.height_mm),
            guard(row.material),
            row.state,
            guard(row.place),
            guard(write_tags(row.tags)),
            row.added,
            guard(row.note),
        )
    )
