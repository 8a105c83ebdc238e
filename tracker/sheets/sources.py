r"""The sheet of deals: what came in and went out, one row per deal.

A deal about several units has them in one cell, parted by ";", and likewise their armies and models. A ";"
inside a name is written "\;" and a backslash before one "\\", so that any name comes back as it was.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from datetime import date
from decimal import Decimal

from tracker.domain.money import check_currency, read_amount
from tracker.domain.problems import Problem, did_you_mean
from tracker.domain.rows_sources import SourceRow
from tracker.domain.sources import WAYS_IN, WAYS_OUT
from tracker.domain.text import tidy
from tracker.sheets.cells import Cells
from tracker.sheets.rows import Form, cells_of, read_rows
from tracker.sheets.shown import shown
from tracker.sheets.table import Read, guard, unguard, write_table

COLUMNS = (
    "date", "how", "army", "unit", "models", "spares", "whom", "amount", "currency", "postage", "exchange",
    "note",
)  # fmt: skip
FORM = Form(COLUMNS, ("date", "how"))
_WAYS = (*WAYS_IN, *WAYS_OUT)
_PIECE = re.compile(r"\\[\\;]|;|[^\\;]+|\\")
_DAY_MADE = re.compile(
    r"[0-9]{1,2}[./ -]{1,2}[A-Za-z]{3}\.?(?:[./ -][0-9]{2,4})?|[A-Za-z]{3}[./ -][0-9]{2,4}"
    r"|[0-9]{1,4}[./-][0-9]{1,2}[./-][0-9]{1,4}"
)
"""What spreadsheets make of "1-10": "1-Oct", "01. Oct", "Oct-10", "2026-10-01"."""


def read_sources(text: str, *, today: date) -> Read[SourceRow]:
    """The deals of a sheet, with every problem by its row."""

    def make(cells: Cells, number: int, note: str) -> SourceRow | None:
        return _make(cells, number, note, today)

    return read_rows(text, FORM, make)


def write_sources(rows: Iterable[SourceRow]) -> str:
    """The sheet of these deals; `read_sources` gives the same deals back."""
    return write_table(COLUMNS, map(_cells, rows))


def split_list(text: str) -> tuple[str, ...]:
    """The names in a cell, in order; an empty cell has none."""
    names = [""]
    for piece in _PIECE.findall(text):
        if piece == ";":
            names.append("")
        else:
            names[-1] += piece[1:] if len(piece) == 2 and piece[0] == "\\" else piece
    found = tuple(map(tidy, names))
    return found if any(found) else ()


def join_list(names: Sequence[str]) -> str:
    """Names as one cell; `split_list` takes them apart again."""
    return "; ".join(name.replace("\\", "\\\\").replace(";", "\\;") for name in names)


def _make(cells: Cells, number: int, note: str, today: date) -> SourceRow | None:
    day = _day(cells, today)
    units = split_list(unguard(cells.raw("unit")))
    amount, postage = _amount(cells, "amount"), _amount(cells, "postage")
    row = SourceRow(
        day or today, _how(cells), _of_units(cells, "army", units), units, _of_units(cells, "models", units),
        _numbers(cells, "spares", cells.name("spares")), cells.name("whom"), amount,
        _currency(cells, needed=amount is not None or postage is not None), postage, cells.name("exchange"),
        tidy(note), number,
    )  # fmt: skip
    if "" in units:
        cells.wrong("unit has an empty name", 'Part the names with one ";" each')
    about = (row.units, row.spares, row.whom, row.currency, row.exchange, row.note)
    if not any(about) and not cells.problems:
        cells.wrong("the row says nothing of the deal", "Name a unit, spares, money, whom, or write a note")
    return row


def _day(cells: Cells, today: date) -> date | None:
    day = cells.day("date")
    if day is None and not tidy(cells.raw("date")):
        cells.wrong("date is empty", "Write the day, such as 2026-03-04")
    elif day is not None and day > today:
        cells.wrong(f"date {day.isoformat()} lies in the future", "Note it once it has been")
    return day


def _how(cells: Cells) -> str:
    said = cells.needed_name("how")
    folded = " ".join(said.casefold().replace("-", " ").split())
    if said and folded not in _WAYS:
        cells.wrong(f"how is {shown(said)}", did_you_mean(said, _WAYS, f"One of: {', '.join(_WAYS)}"))
    return folded


def _of_units(cells: Cells, column: str, units: Sequence[str]) -> tuple[str, ...]:
    """What a column says for each unit; a single army is that of all of them."""
    said = split_list(unguard(cells.raw(column)))
    if column == "models":
        said = tuple(_numbers(cells, column, one) for one in said)
    if column == "army" and len(said) == 1 and units:
        said *= len(units)
    if len(said) not in (0, len(units)):
        cells.wrong(
            f"{column} has {len(said)} parts, unit has {len(units)}", 'Part them with ";", one for each unit'
        )
    return said


def _numbers(cells: Cells, column: str, said: str) -> str:
    """Numbers of models as they stand; a spreadsheet likes to make a date of "1-10"."""
    if _DAY_MADE.fullmatch(said):
        cells.wrong(
            f"{column} is {shown(said)}",
            'A spreadsheet made a date of it: make the column text, as in "1-10"',
        )
    return said


def _amount(cells: Cells, column: str) -> Decimal | None:
    text = tidy(unguard(cells.raw(column)))
    if not text:
        return None
    amount = read_amount(text)
    if isinstance(amount, Problem):
        cells.wrong(f"{column}: {amount.what}", amount.mend)
        return None
    return amount


def _currency(cells: Cells, *, needed: bool) -> str:
    """The currency where there is money; without any it says nothing."""
    said = cells.name("currency")
    if not needed:
        return ""
    wrong = check_currency(said, "currency")
    if not said:
        cells.wrong("currency is empty", "Write three capitals, such as EUR")
    elif wrong:
        cells.wrong(f"currency: {wrong.what}", wrong.mend)
    return said


def plain_amount(amount: Decimal | None) -> str:
    """An amount as a cell. One of three decimals gets a fourth: it could be read as thousands."""
    if amount is None:
        return ""
    text = f"{amount:f}"
    return f"{text}0" if len(text.rpartition(".")[2]) == 3 and "." in text else text


def _cells(row: SourceRow) -> list[str]:
    return cells_of((
        row.date, row.how, guard(join_list(row.armies)), guard(join_list(row.units)),
        guard(join_list(row.models)), guard(row.spares), guard(row.whom), plain_amount(row.amount),
        row.currency, plain_amount(row.postage), guard(row.exchange), guard(row.note),
    ))  # fmt: skip
