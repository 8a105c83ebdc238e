"""What is known of recipes: which one is meant, one version with all around it, every recipe, a unit's."""

from __future__ import annotations

import os
from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from tracker.domain.answers_recipes import LikeVersion, RecipeLook, RecipesAnswer, UsedBy
from tracker.domain.problems import DataError, Problem, did_you_mean
from tracker.domain.recipe_words import grouped, paints_of
from tracker.domain.recipes import PaintOut, Recipe, RecipeStep, RecipeUse, RecipeVersion
from tracker.domain.text import tidy
from tracker.store.book import every
from tracker.store.journal import Store
from tracker.store.units import find_army, name_key
from tracker.workbench.desk import Desk
from tracker.workbench.naming import KnownUnit, shown, the_unit


class Place(NamedTuple):
    """A unit, or with unit id 0 a whole army."""

    army_id: int
    unit_id: int
    army: str
    unit: str = ""

    @property
    def name(self) -> str:
        """As a sentence says it."""
        return self.unit or f"the army {self.army}"


class Shelf(NamedTuple):
    """All recipes with their versions, steps and uses, read at once."""

    recipes: tuple[Recipe, ...]
    versions: Mapping[int, tuple[RecipeVersion, ...]]
    """By the id of their recipe, the first one first."""
    steps: Mapping[int, tuple[RecipeStep, ...]]
    """By the id of their version."""
    uses: tuple[RecipeUse, ...]
    outs: tuple[PaintOut, ...]
    units: Mapping[int, Place]
    armies: Mapping[int, Place]


def show_recipe(desk: Desk, name: str, version: int | None = None) -> RecipeLook:
    """One version of a recipe, the newest if none is said, with who is painted with which."""
    with desk.open() as store, store.snapshot():
        recipe = the_recipe(store, name)
        number = version_of(store, recipe, version).number
        return look_of(read_shelf(store), recipe, number)


def show_unit(desk: Desk, unit: str, army: str | None = None) -> RecipesAnswer:
    """The versions that a unit and its army are painted with."""
    with desk.open() as store, store.snapshot():
        known = the_unit(store, unit, army)
        shelf = read_shelf(store)
        looks = [look_of(shelf, recipe, number) for recipe, number in used_versions(shelf, known.id)]
    return RecipesAnswer(desk.evening_day(), tuple(looks), known.name, known.army)


def list_recipes(desk: Desk) -> RecipesAnswer:
    """Every recipe in its newest version, by name; a log that is not there yet has none."""
    if not os.path.lexists(desk.path):
        return RecipesAnswer(desk.evening_day(), ())
    with desk.open() as store, store.snapshot():
        shelf = read_shelf(store)
    looks = [
        look_of(shelf, recipe, shelf.versions[recipe.id][-1].number)
        for recipe in sorted(shelf.recipes, key=lambda one: one.name_key)
    ]
    return RecipesAnswer(desk.evening_day(), tuple(looks))


def read_shelf(store: Store) -> Shelf:
    """Everything about recipes."""
    versions: dict[int, list[RecipeVersion]] = {}
    for version in sorted(every(store, RecipeVersion), key=lambda one: one.number):
        versions.setdefault(version.recipe_id, []).append(version)
    armies = {
        int(army): Place(int(army), 0, str(name))
        for army, name in store.rows("SELECT id, name FROM army ORDER BY id")
    }
    units = {
        int(unit): Place(int(army), int(unit), armies[int(army)].army, str(name))
        for unit, army, name in store.rows("SELECT id, army_id, name FROM unit ORDER BY id")
    }
    return Shelf(
        every(store, Recipe), {recipe: tuple(found) for recipe, found in versions.items()},
        grouped(every(store, RecipeStep)), every(store, RecipeUse), every(store, PaintOut), units, armies,
    )  # fmt: skip


def look_of(shelf: Shelf, recipe: Recipe, number: int) -> RecipeLook:
    """One version with what is known around it."""
    versions = shelf.versions[recipe.id]
    version = next(one for one in versions if one.number == number)
    steps = shelf.steps.get(version.id, ())
    ids = {one.id for one in versions}
    variants = {
        one.recipe_id for found in shelf.versions.values() for one in found if one.like_id in ids
    } - {recipe.id}  # fmt: skip
    return RecipeLook(
        recipe, version, steps, versions, tuple(_used_by(shelf, versions)), _like(shelf, version),
        tuple(one.name for one in shelf.recipes if one.id in variants), _outs(shelf, version, steps),
    )  # fmt: skip


