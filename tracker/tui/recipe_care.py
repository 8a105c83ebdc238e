"""What can be done with a recipe on any screen where one is at hand: copy it, say who goes by it."""

from __future__ import annotations

from functools import partial

from tracker.report.screens.recipes_page import ASK_COPY, ASK_OTHERWISE, ASK_USER, read_user
from tracker.tui.unit_care import UnitCare
from tracker.workbench.recipes import copy_recipe
from tracker.workbench.recipes_used import use_recipe


class RecipeCare(UnitCare):
    """A screen with a recipe at hand."""

    @property
    def recipe_here(self) -> tuple[str, int] | None:
        """(recipe, version) at hand."""
        return None

    def action_copy_recipe(self) -> None:
        """A variant: its name, then what is otherwise."""
        here = self.recipe_here
        if here:
            self.ask(ASK_COPY, partial(self._copy_called, here))

    def _copy_called(self, here: tuple[str, int], name: str) -> None:
        if name:
            self.ask(ASK_OTHERWISE, partial(self._copy, here, name))

    def _copy(self, here: tuple[str, int], name: str, text: str) -> None:
        self.store(partial(copy_recipe, self.desk, here[0], name, text, version=here[1]))

    def action_use_recipe(self) -> None:
        """A unit, or a whole army, goes by the version at hand."""
        here = self.recipe_here
        if here:
            self.ask(ASK_USER.format(number=here[1]), partial(self._use, here))

    def _use(self, here: tuple[str, int], said: str) -> None:
        if said:
            user = read_user(said)
            name, version = here
            verb = partial(use_recipe, self.desk, name, unit=user.unit, army=user.army, version=version)
            self.store(verb)
