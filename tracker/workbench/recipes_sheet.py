"""The recipe sheet in and out: versions come with their numbers, and units with the version they had."""

from __future__ import annotations

import os
from collections.abc import Iterable, Sequence
from datetime import date

from tracker.domain.problems import DataError, Problem
from tracker.domain.recipe_words import same_steps
from tracker.domain.recipes import Recipe, RecipeStep, RecipeUse, RecipeVersion
from tracker.domain.rows_recipes import RecipeRow, UseRow
from tracker.domain.text import tidy
from tracker.store.book import change as put
from tracker.store.book import drop as take_out
from tracker.store.book import every, keep
from tracker.store.journal import Store
from tracker.store.units import name_key
from tracker.workbench.desk import Desk
from tracker.workbench.naming import good_name, shown
from tracker.workbench.recipes_edit import renumbered
from tracker.workbench.recipes_known import Shelf, place_of, read_shelf, steps_of, the_place, versions_of
from tracker.workbench.results import Imported


def export_recipes(desk: Desk) -> tuple[RecipeRow, ...]:
    """A row for every step of every version, recipes in the order they were added."""
    if not os.path.lexists(desk.path):
        return ()
    with desk.open() as store, store.snapshot():
        shelf = read_shelf(store)
    return tuple(
        row for recipe in shelf.recipes for version in shelf.versions[recipe.id]
        for row in _rows(shelf, recipe, version)
    )  # fmt: skip


def import_recipes(
    desk: Desk, rows: Sequence[RecipeRow], *, dry_run: bool = False, keep_good: bool = False
) -> Imported:
    """Keep the versions that are new, and let the units and armies named go by the version they stand at.

    A version that is known must say the same; of one recipe a unit goes by what the sheet says.
    """
    with desk.open(create=True) as store, store.change("import recipes") as change:
        intake = _Intake(store, desk.evening_day())
        versions: dict[tuple[str, int], list[RecipeRow]] = {}
        for row in rows:
            versions.setdefault((name_key(row.recipe), row.version), []).append(row)
        for group in versions.values():
            intake.take(group)
        intake.settle_uses()
        if intake.problems and not keep_good:
            raise DataError(intake.problems)
        change.kept = not dry_run
        done = Imported(
            "recipe version", intake.added, intake.changed, intake.unchanged, tuple(intake.notes),
            tuple(intake.problems), dry_run,
        )  # fmt: skip
        change.words = done.words()
    return done


def _rows(shelf: Shelf, recipe: Recipe, version: RecipeVersion) -> Iterable[RecipeRow]:
    names = {one.id: one.name for one in shelf.recipes}
    like = next(
        (one for found in shelf.versions.values() for one in found if one.id == version.like_id), None
    )
    uses = [use for use in shelf.uses if use.version_id == version.id]
    units = tuple(UseRow(*_named(shelf, use), use.used_on) for use in uses if use.unit_id is not None)
    armies = tuple(UseRow(*_named(shelf, use), use.used_on) for use in uses if use.unit_id is None)
    head = RecipeRow(
        recipe.name, version.number, version.primer, recipe.note, version.note, recipe.added_on,
        version.made_on, None, names[like.recipe_id] if like else "", like.number if like else None, units,
        armies,
    )  # fmt: skip
    steps = shelf.steps.get(version.id, ())
    yield from [head._replace(step=step._replace(id=0, version_id=0)) for step in steps] or [head]


def _named(shelf: Shelf, use: RecipeUse) -> tuple[str, str]:
    place = place_of(shelf, use)
    return place.army, place.unit


