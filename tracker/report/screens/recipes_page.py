"""Recipes as pages: the list, one recipe with its steps to choose; and how things are said in a line."""

from __future__ import annotations

from typing import NamedTuple

from tracker.domain.answers_recipes import RecipeLook, RecipesAnswer
from tracker.domain.recipe_words import by_area, paints_of
from tracker.domain.recipes import RecipeStep
from tracker.domain.text import same_name, tidy
from tracker.report.plain import cells, clip, pad, wrapped
from tracker.report.recipe_words import about_words, after_words, head_words, step_blocks, user_words
from tracker.report.screens.chrome import NOT_YET_READ
from tracker.report.screens.line import BLANK, PageLine, head, sentences
from tracker.sheets.recipe_written import write_recipe_text

ASK_NAME = "What is the recipe called?"
ASK_STEPS = 'How is it painted? "cloth: dark red, wash, mid red 2:1 water, orange edge?; trim: gold"'
ASK_AREA = "What is it now? An area that is named is said anew; a new version is written"
ASK_COPY = "What is the variant called?"
ASK_OTHERWISE = "What is otherwise in it? Nothing = a plain copy"
ASK_USER = 'Which unit is painted with version {number}? "Spears", "Host: Spears", or "army Host"'
ASK_OUT = 'Which paint ran out? "dark red = mid red" says what you use in its place'
ASK_FILTER = "Letters in the recipe, its areas or paints? Esc leaves it as it is"
NOT_NEWEST = "Version {number} stays as it is. w shows newer ones; the newest can be changed."
_NONE = "No recipe is written down. n writes one: its name, then its steps in a line."
_NONE_OF_UNIT = "No recipe is noted for {unit}. C shows every recipe; g on one says that the unit goes by it."


class SaidUser(NamedTuple):
    """Who is painted with it, as it was typed."""

    unit: str | None = None
    army: str | None = None


def recipes_lines(answer: RecipesAnswer | None, width: int, wanted: str = "") -> list[PageLine]:
    """A row for every recipe whose name, areas or paints have these letters."""
    if answer is None:
        return [PageLine(NOT_YET_READ, "quiet")]
    if not answer.looks:
        none = _NONE_OF_UNIT.format(unit=clip(answer.unit, 40)) if answer.unit else _NONE
        return sentences(none, width, "quiet")
    looks = [look for look in answer.looks if _has(look, wanted)]
    out = [head(clip(f"{answer.unit}: painted with", width)), BLANK] if answer.unit else []
    if wanted:
        out += [
            PageLine(clip(f'With "{wanted}": {len(looks)} of {len(answer.looks)}', width), "quiet"),
            BLANK,
        ]
    names = min(max((cells(look.recipe.name) for look in looks), default=0), max(width // 3, 12))
    return [*out, *(PageLine(_row(look, names, width), "row", key_of(look)) for look in looks)]


def _row(look: RecipeLook, names: int, width: int) -> str:
    areas = ", ".join(area for area, _ in by_area(look.steps)) or "no steps yet"
    users = "; " + ", ".join(map(user_words, look.used_by)) if look.used_by else ""
    name = pad(clip(look.recipe.name, names), names)
    return clip(f"{name}  {look.version.number:>2}  {areas}{users}", width)


def key_of(look: RecipeLook) -> str:
    """What a row of the list stands for; `read_key` takes it apart."""
    return f"{look.version.number}:{look.recipe.name}"


def read_key(key: str) -> tuple[str, int]:
    """(recipe, version) of a row."""
    number, _, name = key.partition(":")
    return name, int(number)


def recipe_page(look: RecipeLook | None, width: int) -> list[PageLine]:
    """One recipe: a row for each step."""
    if look is None:
        return [PageLine(NOT_YET_READ, "quiet")]
    out = [head(line) for line in wrapped(head_words(look), width, more="  ")]
    for words in about_words(look):
        out += [PageLine(line, "quiet") for line in wrapped(words, width, more="  ")]
    out.append(BLANK)
    for step, (first, *more) in step_blocks(look.steps, width):
        out.append(PageLine(first, "row", str(step.place)))
        out += [PageLine(line, "care") for line in more]
    if not look.steps:
        out += sentences("No steps yet. c writes them.", width, "quiet")
    out.append(BLANK)
    for words in after_words(look):
        out += [PageLine(line, "quiet") for line in wrapped(words, width, more="  ")]
    return out


def step_here(look: RecipeLook | None, key: str) -> RecipeStep | None:
    """The step that a row stands for."""
    return next((step for step in look.steps if str(step.place) == key), None) if look else None


def area_text(look: RecipeLook, key: str) -> str:
    """The area of the step under the cursor in the short form, to be changed."""
    here = step_here(look, key)
    if here is None:
        return ""
    return write_recipe_text([step for step in look.steps if same_name(step.area, here.area)])


def paint_here(look: RecipeLook | None, key: str) -> str:
    """The first paint of the step under the cursor."""
    here = step_here(look, key)
    return next(iter(paints_of(here.paint)), "") if here else ""


def read_out(said: str) -> tuple[str, str]:
    """(paint, what is used in its place): "dark red = mid red"."""
    name, _, instead = said.partition(" = ")
    return tidy(name), tidy(instead)


def read_user(said: str) -> SaidUser:
    """A unit, or an army behind the word "army"."""
    first, _, rest = tidy(said).partition(" ")
    return SaidUser(army=tidy(rest)) if first.casefold() == "army" and tidy(rest) else SaidUser(tidy(said))


def _has(look: RecipeLook, wanted: str) -> bool:
    letters = tidy(wanted).casefold()
    words = [look.recipe.name, *(word for step in look.steps for word in (step.area, step.paint))]
    return any(letters in word.casefold() for word in words)
