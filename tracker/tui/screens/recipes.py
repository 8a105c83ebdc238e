"""The recipes: what was painted with what, or those that one unit is painted with."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from tracker.domain.answers_recipes import RecipesAnswer
from tracker.report.screens.line import PageLine
from tracker.report.screens.recipes_page import (
    ASK_FILTER,
    ASK_NAME,
    ASK_STEPS,
    read_key,
    recipes_lines,
)
from tracker.tui.actions import own_bindings
from tracker.tui.messages import Chosen, Left, Typed
from tracker.tui.recipe_care import RecipeCare
from tracker.workbench.recipes import add_recipe
from tracker.workbench.recipes_known import list_recipes, show_unit


class Recipes(RecipeCare):
    """Every recipe, a line each."""

    PAGE = "recipes"
    TITLE_WORDS = "Recipes"
    TWIN = "lastcoat recipe list"
    BINDINGS = own_bindings("recipes")

    def __init__(self, unit: str = "", army: str = "") -> None:
        super().__init__()
        self.unit, self.army = unit, army
        self.answer: RecipesAnswer | None = None
        self.wanted = ""
        self.is_filtering = False

    def read(self) -> None:
        """Every recipe, or those of the unit, in a worker."""
        verb = (
            partial(show_unit, self.desk, self.unit, self.army)
            if self.unit
            else partial(list_recipes, self.desk)
        )
        self.ask_verb(verb, self.show, "reading")

    def show(self, answer: RecipesAnswer) -> None:
        """The answer arrived."""
        self.answer = answer
        self.draw()

    def lines(self, width: int) -> Sequence[PageLine]:
        """The page."""
        return recipes_lines(self.answer, width, self.wanted)

    @property
    def recipe_here(self) -> tuple[str, int] | None:
        """The one under the cursor."""
        return read_key(self.rows.key) if self.rows.key else None

    def on_chosen(self, message: Chosen) -> None:
        """Enter opens it."""
        message.stop()
        self.action_open_recipe()

    def action_open_recipe(self) -> None:
        """The recipe under the cursor; of a unit in the version that it is painted with."""
        here = self.recipe_here
        if here:
            self.lastcoat.open("recipe", here[0], here[1] if self.unit else None)

    def action_recipes(self) -> None:
        """Every recipe, where those of a unit stood."""
        if self.unit:
            self.unit = self.army = ""
            self.read()

    def action_new_recipe(self) -> None:
        """Its name, then its steps."""
        self.ask(ASK_NAME, self._called)

    def _called(self, name: str) -> None:
        if name:
            self.ask(ASK_STEPS, partial(self._new, name))

    def _new(self, name: str, text: str) -> None:
        self.store(partial(add_recipe, self.desk, name, text))

    def action_filter(self) -> None:
        """Only recipes with these letters, as they are typed."""
        self.is_filtering = True
        self.ask(ASK_FILTER, self._filter, self.wanted)

    def _filter(self, text: str) -> None:
        self.is_filtering = False
        self.wanted = text
        self.draw()

    def on_typed(self, message: Typed) -> None:
        """While filtering every key counts; else as on any screen."""
        if self.is_filtering and self.question is not None:
            message.stop()
            self.wanted = message.text
            self.draw()
        else:
            super().on_typed(message)

    def on_left(self, message: Left) -> None:
        """Escape ends the filtering; what is shown stays."""
        self.is_filtering = False
        super().on_left(message)
