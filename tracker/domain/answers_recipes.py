"""Answers about recipes and paints: what a unit was painted with, and which work waits for a paint."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

from tracker.domain.answers import Doubt, Minutes
from tracker.domain.recipes import Recipe, RecipeStep, RecipeVersion


class UsedBy(NamedTuple):
    """A unit, or with no unit a whole army, and the version it is painted with."""

    army: str
    unit: str
    number: int
    used_on: date


class LikeVersion(NamedTuple):
    """A version of a recipe by its name."""

    recipe: str
    number: int


class RecipeLook(NamedTuple):
    """One version of a recipe, with what is known around it."""

    recipe: Recipe
    version: RecipeVersion
    steps: tuple[RecipeStep, ...]
    """In order of their places."""
    versions: tuple[RecipeVersion, ...]
    """All of them, the first one first."""
    used_by: tuple[UsedBy, ...] = ()
    """Of any version."""
    like: LikeVersion | None = None
    variants: tuple[str, ...] = ()
    """Names of recipes that were copied from any version of it."""
    outs: tuple[tuple[str, str], ...] = ()
    """Paints of this version that are out, by their words: (paint, what is used since)."""

    @property
    def is_newest(self) -> bool:
        """Whether nothing newer was written."""
        return self.version.number == self.versions[-1].number


class RecipesAnswer(NamedTuple):
    """Recipes by name, each in one version: the newest, or the one that a unit is painted with."""

    as_of: date
    looks: tuple[RecipeLook, ...]
    unit: str = ""
    """The unit that was asked for; empty = every recipe."""
    army: str = ""


class PaintKnown(NamedTuple):
    """A paint by the words that recipes use for it."""

    name: str
    recipes: tuple[str, ...]
    units: tuple[str, ...]
    out_on: date | None = None
    """The day it ran out; none = it is there."""
    substitute: str = ""


class PaintsAnswer(NamedTuple):
    """Every paint that a recipe names as it is now or as a unit is painted, and those that are out."""

    as_of: date
    paints: tuple[PaintKnown, ...]


class StepNeed(NamedTuple):
    """A step of a unit's route that waits for a paint."""

    step: str
    """Empty: the recipe says nothing that tells which step it is."""
    models: int


class UnitNeed(NamedTuple):
    """A unit that still needs a paint."""

    army: str
    unit: str
    recipes: tuple[tuple[str, int], ...]
    """(recipe, version)."""
    areas: tuple[str, ...]
    steps: tuple[StepNeed, ...]
    minutes: Minutes | None = None
    """19 quantiles at LEVELS of the minutes of these steps; none = not known."""


class PaintNeed(NamedTuple):
    """The work that depends on one paint."""

    paint: str
    out_on: date | None
    substitute: str
    units: tuple[UnitNeed, ...]
    minutes: Minutes | None = None
    """19 quantiles at LEVELS of all units together, from joint draws; none = not known of any unit."""
    not_known: tuple[str, ...] = ()
    """Units whose work is not in the minutes."""


class NeedsAnswer(NamedTuple):
    """What still needs which paint."""

    as_of: date
    needs: tuple[PaintNeed, ...]
    seed: int = 0
    doubts: tuple[Doubt, ...] = ()
