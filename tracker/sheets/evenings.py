"""The evening sheet: what was done, one row per line of an evening."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from tracker.domain.problems import Problem
from tracker.domain.records import DEFAULT_ARMY, MINUTES_A_DAY
from tracker.domain.rows import EveningRow
from tracker.domain.steps import find_step
from tracker.sheets.cells import GUESS_MINUTES_MOST, MODELS_MOST, Cells, plain_number
from tracker.sheets.rows import Form, read_rows
from tracker.sheets.shown import shown
from tracker.sheets.table import Read, guard, write_table

COLUMNS = (
    "date", "evening", "start", "evening_minutes", "army", "unit", "step", "models", "minutes",
    "finished", "guess_minutes", "note",
)  # fmt: skip
FORM = Form(COLUMNS, ("date", "unit", "step"))
_ROUNDING_MINUTES = 0.01


def read_evenings(text: str, *, today: date) -> Read[EveningRow]:
    """The lines of an evening sheet, with every problem by its row.

    Each row of an evening (same date, same `evening`) comes back with the evening's total and
    start, whichever of its rows said them. A catalogue step is named as the catalogue does; any
    other step stays as it is typed.
    """

    def make(cells: Cells, number: int, note: str) -> EveningRow | None:
        return _make(cells, number, note, today)

    return read_rows(text, FORM, make, _check_evenings)


def write_evenings(rows: Iterable[EveningRow]) -> str:
    """The evening sheet of these lines; `read_evenings` gives the same lines back."""
    return write_table(COLUMNS, map(_cells, rows))


def step_name(text: str) -> str:
    """The catalogue's spelling when it is a catalogue step's name, else the text itself."""
    step = find_step(text)
    return step.name if step else text


def _make(cells: Cells, number: int, note: str, today: date) -> EveningRow | None:
    day = cells.day("date", latest=today)
    if day is None and not cells.problems:
        cells.wrong("date is empty", "Write it as year-month-day, such as 2026-03-04")
    models = cells.whole("models", 0, MODELS_MOST)
    row = EveningRow(
        date=day or today,
        unit=cells.needed_name("unit"),
        step=step_name(cells.needed_name("step")),
        army=cells.name("army", DEFAULT_ARMY),
        evening=cells.name("evening"),
        start=cells.clock("start"),
        evening_minutes=cells.number("evening_minutes", MINUTES_A_DAY),
        models=1 if models is None else models,
        minutes=cells.number("minutes", MINUTES_A_DAY),
        finished=cells.truth("finished", True),
        guess_minutes=cells.number("guess_minutes", GUESS_MINUTES_MOST),
        note=note,
        row=number,
    )
    return row if day else None


def _check_evenings(rows: list[EveningRow]) -> tuple[list[EveningRow], list[Problem]]:
    """Rows whose evening agrees with itself, with its total and start on each; problems of the others."""
    evenings: dict[tuple[date, str], list[EveningRow]] = {}
    for row in rows:
        evenings.setdefault((row.date, row.evening), []).append(row)
    problems: list[Problem] = []
    filled: dict[tuple[date, str], tuple[float | None, str]] = {}
    for key, lines in evenings.items():
        found = _evening_problem(lines)
        if found:
            problems.append(found)
        else:
            total = next((x.evening_minutes for x in lines if x.evening_minutes is not None), None)
            filled[key] = (total, next((x.start for x in lines if x.start), ""))
    kept = []
    for row in rows:
        said = filled.get((row.date, row.evening))
        if said is None:
            continue
        whole = (row.evening_minutes, row.start) == said
        kept.append(row if whole else row._replace(evening_minutes=said[0], start=said[1]))
    return kept, problems


def _evening_problem(lines: list[EveningRow]) -> Problem | None:
    totals = {x.evening_minutes: x for x in reversed(lines) if x.evening_minutes is not None}
    starts = {x.start: x for x in reversed(lines) if x.start}
    for said, word in ((totals, "evening_minutes"), (starts, "start")):
        if len(said) > 1:
            one, other = sorted(said.values(), key=lambda x: x.row)[:2]
            return Problem(
                f"row {other.row}",
                f"{word} is not the same as in row {one.row} of that evening ({other.date})",
                "Write the same on each row, or tell two evenings of one date apart in the column evening",
            )
    if not totals:
        return None
    (total,) = totals
    timed = 0.0
    for line in lines:
        timed += line.minutes or 0.0
        if timed > total + _ROUNDING_MINUTES:
            return _too_long(line, timed, total)
    return None


def _too_long(line: EveningRow, timed: float, total: float) -> Problem:
    evening = f" {shown(line.evening)}" if line.evening else ""
    what = f"the lines of {line.date}{evening} take {timed:g} minutes, but the evening had {total:g}"
    return Problem(f"row {line.row}", what, "Correct the minutes or the evening_minutes")


def _cells(row: EveningRow) -> list[str]:
    return [
        row.date.isoformat(),
        guard(row.evening),
        row.start,
        plain_number(row.evening_minutes),
        guard(row.army),
        guard(row.unit),
        guard(row.step),
        str(row.models),
        plain_number(row.minutes),
        "yes" if row.finished else "no",
        plain_number(row.guess_minutes),
        guard(row.note),
    ]
