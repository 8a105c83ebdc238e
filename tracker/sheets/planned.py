"""The planned sheet: work of which the minutes are asked."""

from __future__ import annotations

from tracker.domain.answers import PlannedLine
from tracker.domain.records import DEFAULT_ARMY, KINDS, MATERIALS, STANDARDS
from tracker.sheets.cells import GUESS_MINUTES_MOST, MODELS_MOST, Cells
from tracker.sheets.evenings import step_name
from tracker.sheets.rows import Form, read_rows
from tracker.sheets.table import Read

COLUMNS = ("army", "unit", "step", "models", "guess_minutes", "kind", "material", "standard")
FORM = Form(COLUMNS, ("unit", "step"))


def read_planned(text: str) -> Read[PlannedLine]:
    """The lines of a planned sheet; `columns` tells whether kind, material and standard were said."""
    return read_rows(text, FORM, _make)


def _make(cells: Cells, _number: int, _note: str) -> PlannedLine:
    return PlannedLine(
        army=cells.name("army", DEFAULT_ARMY),
        unit=cells.needed_name("unit"),
        step=step_name(cells.needed_name("step")),
        models=cells.whole("models", 1, MODELS_MOST) or 1,
        guess_minutes=cells.number("guess_minutes", GUESS_MINUTES_MOST),
        kind=cells.one_of("kind", KINDS, "infantry"),
        material=cells.one_of("material", MATERIALS, "plastic"),
        standard=cells.one_of("standard", STANDARDS, "table-top"),
    )
