"""One recipe on one page, area by area; its older and newer versions a key away."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from textual.app import ComposeResult

from tracker.domain.answers_recipes import RecipeLook
from tracker.report.screens.line import PageLine
from tracker.report.screens.recipes_page import (
    ASK_AREA,
    ASK_OUT,
    NOT_NEWEST,
    area_text,
    paint_here,
    read_out,
    recipe_page,
)
from tracker.tui.actions import own_bindings
from tracker.tui.recipe_care import RecipeCare
from tracker.tui.widgets.entry import Entry
from tracker.tui.widgets.hints import Hints
from tracker.tui.widgets.lamp_line import LampLine
from tracker.tui.widgets.swatches import SwatchRows
from tracker.workbench.paints import paint_out
from tracker.workbench.recipes import change_recipe
from tracker.workbench.recipes_known import show_recipe


class OneRecipe(RecipeCare):
    """One version of a recipe."""

    PAGE = "recipe"
    TITLE_WORDS = "A recipe"
    TWIN = "lastcoat recipe show NAME"
    BINDINGS = own_bindings("recipe")

    def __init__(self, name: str, number: int | None = None) -> None:
        super().__init__()
        self.recipe = name
        self.number = number
        """None = the newest, also when a newer one is written."""
        self.look: RecipeLook | None = None

    def compose(self) -> ComposeResult:
        """As on any screen, with colours in the lines."""
        yield LampLine()
        yield SwatchRows(id="page")
        yield Entry()
        yield Hints()

    def read(self) -> None:
        """The version, in a worker."""
        self.ask_verb(partial(show_recipe, self.desk, self.recipe, self.number), self.show, "reading")

    def show(self, look: RecipeLook) -> None:
        """The answer arrived."""
        self.look = look
        self.draw()

    def lines(self, width: int) -> Sequence[PageLine]:
        """The page."""
        return recipe_page(self.look, width)

    @property
    def recipe_here(self) -> tuple[str, int] | None:
        """This version."""
        return (self.look.recipe.name, self.look.version.number) if self.look else None

    def action_older(self) -> None:
        """The version before."""
        self._turn(-1)

    def action_newer(self) -> None:
        """The version after."""
        self._turn(1)

    def _turn(self, by: int) -> None:
        if self.look is None:
            return
        numbers = [version.number for version in self.look.versions]
        place = numbers.index(self.look.version.number) + by
        if 0 <= place < len(numbers):
            self.number = None if place == len(numbers) - 1 else numbers[place]
            self.read()

    def action_change_area(self) -> None:
        """The area under the cursor anew; only the newest version can be changed."""
        if self.look is None:
            return
        if not self.look.is_newest:
            self.entry.below(NOT_NEWEST.format(number=self.look.version.number), "quiet")
            return
        self.ask(ASK_AREA, self._changed, area_text(self.look, self.rows.key))

    def _changed(self, text: str) -> None:
        if text:
            self.number = None
            self.store(partial(change_recipe, self.desk, self.recipe, text))

    def action_paint_out(self) -> None:
        """The paint under the cursor ran out."""
        if self.look is not None:
            self.ask(ASK_OUT, self._out, paint_here(self.look, self.rows.key))

    def _out(self, said: str) -> None:
        if said:
            self.store(partial(paint_out, self.desk, *read_out(said)))
