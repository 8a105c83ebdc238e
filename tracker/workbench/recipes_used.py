"""Which unit or army is painted with which version of a recipe; and a recipe from a unit's own notes."""

from __future__ import annotations

from collections.abc import Sequence

from tracker.domain.problems import DataError, Problem
from tracker.domain.recipe_words import TECHNIQUE_WORDS, same_steps
from tracker.domain.recipes import AREAS, Recipe, RecipeStep, RecipeUse, RecipeVersion
from tracker.sheets.recipe_text import read_recipe_text
from tracker.sheets.recipe_written import write_recipe_text
from tracker.store.book import change as put
from tracker.store.book import drop as take_out
from tracker.store.book import every, keep
from tracker.store.journal import Store
from tracker.store.units import name_key
from tracker.workbench.desk import Desk
from tracker.workbench.naming import good_name, shown, the_unit
from tracker.workbench.recipes import new_recipe, write_version
from tracker.workbench.recipes_edit import renumbered, with_areas
from tracker.workbench.recipes_known import (
    Place,
    newest_of,
    steps_of,
    the_place,
    the_recipe,
    version_of,
    versions_of,
)
from tracker.workbench.units_plan import Changed
from tracker.workbench.words import count_words

_TECHNIQUES = frozenset(TECHNIQUE_WORDS.values())


def use_recipe(
    desk: Desk, name: str, *, unit: str | None = None, army: str | None = None, version: int | None = None
) -> Changed:
    """A unit, or without one a whole army, is painted with a version, the newest if none is said.

    One that was painted with another version of the recipe moves to this one, and that is said.
    """
    with desk.open() as store, store.change("recipe") as change:
        place = the_place(store, unit, army)
        recipe = the_recipe(store, name)
        wanted = version_of(store, recipe, version)
        done = use_version(store, recipe, wanted, place, desk)
        change.words = done.words()
    return done


def stop_using(desk: Desk, name: str, *, unit: str | None = None, army: str | None = None) -> Changed:
    """A unit or army is no longer painted with any version of the recipe."""
    with desk.open() as store, store.change("recipe") as change:
        place = the_place(store, unit, army)
        recipe = the_recipe(store, name)
        uses = _uses(store, recipe, place)
        if not uses:
            what = f"{place.name} is not painted with {shown(recipe.name)}"
            raise DataError(Problem("the recipe", what, f"See lastcoat recipe show {shown(recipe.name)}"))
        for use in uses:
            take_out(store, use)
        done = Changed(f"{place.name} no longer goes by {shown(recipe.name)}")
        change.words = done.words()
    return done


def recipe_from_log(desk: Desk, unit: str, *, army: str | None = None, name: str = "") -> Changed:
    """A recipe, or its new version, from the notes of the unit's lines that are in the short form.

    Notes count in the order of their evenings; a step that stands in several of them counts once. The
    recipe is called as the unit unless it is named, and the unit goes by it from now on.
    """
    with desk.open() as store, store.change("recipe") as change:
        known = the_unit(store, unit, army)
        notes, steps = _from_notes(store, known.id)
        if not steps:
            what = f"no note of {shown(known.name)} tells how it was painted"
            mend = 'Note it with a line, like "cloth: dark red, wash"'
            raise DataError(Problem("the notes", what, mend))
        called = good_name("--name", name or known.name)
        place = Place(0, known.id, known.army, known.name)
        done = _put_from_log(store, desk, called, steps, place)
        took = f"From {count_words(notes, 'note')}: {write_recipe_text(steps)}."
        done = done._replace(more=f"{took} {done.more}".strip())
        change.words = done.words()
    return done


