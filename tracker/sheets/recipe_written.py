"""Recipes written in a line, in the short form that `recipe_text` reads."""

from __future__ import annotations

import re
from collections.abc import Iterable

from tracker.domain.recipe_words import TECHNIQUE_WORDS, by_area
from tracker.domain.recipes import SHEENS, RecipeStep
from tracker.sheets.recipe_text import read_recipe_text


def write_recipe_text(steps: Iterable[RecipeStep]) -> str:
    """The steps in the short form, area by area; tool, sheen and reminder have no place in it.

    `read_recipe_text` gives the same steps back, but for those three fields (a varnish keeps its sheen).
    """
    areas = []
    for area, group in by_area(steps):
        areas.append(f"{_area_words(area)}: {', '.join(map(write_step, group))}")
    return "; ".join(areas)


def write_step(step: RecipeStep) -> str:
    """One step in the short form, without its area; quotation marks only where they are needed."""
    wanted = _told(step)
    for paint, medium in ((False, False), (True, False), (False, True), (True, True)):
        text = _step_text(step, paint, medium)
        found = read_recipe_text(f"a: {text}")
        if not found.problems and len(found.steps) == 1 and _told(found.steps[0]) == wanted:
            return text
    return _step_text(step, quote_paint=True, quote_medium=True)


def _told(step: RecipeStep) -> RecipeStep:
    """What the short form can tell of a step."""
    sheen = step.sheen if step.technique == "varnish" and not step.paint else ""
    return step._replace(id=0, version_id=0, place=0, area="", tool="", sheen=sheen, reminder="")


def _step_text(step: RecipeStep, quote_paint: bool, quote_medium: bool) -> str:
    parts = [_quoted(step.paint) if quote_paint and step.paint else step.paint]
    bare_sheen = step.technique == "varnish" and not step.paint and step.sheen in SHEENS
    if bare_sheen:  # behind the mix it would be read as words of the medium
        parts += [step.sheen, step.technique]
    if step.mix or step.medium:
        medium = _quoted(step.medium) if quote_medium and step.medium else step.medium
        parts += [step.mix or "thinned with", medium]
    if not bare_sheen:
        parts.append(_technique_words(step.technique))
    parts.append(step.swatch)
    words = " ".join(part for part in parts if part)
    return words + {"probable": "?", "guess": "??"}.get(step.certainty, "")


def _technique_words(technique: str) -> str:
    if not technique or technique in TECHNIQUE_WORDS.values():
        return technique
    odd = re.search(r'[\[\]"]', technique)
    return f"[{_quoted(technique) if odd else technique}]"


def _quoted(text: str) -> str:
    return '"' + text.replace('"', '""') + '"'


def _area_words(area: str) -> str:
    found = read_recipe_text(f"{area}: x")
    plain = not found.problems and [step.area for step in found.steps] == [area]
    # A quotation mark in it could be closed by one in the steps behind it.
    return area if plain and '"' not in area else _quoted(area)