def used_versions(shelf: Shelf, unit_id: int) -> list[tuple[Recipe, int]]:
    """(recipe, version) that a unit is painted with, its own before those of its army, each by name."""
    army_id = shelf.units[unit_id].army_id
    mine = {use.version_id for use in shelf.uses if use.unit_id == unit_id}
    ours = {use.version_id for use in shelf.uses if use.army_id == army_id} - mine
    out = []
    for wanted in (mine, ours):
        for recipe in sorted(shelf.recipes, key=lambda one: one.name_key):
            out += [(recipe, one.number) for one in shelf.versions[recipe.id] if one.id in wanted]
    return out


def place_of(shelf: Shelf, use: RecipeUse) -> Place:
    """Whom a use is of."""
    return shelf.units[use.unit_id] if use.unit_id is not None else shelf.armies[use.army_id or 0]


def the_recipe(store: Store, name: str) -> Recipe:
    """The recipe of that name; a `DataError` offers the nearest names."""
    found = every(store, Recipe, name_key=name_key(name))
    if found:
        return found[0]
    mend = did_you_mean(name, [one.name for one in every(store, Recipe)], "See lastcoat recipe list")
    raise DataError(Problem("the recipe", f"there is no recipe {shown(name)}", mend))


def versions_of(store: Store, recipe_id: int) -> tuple[RecipeVersion, ...]:
    """The versions of a recipe, the first one first."""
    return tuple(sorted(every(store, RecipeVersion, recipe_id=recipe_id), key=lambda one: one.number))


def newest_of(store: Store, recipe_id: int) -> RecipeVersion:
    """The version that was written last."""
    return versions_of(store, recipe_id)[-1]


def version_of(store: Store, recipe: Recipe, number: int | None) -> RecipeVersion:
    """A version by its number, the newest if none is said; a `DataError` says which there are."""
    versions = versions_of(store, recipe.id)
    for version in versions if number is not None else versions[-1:]:
        if number is None or version.number == number:
            return version
    there = ", ".join(str(one.number) for one in versions)
    what = f"{shown(recipe.name)} has no version {number}"
    raise DataError(Problem("--version", what, f"It has {there}"))


def steps_of(store: Store, version_id: int) -> tuple[RecipeStep, ...]:
    """The steps of a version in order."""
    return tuple(sorted(every(store, RecipeStep, version_id=version_id), key=lambda one: one.place))


def the_place(store: Store, unit: str | None, army: str | None) -> Place:
    """The unit, or without one the army, that is meant."""
    if unit is not None:
        known = _said_unit(store, unit, army)
        return Place(0, known.id, known.army, known.name)
    if army is None:
        raise DataError(Problem("--unit", "nothing is said", "Say --unit, or --army for the whole army"))
    number = find_army(store, army)
    if number is None:
        names = [str(name) for (name,) in store.rows("SELECT name FROM army ORDER BY id")]
        mend = did_you_mean(army, names, "See lastcoat army")
        raise DataError(Problem("--army", f"there is no army {shown(army)}", mend))
    name = str(store.rows("SELECT name FROM army WHERE id = ?", (number,))[0][0])
    return Place(number, 0, name)


def _said_unit(store: Store, said: str, army: str | None) -> KnownUnit:
    """A unit by its name, or as "Host: Spears"."""
    its_army, colon, unit = said.partition(":")
    try:
        return the_unit(store, said, army)
    except DataError:
        if not colon or army is not None:
            raise
    return the_unit(store, tidy(unit), tidy(its_army))


def _used_by(shelf: Shelf, versions: Sequence[RecipeVersion]) -> Iterable[UsedBy]:
    numbers = {version.id: version.number for version in versions}
    for use in shelf.uses:
        if use.version_id in numbers:
            place = place_of(shelf, use)
            yield UsedBy(place.army, place.unit, numbers[use.version_id], use.used_on)


def _like(shelf: Shelf, version: RecipeVersion) -> LikeVersion | None:
    if version.like_id is None:
        return None
    names = {recipe.id: recipe.name for recipe in shelf.recipes}
    return next(
        LikeVersion(names[one.recipe_id], one.number)
        for found in shelf.versions.values()
        for one in found
        if one.id == version.like_id
    )


def _outs(shelf: Shelf, version: RecipeVersion, steps: Sequence[RecipeStep]) -> tuple[tuple[str, str], ...]:
    named = {name_key(paint) for words in (version.primer, *(step.paint for step in steps))
             for paint in (words, *paints_of(words))}  # fmt: skip
    return tuple((out.name, out.substitute) for out in shelf.outs if out.name_key in named)