def use_version(store: Store, recipe: Recipe, version: RecipeVersion, place: Place, desk: Desk) -> Changed:
    """Put a use in place of those of other versions; a `DataError` where nothing would change."""
    uses = _uses(store, recipe, place)
    numbers = {one.id: one.number for one in versions_of(store, recipe.id)}
    if [use.version_id for use in uses] == [version.id]:
        what = f"{place.name} goes by {shown(recipe.name)} version {version.number} already"
        raise DataError(Problem("the recipe", what, "Say another version, as in --version 1"))
    for extra in uses[1:]:
        take_out(store, extra)
    now = RecipeUse(
        0, version.id, place.unit_id or None, None if place.unit_id else place.army_id, desk.evening_day()
    )
    if not uses:
        keep(store, now)
        return Changed(f"{place.name} is painted with {shown(recipe.name)} version {version.number}")
    put(store, now._replace(id=uses[0].id))
    before = " and ".join(str(number) for number in sorted({numbers[use.version_id] for use in uses}))
    said = (
        f"{place.name} was painted with {shown(recipe.name)} version {before}; now version {version.number}"
    )
    return Changed(said, "Undo takes it back.")


def _uses(store: Store, recipe: Recipe, place: Place) -> list[RecipeUse]:
    whose = {"unit_id": place.unit_id} if place.unit_id else {"army_id": place.army_id}
    versions = {one.id for one in versions_of(store, recipe.id)}
    return [use for use in every(store, RecipeUse, **whose) if use.version_id in versions]


def _put_from_log(store: Store, desk: Desk, name: str, steps: Sequence[RecipeStep], place: Place) -> Changed:
    found = every(store, Recipe, name_key=name_key(name))
    if not found:
        number = new_recipe(store, name, "", desk)
        write_version(store, RecipeVersion(0, number, 1), steps, desk)
    else:
        last = newest_of(store, found[0].id)
        before = steps_of(store, last.id)
        after = renumbered(with_areas(before, steps))
        if same_steps(before, after):
            _refuse_if_known(store, found[0], last, place)
        else:
            write_version(store, last._replace(number=last.number + 1, note=""), after, desk)
    recipe = the_recipe(store, name)
    return use_version(store, recipe, newest_of(store, recipe.id), place, desk)


def _refuse_if_known(store: Store, recipe: Recipe, last: RecipeVersion, place: Place) -> None:
    if [use.version_id for use in _uses(store, recipe, place)] == [last.id]:
        what = f"they say nothing that {shown(recipe.name)} does not"
        raise DataError(Problem("the notes", what, f"See lastcoat recipe show {shown(recipe.name)}"))


def _from_notes(store: Store, unit_id: int) -> tuple[int, list[RecipeStep]]:
    """(how many notes tell of it, their steps in order)."""
    notes = store.rows(
        "SELECT line.note FROM line JOIN session ON session.id = line.session_id"
        " WHERE line.unit_id = ? AND line.note <> '' ORDER BY session.date, line.id",
        (unit_id,),
    )
    areas = {name_key(area) for (area,) in store.rows("SELECT DISTINCT area FROM recipe_step")}
    areas |= set(AREAS)
    counted, out = 0, list[RecipeStep]()
    for (note,) in notes:
        told = [step for part in _parts(str(note)) for step in _told(part, areas)]
        counted += bool(told)
        out += [step for step in told if not any(_says_same(step, one) for one in out)]
    return counted, renumbered(out)


def _parts(note: str) -> list[str]:
    """A note by its lines and semicolons, so that prose between them costs only itself."""
    whole = read_recipe_text(note)
    return [note] if not whole.problems else note.replace("\n", ";").split(";")


def _told(part: str, areas: set[str]) -> list[RecipeStep]:
    """The steps of a part that is about painting: a known area, a technique or a mix tells that."""
    read = read_recipe_text(part)
    if read.problems:
        return []
    surely = {
        name_key(step.area) for step in read.steps
        if name_key(step.area) in areas or step.technique in _TECHNIQUES or step.mix
    }  # fmt: skip
    return [step for step in read.steps if name_key(step.area) in surely]


def _says_same(one: RecipeStep, other: RecipeStep) -> bool:
    return (
        name_key(one.area) == name_key(other.area)
        and one._replace(place=0, area="") == other._replace(place=0, area="")
    )  # fmt: skip
