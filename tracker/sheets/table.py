r"""A sheet as a table: a header that names the columns, and rows of cells below it.

CSV by RFC 4180 (Y. Shafranovich, 2005, section 2) through the standard library: quotes are doubled,
cells may hold commas and line ends. Beyond it: semicolons or tabs instead of commas, any line end,
rows that end early.

A text cell that a spreadsheet would take for a formula goes out with an apostrophe before it and
comes back without, so that it does no harm there and is the same here.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Iterator, Sequence
from typing import Generic, NamedTuple, TypeVar

from tracker.domain.problems import Problem
from tracker.domain.text import tidy
from tracker.sheets.shown import shown

PROBLEMS_MOST = 50
_DELIMITERS = ",;\t"
_FORMULA = re.compile(r"'*[=+\-@\t\r]")
_GUARDED = re.compile(r"'+[=+\-@\t\r]")

Row = TypeVar("Row")


class Read(NamedTuple, Generic[Row]):
    """What a sheet says: its good rows, its problems, and what the person may want to know."""

    rows: tuple[Row, ...]
    """Rows without a problem; with problems elsewhere they are not the whole sheet."""
    problems: tuple[Problem, ...] = ()
    notes: tuple[str, ...] = ()
    columns: tuple[str, ...] = ()
    """The known columns that the sheet has."""


class Table(NamedTuple):
    """The columns of a sheet and where they stand."""

    delimiter: str
    known: dict[str, int]
    own: dict[str, int]
    """Columns that are not ours, as the person wrote them."""
    width: int
    header_row: int


def guard(text: str) -> str:
    """The text so that no spreadsheet runs it as a formula; `unguard` takes it back exactly."""
    return "'" + text if _FORMULA.match(text) else text


def unguard(text: str) -> str:
    """The text as it was before `guard`."""
    return text[1:] if text[:1] == "'" and _GUARDED.match(text) else text


def write_table(columns: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """CSV text with a header row and CRLF line ends (RFC 4180)."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(columns)
    writer.writerows(rows)
    return out.getvalue()


def open_table(
    text: str, columns: Sequence[str], needed: Sequence[str]
) -> tuple[Table, Iterator[tuple[int, list[str]]]] | list[Problem]:
    """The table of a sheet and its rows as (row number, cells), or the problems of its header.

    Rows count as a spreadsheet counts them: the first is row 1, a cell with line ends is one row.
    The iterator raises `csv.Error` where the quotes do not add up; `Rows.broken` words it.
    """
    text = text.removeprefix("\ufeff")
    delimiter = max(_DELIMITERS, key=lambda sign: _columns_found(text, sign, columns))
    rows = enumerate(_reader(text, delimiter), start=1)
    try:
        number, header = next(((n, cells) for n, cells in rows if any(map(tidy, cells))), (1, []))
    except csv.Error as error:
        return [broken(1, error)]
    if not header:
        first = ", ".join(needed)
        return [Problem("row 1", "the sheet is empty", f"Its first row names the columns, at least {first}")]
    table, problems = _read_header(header, number, delimiter, columns, needed)
    return problems or (table, rows)


def broken(row: int, error: csv.Error) -> Problem:
    """What the CSV reader stumbled over, in plain words."""
    if "field limit" in str(error):
        most = csv.field_size_limit()
        return Problem(f"row {row}", f"a cell is longer than {most:,} letters", "Shorten it")
    return Problem(
        f"row {row}",
        "the quotation marks do not add up",
        'Close every cell that opens with ", and write a quotation mark inside it twice',
    )


def _reader(text: str, delimiter: str) -> Iterator[list[str]]:
    return csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)


def column_name(cell: str) -> str:
    """A header cell as a column's name: capitals, blanks and hyphens do not count."""
    return re.sub(r"[\s_\-]+", "_", tidy(unguard(cell)).casefold())


def _columns_found(text: str, delimiter: str, columns: Sequence[str]) -> int:
    try:
        header = next((cells for cells in _reader(text, delimiter) if any(map(tidy, cells))), [])
    except csv.Error:
        return 0
    return sum(column_name(cell) in columns for cell in header)


def _read_header(
    header: list[str], row: int, delimiter: str, columns: Sequence[str], needed: Sequence[str]
) -> tuple[Table, list[Problem]]:
    table = Table(delimiter, {}, {}, len(header), row)
    problems = []
    where = f"row {row}"
    taken: set[str] = set()
    for place, cell in enumerate(header):
        name = column_name(cell)
        if name and name in taken:
            mend = "Rename or remove one of them"
            problems.append(Problem(where, f"two columns are named {shown(tidy(cell))}", mend))
        taken.add(name)
        if name in columns:
            table.known.setdefault(name, place)
        else:
            table.own[tidy(unguard(cell)) or f"column {place + 1}"] = place
    for name in needed:
        if name not in taken:
            found = ", ".join(shown(tidy(cell)) for cell in header[:12])
            mend = f"Give one column that name; the first row has {found}"
            problems.append(Problem(where, f'the column "{name}" is missing', mend))
    return table, problems
