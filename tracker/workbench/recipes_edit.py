"""Edits of a recipe's steps: areas that are said anew, areas that go, what a step keeps."""

from __future__ import annotations

from collections.abc import Sequence

from tracker.domain.problems import DataError, Problem
from tracker.domain.recipes import RecipeStep
from tracker.domain.text import same_name
from tracker.sheets.recipe_text import read_recipe_text
from tracker.store.units import name_key
from tracker.workbench.naming import good_text, shown

Steps = Sequence[RecipeStep]


def read_steps(text: str) -> tuple[RecipeStep, ...]:
    """The steps of a text in the short form; a `DataError` with every mistake in it."""
    read = read_recipe_text(good_text("the text", text))
    if read.problems:
        raise DataError(read.problems)
    return read.steps


def with_areas(steps: Steps, said: Steps) -> list[RecipeStep]:
    """The steps with those of the areas that were said in their place; new areas follow."""
    by_area: dict[str, list[RecipeStep]] = {}
    for step in said:
        by_area.setdefault(name_key(step.area), []).append(step)
    out: list[RecipeStep] = []
    for step in steps:
        key = name_key(step.area)
        if key not in by_area:
            out.append(step)
        elif not any(name_key(one.area) == key for one in out):
            out += _inherited([one for one in steps if name_key(one.area) == key], by_area[key])
    there = {name_key(step.area) for step in steps}
    return out + [step for step in said if name_key(step.area) not in there]


def without_areas(steps: Steps, areas: Sequence[str]) -> list[RecipeStep]:
    """The steps without those of some areas; a `DataError` where one is not there."""
    there = {name_key(step.area): step.area for step in steps}
    for area in areas:
        if name_key(area) not in there:
            mend = f"Its areas: {', '.join(there.values())}" if there else "It has no steps yet"
            raise DataError(Problem("the area", f"{shown(area)} is not in it", mend))
    gone = set(map(name_key, areas))
    return [step for step in steps if name_key(step.area) not in gone]


def _inherited(old: Steps, new: Steps) -> list[RecipeStep]:
    """New steps with what the short form cannot say taken from the old step they are, if there is one."""
    free = list(old)
    out = []
    for step in new:
        same = next((one for one in free if _same_paint(one, step)), None)
        if same is not None:
            free.remove(same)
            step = step._replace(  # noqa: PLW2901 - the same step, whole
                area=same.area, tool=same.tool, sheen=step.sheen or same.sheen,
                swatch=step.swatch or same.swatch, reminder=same.reminder,
            )  # fmt: skip
        out.append(step)
    return out


def _same_paint(one: RecipeStep, other: RecipeStep) -> bool:
    return one.technique == other.technique and same_name(one.paint, other.paint)


def renumbered(steps: Steps) -> list[RecipeStep]:
    """The steps with places from 1 on."""
    return [step._replace(place=place) for place, step in enumerate(steps, start=1)]
