"""From a table to rows: each row is read on its own, so that every problem of a sheet is found."""

from __future__ import annotations

import csv
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import NamedTuple, TypeVar

from tracker.domain.problems import Problem
from tracker.domain.text import tidy
from tracker.sheets.cells import NOTE_LETTERS_MOST, Cells
from tracker.sheets.shown import shown
from tracker.sheets.table import PROBLEMS_MOST, Read, Table, broken, open_table, unguard

Row = TypeVar("Row")
Maker = Callable[[Cells, int, str], Row | None]
"""Makes a row from its cells, its number and its note (None when it cannot)."""


class Form(NamedTuple):
    """What columns a kind of sheet has."""

    columns: tuple[str, ...]
    needed: tuple[str, ...]


def read_rows(
    text: str,
    form: Form,
    make: Maker[Row],
    across: Callable[[list[Row]], tuple[list[Row], list[Problem]]] | None = None,
) -> Read[Row]:
    """All rows of a sheet that can be read, with the problems of the others.

    `across` looks at the good rows together (an evening's total, a unit that stands twice) and
    returns those to keep.
    """
    opened = open_table(text, form.columns, form.needed)
    if isinstance(opened, list):
        return Read((), first_of(opened))
    table, numbered = opened
    rows: list[Row] = []
    problems: list[Problem] = []
    unlisted = 0
    for cells, number in _each(table, numbered, problems):
        row = make(cells, number, _note(cells, table, form))
        if len(problems) < PROBLEMS_MOST:
            problems += cells.problems
        else:  # rows come in order, so these would not be listed: two million of them are only counted
            unlisted += len(cells.problems)
        if row is not None and not cells.problems:
            rows.append(row)
    if across is not None:
        rows, more = across(rows)
        problems += more
    return Read(
        tuple(rows), first_of(problems, unlisted), tuple(_own_columns(table, form)), tuple(table.known)
    )


def _each(
    table: Table, numbered: Iterator[tuple[int, list[str]]], problems: list[Problem]
) -> Iterator[tuple[Cells, int]]:
    number = table.header_row
    places = {**table.own, **table.known}
    try:
        for number, values in numbered:
            if not any(map(str.strip, values)):
                continue
            cells = Cells(number, values, places)
            if len(values) > table.width and any(map(tidy, values[table.width :])):
                what = f"it has {len(values)} cells, but the first row names {table.width} columns"
                cells.wrong(what, "Put text with commas in quotation marks")
            yield cells, number
    except csv.Error as error:
        problems.append(broken(number + 1, error))


def _note(cells: Cells, table: Table, form: Form) -> str:
    note = cells.note("note") if "note" in form.columns else ""
    for column in table.own:
        value = tidy(unguard(cells.raw(column)))
        if value:
            note = f"{note}; {column}: {value}" if note else f"{column}: {value}"
    if len(note) > NOTE_LETTERS_MOST and not cells.problems:
        cells.wrong(f"its unknown columns have {len(note)} letters", f"Shorten them to {NOTE_LETTERS_MOST}")
    return note


def _own_columns(table: Table, form: Form) -> Iterator[str]:
    what = "what it says is kept in the note" if "note" in form.columns else "it is left out"
    for column, place in table.own.items():
        if column != f"column {place + 1}":
            yield f"the column {shown(column)} is not known; {what}"


def first_of(problems: Sequence[Problem], unlisted: int = 0) -> tuple[Problem, ...]:
    """The first 50 problems in the order of their rows, and one more that counts the rest.

    `unlisted` more were found in later rows and not kept.
    """
    ordered = sorted(problems, key=_row_number)
    rest = len(ordered) - PROBLEMS_MOST + unlisted
    if rest <= 0:
        return tuple(ordered)
    more = Problem("the sheet", f"{rest} more problems are not listed", "Mend these and try again")
    return (*ordered[:PROBLEMS_MOST], more)


def _row_number(problem: Problem) -> int:
    digits = problem.where.removeprefix("row ")
    return int(digits) if digits.isdecimal() else 0


def cells_of(values: Iterable[object]) -> list[str]:
    """Values as cells: None is empty."""
    return ["" if value is None else str(value) for value in values]
