"""Rows of the sheets as records: what a person's spreadsheet says, read and checked, not yet stored."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

from tracker.domain.records import DEFAULT_ARMY


class EveningRow(NamedTuple):
    """One line of an evening as the evening sheet tells it."""

    date: date
    unit: str
    step: str
    army: str = DEFAULT_ARMY
    evening: str = ""
    start: str = ""
    evening_minutes: float | None = None
    models: int = 1
    minutes: float | None = None
    finished: bool = True
    guess_minutes: float | None = None
    note: str = ""
    row: int = 0
    """Row number in the sheet (the header is row 1); 0 = not from a sheet."""


class RosterRow(NamedTuple):
    """One unit as the roster sheet tells it."""

    unit: str
    models: int
    army: str = DEFAULT_ARMY
    points: float | None = None
    kind: str = "infantry"
    material: str = "plastic"
    standard: str = "table-top"
    base: str = ""
    files: int | None = None
    ranks: int | None = None
    steps: tuple[str, ...] = ()
    """Empty = the usual route of its kind, standard and material."""
    finish_line: str = ""
    guess_minutes: float | None = None
    goal_date: date | None = None
    goal: str = ""
    order: int | None = None
    source: str = ""
    cost: str = ""
    note: str = ""
    added: date | None = None
    """The day it came in; none = today, or its first evening if that is earlier."""
    row: int = 0
