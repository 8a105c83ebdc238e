"""The verbs of recipes: write one, change it, copy it, rename it, drop it.

A version and its steps are only ever added: a change makes a new version, so that a unit goes on saying
what it was painted with.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from tracker.domain.problems import DataError, Problem
from tracker.domain.recipe_words import same_steps
from tracker.domain.recipes import Recipe, RecipeStep, RecipeUse, RecipeVersion
from tracker.domain.text import same_name, tidy
from tracker.sheets.recipe_text import STEPS_MOST
from tracker.store.book import change as put
from tracker.store.book import drop as take_out
from tracker.store.book import every, keep
from tracker.store.journal import Store
from tracker.store.units import name_key
from tracker.workbench.desk import Desk
from tracker.workbench.naming import good_name, good_text, shown
from tracker.workbench.recipes_edit import Steps, read_steps, renumbered, with_areas, without_areas
from tracker.workbench.recipes_known import newest_of, steps_of, the_recipe, version_of, versions_of
from tracker.workbench.units_plan import Changed
from tracker.workbench.words import count_words


def add_recipe(desk: Desk, name: str, text: str = "", *, primer: str = "", note: str = "") -> Changed:
    """Write a recipe down; its steps in the short form of `sheets.recipe_text`, none = they come later."""
    called = good_name("the name", name)
    steps = read_steps(text) if tidy(text) else ()
    with desk.open(create=True) as store, store.change("recipe") as change:
        free_name(store, called)
        recipe = new_recipe(store, called, good_text("--note", tidy(note)), desk)
        write_version(
            store, RecipeVersion(0, recipe, 1, None, good_text("--primer", tidy(primer))), steps, desk
        )
        done = Changed(f"the recipe {shown(called)}, {count_words(len(steps), 'step')}")
        change.words = done.words()
    return done


def change_recipe(
    desk: Desk, name: str, text: str = "", *, primer: str | None = None, note: str = "",
    without: Sequence[str] = (),
) -> Changed:  # fmt: skip
    """A new version: the steps of the areas that the text names are now those; all else stays.

    `without` are areas that go; `note` says what was changed. Tool, sheen, reminder and colour of a step
    that stays are kept.
    """
    said = read_steps(text) if tidy(text) else ()

    def edit(steps: Steps) -> Steps:
        return with_areas(without_areas(steps, without), said)

    return new_version(desk, name, edit, primer=primer, note=note)


def copy_recipe(
    desk: Desk, name: str, new: str, text: str = "", *, version: int | None = None, primer: str | None = None,
    note: str = "",
) -> Changed:  # fmt: skip
    """A variant: a new recipe whose first version is the copied one, with what the text says otherwise."""
    called = good_name("the name", new)
    said = read_steps(text) if tidy(text) else ()
    with desk.open() as store, store.change("recipe") as change:
        recipe = the_recipe(store, name)
        like = version_of(store, recipe, version)
        free_name(store, called)
        beneath = like.primer if primer is None else good_text("--primer", tidy(primer))
        copy = new_recipe(store, called, good_text("--note", tidy(note)), desk)
        steps = with_areas(steps_of(store, like.id), said)
        write_version(store, RecipeVersion(0, copy, 1, like.id, beneath), steps, desk)
        done = Changed(f"the recipe {shown(called)}, a variant of {shown(recipe.name)} version {like.number}")
        change.words = done.words()
    return done


def rename_recipe(desk: Desk, name: str, new: str, *, note: str | None = None) -> Changed:
    """Another name for a recipe, and another note on it; its versions stay as they are."""
    called = good_name("the name", new)
    with desk.open() as store, store.change("recipe") as change:
        recipe = the_recipe(store, name)
        if not same_name(called, recipe.name):
            free_name(store, called)
        elif called == recipe.name and note in (None, recipe.note):
            raise DataError(Problem("the name", f"it is called {shown(called)} already", "Say another name"))
        about = recipe.note if note is None else good_text("--note", tidy(note))
        put(store, recipe._replace(name=called, name_key=name_key(called), note=about))
        done = Changed(f"the recipe {shown(recipe.name)} is now {shown(called)}")
        change.words = done.words()
    return done


def drop_recipe(desk: Desk, name: str) -> Changed:
    """Take a recipe out, every version; refused while anything is painted with it or was copied from it."""
    with desk.open() as store, store.change("recipe") as change:
        recipe = the_recipe(store, name)
        versions = versions_of(store, recipe.id)
        _refuse_if_used(store, recipe, versions)
        for version in versions:
            for step in every(store, RecipeStep, version_id=version.id):
                take_out(store, step)
        for version in versions:
            take_out(store, version)
        take_out(store, recipe)
        done = Changed(f"no longer the recipe {shown(recipe.name)}")
        change.words = done.words()
    return done


def new_version(
    desk: Desk, name: str, edit: Callable[[Steps], Steps], *, primer: str | None = None, note: str = ""
) -> Changed:
    """A version after the newest one with edited steps; a `DataError` where it would say the same."""
    with desk.open() as store, store.change("recipe") as change:
        recipe = the_recipe(store, name)
        last = newest_of(store, recipe.id)
        before = steps_of(store, last.id)
        after = edit(before)
        beneath = last.primer if primer is None else good_text("--primer", tidy(primer))
        if same_steps(before, renumbered(after)) and beneath == last.primer:
            what = f"{shown(recipe.name)} says that already"
            raise DataError(Problem("the recipe", what, f"See lastcoat recipe show {shown(recipe.name)}"))
        number = last.number + 1
        version = last._replace(number=number, primer=beneath, note=good_text("--note", tidy(note)))
        write_version(store, version, after, desk)
        done = Changed(f"the recipe {shown(recipe.name)}, version {number}", _still_older(store, recipe))
        change.words = done.words()
    return done


def _still_older(store: Store, recipe: Recipe) -> str:
    """A word on what goes by an older version."""
    uses = any(every(store, RecipeUse, version_id=one.id) for one in versions_of(store, recipe.id))
    return "What is painted with an older version stays with it." if uses else ""


def free_name(store: Store, name: str) -> None:
    """A `DataError` where a recipe has the name already."""
    if every(store, Recipe, name_key=name_key(name)):
        what = f"there is a recipe {shown(name)} already"
        raise DataError(
            Problem("the name", what, "Use another name, or change that one: lastcoat recipe change")
        )


def new_recipe(store: Store, name: str, note: str, desk: Desk) -> int:
    """Keep a recipe that has no version yet; its id."""
    return keep(store, Recipe(0, name, name_key(name), note, desk.evening_day()))


def write_version(store: Store, version: RecipeVersion, steps: Steps, desk: Desk) -> int:
    """Keep a version of today with its steps numbered anew; its id."""
    if len(steps) > STEPS_MOST:
        raise DataError(Problem("the recipe", f"it has {len(steps)} steps", f"Keep at most {STEPS_MOST}"))
    number = keep(store, version._replace(made_on=desk.evening_day()))
    for step in renumbered(steps):
        keep(store, step._replace(version_id=number))
    return number


def _refuse_if_used(store: Store, recipe: Recipe, versions: Sequence[RecipeVersion]) -> None:
    uses = [use for version in versions for use in every(store, RecipeUse, version_id=version.id)]
    copies = [copy for version in versions for copy in every(store, RecipeVersion, like_id=version.id)]
    if uses:
        many = count_words(len(uses), "unit or army is", "units and armies are")
        what = f"{many} painted with {shown(recipe.name)}"
        raise DataError(Problem("the recipe", what, f"See lastcoat recipe show {shown(recipe.name)}"))
    names = {copy.recipe_id for copy in copies} - {recipe.id}
    if names:
        variants = [one.name for one in every(store, Recipe) if one.id in names]
        what = f"{', '.join(map(shown, variants))} came from {shown(recipe.name)}"
        raise DataError(Problem("the recipe", what, "Drop the variants first, or keep it"))
