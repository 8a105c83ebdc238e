r"""The roster sheet: what there is to do, one row per unit.

Steps of a route stand in one cell, separated by ";". A ";" inside a step's name is written "\;" and
a backslash before one "\\", so that any name comes back as it was.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from datetime import date

from tracker.domain.bases import parse_base
from tracker.domain.problems import Problem, did_you_mean
from tracker.domain.records import DEFAULT_ARMY, KINDS, MATERIALS, STANDARDS
from tracker.domain.rows import RosterRow
from tracker.domain.text import tidy
from tracker.sheets.cells import GUESS_MINUTES_MOST, MODELS_MOST, Cells, plain_number
from tracker.sheets.evenings import step_name
from tracker.sheets.rows import Form, cells_of, read_rows
from tracker.sheets.shown import shown
from tracker.sheets.table import Read, guard, unguard, write_table

COLUMNS = (
    "army", "unit", "models", "points", "kind", "material", "standard", "base", "files", "ranks",
    "steps", "finish_line", "guess_minutes", "goal_date", "goal", "order", "source", "cost", "added",
    "note",
)  # fmt: skip
FORM = Form(COLUMNS, ("unit", "models"))
POINTS_MOST = 1_000_000
STEPS_MOST = 200
_PIECE = re.compile(r"\\[\\;]|;|[^\\;]+|\\")


def read_roster(text: str, *, today: date) -> Read[RosterRow]:
    """The units of a roster sheet, with every problem by its row."""

    def make(cells: Cells, number: int, note: str) -> RosterRow | None:
        return _make(cells, number, note, today)

    return read_rows(text, FORM, make, _check_units)


def write_roster(rows: Iterable[RosterRow]) -> str:
    """The roster sheet of these units; `read_roster` gives the same units back."""
    return write_table(COLUMNS, map(_cells, rows))


def split_steps(text: str) -> tuple[str, ...]:
    """The step names in a cell, in order; empty ones do not count."""
    return tuple(map(step_name, take_apart(text)))


def take_apart(text: str) -> tuple[str, ...]:
    """What stands between the ";" of a cell, in order; empty ones do not count."""
    names = [""]
    for piece in _PIECE.findall(text):
        if piece == ";":
            names.append("")
        else:
            names[-1] += piece[1:] if len(piece) == 2 and piece[0] == "\\" else piece
    return tuple(tidy(name) for name in names if tidy(name))


def join_steps(names: Sequence[str]) -> str:
    """Step names as one cell; `split_steps` takes them apart again."""
    return "; ".join(name.replace("\\", "\\\\").replace(";", "\\;") for name in names)


def _make(cells: Cells, number: int, note: str, today: date) -> RosterRow | None:
    unit = cells.needed_name("unit")
    models = cells.whole("models", 1, MODELS_MOST)
    if models is None and not tidy(cells.raw("models")):
        cells.wrong("models is empty", "Write how many models the unit has")
    steps = _steps(cells)
    return RosterRow(
        unit=unit,
        models=models or 1,
        army=cells.name("army", DEFAULT_ARMY),
        points=cells.number("points", POINTS_MOST, zero=True),
        kind=cells.one_of("kind", KINDS, "infantry"),
        material=cells.one_of("material", MATERIALS, "plastic"),
        standard=cells.one_of("standard", STANDARDS, "table-top"),
        base=_base(cells),
        files=cells.whole("files", 1, MODELS_MOST),
        ranks=cells.whole("ranks", 1, MODELS_MOST),
        steps=steps,
        finish_line=_finish_line(cells, steps),
        guess_minutes=cells.number("guess_minutes", GUESS_MINUTES_MOST),
        goal_date=cells.day("goal_date"),
        goal=cells.name("goal"),
        order=cells.whole("order", 1, 1_000_000),
        source=cells.name("source"),
        cost=cells.name("cost"),
        note=note,
        added=cells.day("added", latest=today),
        row=number,
    )


def _base(cells: Cells) -> str:
    text = cells.name("base")
    if text and not cells.problems:
        base = parse_base(text)
        if isinstance(base, Problem):
            cells.wrong(f"{shown(text)} is not a base size", base.mend)
    return text


def _steps(cells: Cells) -> tuple[str, ...]:
    steps = split_steps(unguard(cells.raw("steps")))
    if len(steps) > STEPS_MOST:
        cells.wrong(f"steps has {len(steps)} names", f"Write at most {STEPS_MOST}")
    seen: set[str] = set()
    for name in steps:
        if len(name) > 1000:
            cells.wrong(f"the step {shown(name)} has {len(name)} letters", "Shorten it to 1000")
        if name.casefold() in seen:
            cells.wrong(f"the step {shown(name)} stands twice", "Name each step once")
        seen.add(name.casefold())
    return steps


def _finish_line(cells: Cells, steps: Sequence[str]) -> str:
    name = step_name(cells.name("finish_line"))
    if name and steps and name.casefold() not in {step.casefold() for step in steps}:
        mend = did_you_mean(name, steps, "Name one of the unit's steps, or leave it empty")
        cells.wrong(f"finish_line {shown(name)} is not one of its steps", mend)
    return name


def _check_units(rows: list[RosterRow]) -> tuple[list[RosterRow], list[Problem]]:
    first: dict[tuple[str, str], int] = {}
    kept, problems = [], []
    for row in rows:
        at = first.setdefault((row.army.casefold(), row.unit.casefold()), row.row)
        if at == row.row:
            kept.append(row)
        else:
            what = f"the unit {shown(row.unit)} already stands in row {at}"
            problems.append(
                Problem(f"row {row.row}", what, "Give it a name of its own, or join the two rows")
            )
    return kept, problems


def _cells(row: RosterRow) -> list[str]:
    return cells_of(
        (
            guard(row.army),
            guard(row.unit),
            row.models,
            plain_number(row.points),
            guard(row.kind),
            guard(row.material),
            guard(row.standard),
            guard(row.base),
            row.files,
            row.ranks,
            guard(join_steps(row.steps)),
            guard(row.finish_line),
            plain_number(row.guess_minutes),
            row.goal_date,
            guard(row.goal),
            row.order,
            guard(row.source),
            guard(row.cost),
            row.added,
            guard(row.note),
        )
    )
