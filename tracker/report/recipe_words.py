"""Recipes in words: the list, one recipe on one page, what a unit is painted with."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from tracker.domain.answers_recipes import RecipeLook, RecipesAnswer, UsedBy
from tracker.domain.recipe_words import by_area
from tracker.domain.recipes import RecipeStep
from tracker.domain.text import printable
from tracker.report.plain import COLUMNS, Column, cells, clip, date_words, pad, table, wrapped

NO_RECIPE = 'No recipe is written down. Write one: lastcoat recipe add "Red cloaks" "cloth: dark red, wash"'
BLOCK = "██"
"""Stands before a swatch's code, and takes its colour where there is colour."""
MARKS = {"probable": "?", "guess": "??"}
_NAME_MOST = 40
_AREA_MOST = 12
_TECHNIQUE_MOST = 12
_TOOL_MOST = 18
_PAINT_LEAST = 18


def recipes_text(answer: RecipesAnswer, width: int = COLUMNS) -> str:
    """Every recipe in a line, or what a unit is painted with, step by step."""
    if answer.unit:
        return unit_recipes_text(answer, width)
    if not answer.looks:
        return "\n".join(wrapped(NO_RECIPE, width))
    columns = (
        Column("Recipe", gives=True), Column("Version", right=True), Column("Areas", gives=True),
        Column("Painted with it", gives=True),
    )  # fmt: skip
    return "\n".join(table(columns, [_row(look) for look in answer.looks], width))


def _row(look: RecipeLook) -> tuple[str, str, str, str]:
    areas = ", ".join(area for area, _ in by_area(look.steps)) or "no steps yet"
    return look.recipe.name, str(look.version.number), areas, ", ".join(map(user_words, look.used_by))


def user_words(used: UsedBy) -> str:
    """Whom, and which version where it matters: "Spears (version 2)"."""
    return f"{used.unit or 'army ' + used.army} ({used.number})"


def unit_recipes_text(answer: RecipesAnswer, width: int = COLUMNS) -> str:
    """The versions a unit and its army are painted with, one after the other."""
    name = clip(answer.unit, _NAME_MOST)
    if not answer.looks:
        mend = f'lastcoat recipe use "Red cloaks" --unit "{name}"'
        return "\n".join(wrapped(f"No recipe is noted for {name}. Say one: {mend}", width))
    out: list[str] = []
    for look in answer.looks:
        out += [*([""] if out else []), *recipe_lines(look, width)]
    return "\n".join(out)


def recipe_text(look: RecipeLook, width: int = COLUMNS) -> str:
    """One version of a recipe on one page."""
    return "\n".join(recipe_lines(look, width))


def recipe_lines(look: RecipeLook, width: int = COLUMNS) -> list[str]:
    """The head, the steps area by area, and what else is known."""
    lines = wrapped(head_words(look), width, more="  ")
    for sentence in about_words(look):
        lines += wrapped(sentence, width, more="  ")
    lines += step_lines(look.steps, width) or ["No steps yet."]
    for sentence in after_words(look):
        lines += wrapped(sentence, width, more="  ")
    return lines


def head_words(look: RecipeLook) -> str:
    """As in "Red cloaks, version 2 of 5, 3 Mar 2026"."""
    of = f" of {len(look.versions)}" if len(look.versions) > 1 else ""
    name = clip(look.recipe.name, 60)
    return f"{name}, version {look.version.number}{of}, {date_words(look.version.made_on)}"


def about_words(look: RecipeLook) -> list[str]:
    """What stands above the steps: variant, primer, notes."""
    out = []
    if look.like is not None:
        out.append(f"A variant of {clip(look.like.recipe, _NAME_MOST)}, version {look.like.number}.")
    out += [f"Primer beneath: {look.version.primer}."] if look.version.primer else []
    out += [f"Changed: {look.version.note}."] if look.version.note else []
    out += [f"Note: {look.recipe.note}."] if look.recipe.note else []
    return out


