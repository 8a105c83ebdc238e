r"""The recipe sheet: one row per step of every version.

Units and armies stand in one cell each, separated by ";": "Host: Spears: 2026-03-01" is a unit with its
army and the day, "Spears" is enough. A "\", ";" or ":" inside a name is written with a "\" before it.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from datetime import date

from tracker.domain.problems import Problem
from tracker.domain.recipe_words import known_technique
from tracker.domain.recipes import CERTAINTIES, SHEENS, RecipeStep
from tracker.domain.rows_recipes import RecipeRow, UseRow
from tracker.domain.text import tidy
from tracker.sheets.cells import Cells
from tracker.sheets.recipe_text import STEPS_MOST
from tracker.sheets.recipe_tokens import MIX, SWATCH
from tracker.sheets.rows import Form, cells_of, read_rows
from tracker.sheets.shown import shown
from tracker.sheets.table import Read, guard, unguard, write_table

COLUMNS = (
    "recipe", "version", "place", "area", "technique", "paint", "mix", "medium", "tool", "sheen", "certainty",
    "swatch", "reminder", "primer", "note", "changed", "added", "made", "like", "like_version", "units",
    "armies",
)  # fmt: skip
FORM = Form(COLUMNS, ("recipe", "area"))
VERSIONS_MOST = 100_000
_OF_VERSION = ("primer", "changed", "made", "like", "like_version")
_PIECE = re.compile(r"\\[\\;:]|[;:]|[^\\;:]+|\\")
_ISO = re.compile(r"\d{4}-\d\d-\d\d")


def read_recipes(text: str, *, today: date) -> Read[RecipeRow]:
    """The steps of a recipe sheet, with every problem by its row; places count by the order of rows."""

    def make(cells: Cells, number: int, note: str) -> RecipeRow | None:
        return _make(cells, number, note, today)

    return read_rows(text, FORM, make, _across)


def write_recipes(rows: Iterable[RecipeRow]) -> str:
    """The recipe sheet of these rows; `read_recipes` gives the same back."""
    return write_table(COLUMNS, map(_cells, rows))


def _make(cells: Cells, number: int, note: str, today: date) -> RecipeRow | None:
    recipe = cells.needed_name("recipe")
    return RecipeRow(
        recipe=recipe,
        version=cells.whole("version", 1, VERSIONS_MOST) or 1,
        primer=cells.name("primer"),
        note=tidy(note),
        changed=tidy(cells.note("changed")),
        added=cells.day("added", latest=today),
        made=cells.day("made", latest=today),
        step=_step(cells),
        like=cells.name("like"),
        like_version=cells.whole("like_version", 1, VERSIONS_MOST),
        units=_uses(cells, "units", today),
        armies=_uses(cells, "armies", today),
        row=number,
    )


def _step(cells: Cells) -> RecipeStep | None:
    area = cells.name("area")
    place = cells.whole("place", 1, STEPS_MOST) or 0
    step = RecipeStep(
        0, 0, place, area, known_technique(cells.name("technique")), cells.name("paint"), cells.name("mix"),
        cells.name("medium"), cells.name("tool"), cells.one_of("sheen", SHEENS, ""),
        cells.one_of("certainty", CERTAINTIES, "sure"), cells.name("swatch").casefold(),
        cells.name("reminder"),
    )  # fmt: skip
    if not area:
        if step._replace(place=0) != RecipeStep(0, 0, 0, ""):
            cells.wrong("area is empty", "Say which area the step is for")
        return None
    if not step.paint and not step.technique:
        cells.wrong("the step has no paint and no technique", "Fill in one of them")
    if step.certainty not in CERTAINTIES:
        cells.wrong(f"certainty is {shown(step.certainty)}", f"Write one of: {', '.join(CERTAINTIES)}")
    if step.mix and (not MIX.fullmatch(step.mix) or not any(map(float, step.mix.split(":")))):
        cells.wrong(f"mix is {shown(step.mix)}", 'Write the parts like "2:1"')
    if step.swatch and not SWATCH.fullmatch(step.swatch):
        cells.wrong(f"swatch is {shown(step.swatch)}", 'Write it like "#7a1f1f"')
    return step


def _uses(cells: Cells, column: str, today: date) -> tuple[UseRow, ...]:
    out = []
    for said in _apart(unguard(cells.raw(column))):
        parts = [tidy(part) for part in said]
        day = None
        if len(parts) > 1 and _ISO.fullmatch(parts[-1]):
            day = _day(cells, column, parts.pop(), today)
        most = 2 if column == "units" else 1
        if len(parts) > most or not all(parts):
            cells.wrong(f"{column} {shown(': '.join(said))} cannot be read", f"Write {_LIKE[column]}")
        elif column == "armies":
            out.append(UseRow(parts[0], "", day))
        else:
            out.append(UseRow(parts[0] if len(parts) == 2 else "", parts[-1], day))
    return tuple(out)


_LIKE = {"units": '"Host: Spears", with ";" between two', "armies": '"Host", with ";" between two'}


def _day(cells: Cells, column: str, said: str, today: date) -> date | None:
    try:
        day = date.fromisoformat(said)
    except ValueError:
        day = None
    if day is None or day > today:
        cells.wrong(f"{column}: {said} cannot be", "Write a day that was, such as 2026-03-04")
    return day


def _apart(text: str) -> list[list[str]]:
    """Entries by their parts: [["Host", " Spears"], [" Riders"]]; empty ones do not count."""
    out = [[""]]
    for piece in _PIECE.findall(text):
        if piece == ";":
            out.append([""])
        elif piece == ":":
            out[-1].append("")
        else:
            out[-1][-1] += piece[1:] if len(piece) == 2 and piece[0] == "\\" else piece
    return [parts for parts in out if any(map(tidy, parts))]


def _joined(uses: Sequence[UseRow]) -> str:
    return "; ".join(
        ": ".join(_escaped(part) for part in (*use[:2], use.used_on and use.used_on.isoformat()) if part)
        for use in uses
    )


def _escaped(text: str) -> str:
    return re.sub(r"([\\;:])", r"\\\1", text)


def _across(rows: list[RecipeRow]) -> tuple[list[RecipeRow], list[Problem]]:
    """What a version says once may be left out or said again, but not otherwise."""
    first: dict[tuple[str, int], RecipeRow] = {}
    kept, problems = [], []
    for row in rows:
        head = first.setdefault((row.recipe.casefold(), row.version), row)
        wrong = next((field for field in _OF_VERSION if getattr(row, field) not in
                      (getattr(head, field), None, "")), None)  # fmt: skip
        if wrong is None:
            kept.append(row)
        else:
            said = wrong.replace("_", " ")
            what = f"{said} is not as in row {head.row} of the same version"
            problems.append(Problem(f"row {row.row}", what, "Say it once, or the same in every row"))
    return kept, problems


def _cells(row: RecipeRow) -> list[str]:
    step = row.step
    of_step = (
        [step.place or "", *map(guard, step[3:])]
        if step is not None
        else [None] * (len(RecipeStep._fields) - 2)
    )
    return cells_of(
        (
            guard(row.recipe), row.version, *of_step, guard(row.primer), guard(row.note), guard(row.changed),
            row.added, row.made, guard(row.like), row.like_version, guard(_joined(row.units)),
            guard(_joined(row.armies)),
        )
    )  # fmt: skip
