"""Rows of the recipe sheet: one step of one version each, as they stand in the file."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

from tracker.domain.recipes import RecipeStep


class UseRow(NamedTuple):
    """A unit or an army that a version is used for."""

    army: str = ""
    """Empty for a unit: whichever army has it."""
    unit: str = ""
    """Empty: the whole army."""
    used_on: date | None = None


class RecipeRow(NamedTuple):
    """One step of one version of a recipe; without an area the version has no steps."""

    recipe: str
    version: int = 1
    primer: str = ""
    note: str = ""
    """Of the recipe."""
    changed: str = ""
    """Of the version."""
    added: date | None = None
    made: date | None = None
    step: RecipeStep | None = None
    like: str = ""
    like_version: int | None = None
    units: tuple[UseRow, ...] = ()
    armies: tuple[UseRow, ...] = ()
    row: int = 0
    """Row of the sheet."""