def after_words(look: RecipeLook) -> list[str]:
    """What stands below the steps: doubts of the person's own, paints that are out, who has it."""
    out = []
    if any(step.certainty != "sure" for step in look.steps):
        out.append('"?" = probably so, "??" = a guess.')
    for paint, substitute in look.outs:
        since = f"; {substitute} since" if substitute else ""
        out.append(f"Out: {paint}{since}.")
    if look.used_by:
        out.append(f"Painted with it (version): {', '.join(map(user_words, look.used_by))}.")
    if look.variants:
        out.append(f"Variants: {', '.join(clip(name, _NAME_MOST) for name in look.variants)}.")
    return out


def paint_words(step: RecipeStep) -> str:
    """Paint, mix and medium, with the mark of how sure it is: "mid red 2:1 water?"."""
    parts = [step.paint]
    if step.mix:
        parts += [step.mix, step.medium]
    elif step.medium:
        parts += ["thinned with", step.medium]
    return " ".join(part for part in parts if part) + MARKS.get(step.certainty, "")


def tool_words(step: RecipeStep) -> str:
    """Tool and sheen."""
    return ", ".join(part for part in (step.tool, step.sheen) if part)


def swatch_words(step: RecipeStep) -> str:
    """As in "██ #7a1f1f"; empty without one."""
    return f"{BLOCK} {step.swatch}" if step.swatch else ""


def step_lines(steps: Sequence[RecipeStep], width: int = COLUMNS) -> list[str]:
    """A line for each step, area by area: number, technique, paint, tool, swatch; reminders below."""
    return [line for _, lines in step_blocks(steps, width) for line in lines]


def step_blocks(steps: Sequence[RecipeStep], width: int = COLUMNS) -> list[tuple[RecipeStep, list[str]]]:
    """Each step with its lines; the area stands on its first."""
    rows = [
        (step, area if place == 0 else "")
        for area, group in by_area(steps)
        for place, step in enumerate(group)
    ]
    wide = _widths(steps, width)
    return [(step, _step_lines(step, area, wide, width)) for step, area in rows]


class _Widths(NamedTuple):
    """Columns of a step's line; the paint has what they leave."""

    area: int
    number: int
    technique: int
    tool: int
    """0 = tools stand on a line of their own."""
    paint: int


def _widths(steps: Sequence[RecipeStep], width: int) -> _Widths:
    def widest(words: Iterable[str], most: int) -> int:
        return min(max((cells(printable(word)) for word in words), default=0), most)

    area = widest((step.area for step in steps), _AREA_MOST)
    number = len(str(len(steps)))
    technique = widest((step.technique for step in steps), _TECHNIQUE_MOST)
    tool = widest(map(tool_words, steps), _TOOL_MOST)
    colour = len(f"  {BLOCK} #000000") if any(step.swatch for step in steps) else 0
    room = width - (area + 2 + number + 2 + (technique + 2 if technique else 0)) - colour
    if tool and room - tool - 2 < _PAINT_LEAST:
        tool = 0
    return _Widths(area, number, technique, tool, max(room - (tool + 2 if tool else 0), 10))


def _step_lines(step: RecipeStep, area: str, wide: _Widths, width: int) -> list[str]:
    start = f"{pad(clip(area, wide.area), wide.area)}  {step.place:>{wide.number}}  "
    if wide.technique:
        start += pad(clip(step.technique, wide.technique), wide.technique) + "  "
    indent = " " * cells(start)
    first, *more = wrapped(paint_words(step), wide.paint) or [""]
    line = start + pad(first, wide.paint)
    if wide.tool:
        line += f"  {pad(clip(tool_words(step), wide.tool), wide.tool)}"
    out = [f"{line}  {swatch_words(step)}".rstrip(), *(indent + words for words in more)]
    if not wide.tool and tool_words(step):
        out += wrapped(tool_words(step), width, start=indent, more=indent)
    if step.reminder:
        out += wrapped(f"! {step.reminder}", width, start=indent, more=indent + "  ")
    return out
