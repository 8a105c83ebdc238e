"""The screens, one to a file; each is loaded when it is first opened."""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tracker.tui.page import Page

_CLASSES = {
    "tonight": "Tonight", "army": "Army", "dates": "Dates", "backlog": "Backlog", "pace": "Pace",
    "first": "FirstRun", "help": "Help", "unit": "UnitSheet",
    "why": "Why", "spares": "Spares", "roles": "Roles", "plans": "Plans", "goals": "Goals",
    "money": "MoneyPage", "whatif": "WhatIf", "ranks": "Ranks", "photos": "Photos",
    "cautions": "Cautions", "curing": "Curing",
    "recipes": "Recipes", "recipe": "OneRecipe",
}  # fmt: skip


def open_screen(page: str, *said: object) -> Page:
    """A new screen of that name."""
    screen: Page = getattr(import_module(f"tracker.tui.screens.{page}"), _CLASSES[page])(*said)
    return screen
