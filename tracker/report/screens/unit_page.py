"""A unit's sheet in letters: models down, steps across; colour only says the letter again."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from tracker.domain.standings import SheetCell, SheetRow, UnitSheet
from tracker.report.plain import cells, clip, count_words, date_words, pad
from tracker.report.screens.chrome import short_day
from tracker.report.screens.line import PageLine, sentences

LETTERS = {"not yet": ".", "in hand": "h", "drying": "~", "done": "#", "skipped": "-"}
LOOKS = {".": "quiet", "h": "head", "~": "chart", "#": "good", "-": "quiet"}
LEGEND = ". not yet   h in hand   ~ drying   # done   - goes without   | finish line"
_NAME_MOST = 22
_STAND_IN_MOST = 8
CELL = 3


class Grid(NamedTuple):
    """A sheet laid out: titles over the columns, a margin for every row, a letter for every cell."""

    titles: tuple[str, ...]
    """Lines over the cells; the steps are written downwards where they have no room side by side."""
    margins: tuple[str, ...]
    letters: tuple[str, ...]
    """One string of letters for every row."""
    finish: int
    """Index of the step that is the finish line."""
    pitch: int = CELL
    """Columns of one cell, its gap included."""


def grid(sheet: UnitSheet, width: int) -> Grid:
    """The sheet as letters; every step's name begins over its own column, a stroke leads down to it."""
    margin = min(max([cells(_who(row)) for row in sheet.rows] or [5]), _NAME_MOST) + 2
    margins = tuple(pad(clip(_who(row), margin - 2), margin) for row in sheet.rows)
    letters = tuple("".join(LETTERS[cell.state] for cell in row.cells) for row in sheet.rows)
    finish = sheet.steps.index(sheet.finish_line) if sheet.finish_line in sheet.steps else -1
    pitch = CELL if margin + CELL * len(sheet.steps) + 8 <= width else CELL - 1
    starts = [margin + pitch * place for place in range(len(sheet.steps))]
    return Grid(_titles(sheet.steps, starts, width), margins, letters, finish, pitch)


def _who(row: SheetRow) -> str:
    words = [f"{row.number:>2}"]
    # In the narrow margin a stand-in's name is cut sooner than the word that it is one.
    name = name_of(row._replace(name=clip(row.name, _STAND_IN_MOST)) if row.stand_in else row)
    words += [name] if name else []
    words += [f"({row.part})"] if row.part else []
    return " ".join(words) + (" *" if row.note else "")


def name_of(row: SheetRow) -> str:
    """A model's name wherever its unit's models are listed; a stand-in for an evening is told as one."""
    return " ".join(part for part in (row.name, "(stand-in)" if row.stand_in == "stand-in" else "") if part)


def _titles(steps: Sequence[str], starts: Sequence[int], width: int) -> tuple[str, ...]:
    """Names from the last step to the first, each as low as it can be without touching its neighbour."""
    rows: list[dict[int, str]] = []
    for step, start in zip(reversed(steps), reversed(starts), strict=True):
        name = clip(step, max(width - start, 4))
        low = next((i for i, row in enumerate(rows) if start + cells(name) + 1 <= min(row)), len(rows))
        if low == len(rows):
            rows.append({})
        rows[low][start] = name
    lines = []
    for i in range(len(rows) - 1, -1, -1):
        strokes = {start: "|" for row in rows[i + 1 :] for start in row}
        lines.append(_placed({**strokes, **rows[i]}))
    return tuple(lines)


def _placed(words: dict[int, str]) -> str:
    line = ""
    for start in sorted(words):
        if cells(line) <= start:
            line = pad(line, start) + words[start]
    return line


def cell_words(sheet: UnitSheet, row: int, column: int) -> str:
    """What the cell under the cursor is."""
    if not (0 <= row < len(sheet.rows) and 0 <= column < len(sheet.steps)):
        return ""
    who, cell = sheet.rows[row], sheet.rows[row].cells[column]
    name = " ".join(part for part in (f"{who.number}", clip(name_of(who), 30)) if part)
    words = f"Model {name}, {clip(sheet.steps[column], 24)}: {_state(cell)}"
    return words + (f". Note: {clip(who.note, 80)}" if who.note else "")


def _state(cell: SheetCell) -> str:
    words = "goes without" if cell.state == "skipped" else cell.state
    if cell.until is not None:
        return f"{words} until {cell.until:%H:%M} on {short_day(cell.until.date())}"
    return f"{words}, {date_words(cell.on)}" if cell.on is not None and cell.state != "not yet" else words


def sheet_foot(sheet: UnitSheet, width: int) -> list[PageLine]:
    """The legend, the goal, the finish line."""
    out = [PageLine(clip(LEGEND, width), "quiet")]
    if sheet.goal_date is not None:
        goal = f" for {clip(sheet.goal, 30)}" if sheet.goal else ""
        out += sentences(f"Wanted by {date_words(sheet.goal_date)}{goal}.", width)
    if sheet.note:
        out += sentences(f"Note: {clip(sheet.note, 200)}", width, "quiet")
    return out


def sheet_title(sheet: UnitSheet) -> str:
    """The unit's name for the top line."""
    return f"{clip(sheet.unit, 30)}, {count_words(len(sheet.rows), 'model')}"