class _Intake:
    """The versions taken so far."""

    def __init__(self, store: Store, today: date) -> None:
        self._store = store
        self._today = today
        self._wanted: dict[tuple[int, int, int], dict[int, date | None]] = {}
        """(recipe, unit or 0, army) -> version id -> the day."""
        self.added = self.changed = self.unchanged = 0
        self.notes: list[str] = []
        self.problems: list[Problem] = []

    def take(self, rows: list[RecipeRow]) -> None:
        """One version with its steps and uses; what cannot be is a problem of its first row."""
        try:
            self._take(rows)
        except DataError as refusal:
            where = f"row {rows[0].row}"
            self.problems += [Problem(where, problem.what, problem.mend) for problem in refusal.problems]

    def _take(self, rows: list[RecipeRow]) -> None:
        head = rows[0]
        steps = _in_place([row.step for row in rows if row.step is not None])
        recipe = self._recipe(head)
        there = {one.number: one for one in (versions_of(self._store, recipe.id) if recipe.id else ())}
        places = [(use, the_place(self._store, use.unit or None, use.army or None))
                  for row in rows for use in (*row.units, *row.armies)]  # fmt: skip
        if head.version in there:
            version_id = self._known(recipe, there[head.version], head, steps)
        else:
            version_id = self._new(recipe, head, steps, max(there, default=0))
        for use, place in places:
            key = (
                recipe.id or self._found(head.recipe).id,
                place.unit_id,
                0 if place.unit_id else place.army_id,
            )
            self._wanted.setdefault(key, {})[version_id] = use.used_on

    def _recipe(self, head: RecipeRow) -> Recipe:
        found = every(self._store, Recipe, name_key=name_key(head.recipe))
        if found:
            return found[0]
        name = good_name("recipe", head.recipe)
        return Recipe(0, name, name_key(name), head.note, head.added or head.made or self._today)

    def _found(self, name: str) -> Recipe:
        return every(self._store, Recipe, name_key=name_key(name))[0]

    def _known(
        self, recipe: Recipe, version: RecipeVersion, head: RecipeRow, steps: Sequence[RecipeStep]
    ) -> int:
        if not same_steps(steps_of(self._store, version.id), steps) or head.primer not in (
            "",
            version.primer,
        ):
            last = versions_of(self._store, recipe.id)[-1].number
            what = f"{shown(recipe.name)} version {version.number} says something else in the log"
            raise DataError(Problem("", what, f"A version never changes: call this one {last + 1}"))
        if head.note and head.note != recipe.note:
            put(self._store, recipe._replace(note=head.note))
            self.changed += 1
            self.notes.append(f"{shown(recipe.name)}: another note")
        else:
            self.unchanged += 1
        return version.id

    def _new(self, recipe: Recipe, head: RecipeRow, steps: Sequence[RecipeStep], last: int) -> int:
        if head.version < last:
            what = f"{shown(recipe.name)} has newer versions than {head.version}"
            raise DataError(Problem("", what, f"Call this one {last + 1}"))
        like_id = self._like(head)
        number = recipe.id or keep(self._store, recipe)
        made = head.made or self._today
        version = RecipeVersion(0, number, head.version, like_id, head.primer, head.changed, made)
        version_id = keep(self._store, version)
        for step in steps:
            keep(self._store, step._replace(version_id=version_id))
        self.added += 1
        return version_id

    def _like(self, head: RecipeRow) -> int | None:
        if not head.like:
            return None
        for recipe in every(self._store, Recipe, name_key=name_key(head.like)):
            for version in versions_of(self._store, recipe.id):
                if version.number == (head.like_version or version.number):
                    return version.id
        what = f"there is no version {head.like_version or 1} of {shown(head.like)} to be like"
        raise DataError(Problem("", what, "Put its rows above this one"))

    def settle_uses(self) -> None:
        """Whoever the sheet names goes by the versions it says, and by no other of that recipe."""
        for (recipe, unit_id, army_id), wanted in self._wanted.items():
            ids = {one.id for one in versions_of(self._store, recipe)}
            whose = {"unit_id": unit_id} if unit_id else {"army_id": army_id}
            now = {
                use.version_id: use for use in every(self._store, RecipeUse, **whose) if use.version_id in ids
            }
            moved = self._settle(now, wanted, unit_id, army_id)
            if moved and now:
                self.changed += 1
                self.notes.append(f"{self._name(unit_id, army_id)} goes by another version")

    def _settle(
        self, now: dict[int, RecipeUse], wanted: dict[int, date | None], unit_id: int, army_id: int
    ) -> bool:
        for version_id in set(now) - set(wanted):
            take_out(self._store, now[version_id])
        for version_id, day in wanted.items():
            if version_id not in now:
                use = RecipeUse(0, version_id, unit_id or None, army_id or None, day or self._today)
                keep(self._store, use)
                self.notes += [] if now else [f"{self._name(unit_id, army_id)} goes by a recipe"]
            elif day not in (None, now[version_id].used_on):
                put(self._store, now[version_id]._replace(used_on=day))
        return set(now) != set(wanted)

    def _name(self, unit_id: int, army_id: int) -> str:
        table, number = ("unit", unit_id) if unit_id else ("army", army_id)
        return shown(tidy(str(self._store.rows(f"SELECT name FROM {table} WHERE id = ?", (number,))[0][0])))  # noqa: S608


def _in_place(steps: list[RecipeStep]) -> list[RecipeStep]:
    """Steps by their places where all have one of their own, else as the rows stand."""
    places = [step.place for step in steps]
    if all(places) and len(set(places)) == len(places):
        steps = sorted(steps, key=lambda step: step.place)
    return renumbered(steps)
