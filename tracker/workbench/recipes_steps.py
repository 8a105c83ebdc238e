"""Single steps of a recipe with all their fields: in, otherwise, out; a new version each."""

from __future__ import annotations

from typing import NamedTuple

from tracker.domain.problems import DataError, Problem, UsageError
from tracker.domain.recipe_words import known_technique
from tracker.domain.recipes import CERTAINTIES, SHEENS, RecipeStep
from tracker.domain.text import NAME_LETTERS_MOST, tidy
from tracker.sheets.recipe_tokens import MIX, SWATCH
from tracker.store.units import name_key
from tracker.workbench.desk import Desk
from tracker.workbench.naming import good_text, shown
from tracker.workbench.recipes import new_version
from tracker.workbench.recipes_edit import Steps
from tracker.workbench.units_plan import Changed


class StepWish(NamedTuple):
    """A step as it was said; None = not said."""

    area: str | None = None
    technique: str | None = None
    paint: str | None = None
    mix: str | None = None
    medium: str | None = None
    tool: str | None = None
    sheen: str | None = None
    certainty: str | None = None
    swatch: str | None = None
    reminder: str | None = None


def set_step(
    desk: Desk, name: str, wish: StepWish, *, at: int | None = None, of: int | None = None,
    out: int | None = None, note: str = "",
) -> Changed:  # fmt: skip
    """One step in, otherwise or out; the recipe has a new version then.

    A new step stands at place `at`, else behind the last of its area. `of` is the place of a step of which
    what is said changes; `out` the place of one that goes.
    """
    ways = [way for way in (at, of, out) if way is not None]
    if len(ways) > 1:
        raise UsageError(
            Problem("recipe step", "it asks for several things", "Say one of --at, --change, --drop")
        )
    if out is None and wish == StepWish():
        raise UsageError(Problem("recipe step", "nothing is said", "Say its area and paint, or --drop N"))
    if out is not None and wish != StepWish():
        raise UsageError(Problem("recipe step", "a step that goes needs no more words", "Say --drop alone"))

    def edit(steps: Steps) -> Steps:
        if out is not None:
            at_place = _place(steps, out, "--drop")
            return [*steps[:at_place], *steps[at_place + 1 :]]
        if of is not None:
            at_place = _place(steps, of, "--change")
            return [*steps[:at_place], good_step(_said(steps[at_place], wish)), *steps[at_place + 1 :]]
        return _put_in(steps, good_step(_said(RecipeStep(0, 0, 0, ""), wish)), at)

    return new_version(desk, name, edit, note=note)


def good_step(step: RecipeStep) -> RecipeStep:
    """The step with its words tidied; a `DataError` for what cannot be."""
    words = (
        "area",
        "technique",
        "paint",
        "mix",
        "medium",
        "tool",
        "sheen",
        "certainty",
        "swatch",
        "reminder",
    )
    for field in words:
        value = tidy(good_text(f"--{field}", getattr(step, field)))
        if len(value) > NAME_LETTERS_MOST:
            what = f"it has {len(value)} letters"
            raise DataError(Problem(f"--{field}", what, f"Shorten it to {NAME_LETTERS_MOST}"))
        step = RecipeStep(**(step._asdict() | {field: value}))
    step = step._replace(
        technique=known_technique(step.technique), swatch=step.swatch.casefold(),
        certainty=step.certainty.casefold() or "sure",
    )  # fmt: skip
    if step.sheen.casefold() in SHEENS:
        step = step._replace(sheen=step.sheen.casefold())
    _check(step)
    return step


def _check(step: RecipeStep) -> None:
    if not step.area:
        raise DataError(Problem("--area", "it is not said", "Say which area, as in --area cloth"))
    if not step.paint and not step.technique:
        raise DataError(Problem("--paint", "a step needs a paint or a technique", "Say one of them"))
    if step.mix and (not MIX.fullmatch(step.mix) or not any(map(float, step.mix.split(":")))):
        raise DataError(Problem("--mix", f"{shown(step.mix)} is no mix", 'Write the parts like "2:1"'))
    if step.swatch and not SWATCH.fullmatch(step.swatch):
        raise DataError(Problem("--swatch", f"{shown(step.swatch)} is no colour", 'Write it like "#7a1f1f"'))
    if step.certainty not in CERTAINTIES:
        what = f"{shown(step.certainty)} is none"
        raise DataError(Problem("--certainty", what, f"One of: {', '.join(CERTAINTIES)}"))


def _said(step: RecipeStep, wish: StepWish) -> RecipeStep:
    said = {field: value for field, value in wish._asdict().items() if value is not None}
    return RecipeStep(**(step._asdict() | said))


def _place(steps: Steps, number: int, where: str) -> int:
    if 1 <= number <= len(steps):
        return number - 1
    mend = f"It has steps 1 to {len(steps)}" if steps else "It has no steps yet"
    raise DataError(Problem(where, f"there is no step {number}", mend))


def _put_in(steps: Steps, step: RecipeStep, at: int | None) -> Steps:
    if at is not None and not 1 <= at <= len(steps) + 1:
        raise DataError(Problem("--at", f"{at} is no place", f"Say 1 to {len(steps) + 1}"))
    same = [i for i, one in enumerate(steps) if name_key(one.area) == name_key(step.area)]
    place = at - 1 if at is not None else (same[-1] + 1 if same else len(steps))
    return [*steps[:place], step, *steps[place:]]
