"""One recipe as a file: a page to print."""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

from tracker.workbench.desk import Desk
from tracker.workbench.files_out import where_to_write, write_whole
from tracker.workbench.recipes_known import show_recipe


class RecipeWritten(NamedTuple):
    """Where the file lies."""

    file: Path
    recipe: str
    number: int

    def words(self) -> str:
        """As in "Wrote cloaks.html: Red cloaks, version 2."."""
        return f"Wrote {self.file}: {self.recipe}, version {self.number}."


def write_recipe_page(
    desk: Desk, name: str, path: str, *, version: int | None = None, letter: bool = False
) -> RecipeWritten:
    """Writes one version of a recipe, the newest if none is said; whole or not at all."""
    from tracker.report.recipe_sheet import recipe_sheet

    target = where_to_write(desk, path, "a page", (b"<!doctype html", b"<html"), "cloaks.html")
    look = show_recipe(desk, name, version)
    write_whole(target, recipe_sheet(look, "letter" if letter else "a4").encode())
    return RecipeWritten(target, look.recipe.name, look.version.number)
