"""One recipe as a page to print: area by area, with swatches, small enough for one sheet at the desk."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

from tracker.domain.answers_recipes import RecipeLook
from tracker.domain.recipe_words import by_area
from tracker.domain.text import printable
from tracker.report.recipe_words import about_words, after_words, head_words, paint_words, tool_words

Paper = Literal["a4", "letter"]
PAPER_MM: dict[str, tuple[float, float]] = {"a4": (210, 297), "letter": (215.9, 279.4)}
"""A4: ISO 216. Letter: ANSI/ASME Y14.1."""
_TEMPLATE = Path(__file__).with_name("recipe_sheet.html")
EDGE_MM = 12
_TYPE_MOST_POINTS, _TYPE_LEAST_POINTS = 11.0, 6.0
"""Type gets smaller so that all stands on one sheet, but never too small to read."""
_LINE_EMS = 1.62
"""Height of a row of the table, its padding in it."""
_LETTERS = (14, 30, 16)
"""Letters of technique, paint and tool that surely stand on one line at the largest type."""
_LETTERS_WIDE = 80


def recipe_sheet(look: RecipeLook, paper: Paper = "a4") -> str:
    """The recipe as one HTML page without a script or a request; every name in it is escaped."""
    from jinja2 import Environment, StrictUndefined

    environment = Environment(autoescape=True, undefined=StrictUndefined, trim_blocks=True)
    template = environment.from_string(_TEMPLATE.read_text(encoding="utf-8"))
    areas = [
        (
            printable(area),
            [
                (
                    step.place, printable(step.technique), printable(paint_words(step)),
                    printable(tool_words(step)), step.swatch, printable(step.reminder),
                )
                for step in steps
            ],
        )
        for area, steps in by_area(look.steps)
    ]  # fmt: skip
    return template.render(
        title=head_words(look),
        about=[printable(words) for words in about_words(look)],
        after=[printable(words) for words in after_words(look)],
        areas=areas,
        paper_mm=PAPER_MM[paper],
        edge_mm=EDGE_MM,
        type_points=_type_points(look, PAPER_MM[paper][1]),
    )


def _type_points(look: RecipeLook, height_mm: float) -> float:
    """The size of type at which the recipe stands on one sheet."""
    lines = 4.0 + sum(_lines(words, _LETTERS_WIDE) for words in (*about_words(look), *after_words(look)))
    for step in look.steps:
        told = zip((step.technique, paint_words(step), tool_words(step)), _LETTERS, strict=True)
        lines += max(_lines(words, most) for words, most in told)
        lines += _lines(step.reminder, _LETTERS_WIDE) if step.reminder else 0
    room_points = (height_mm - 2 * EDGE_MM) / 25.4 * 72
    fits = room_points / (lines * _LINE_EMS)
    return round(min(max(fits, _TYPE_LEAST_POINTS), _TYPE_MOST_POINTS), 1)


def _lines(words: str, most: int) -> int:
    return 1 + len(words) // most
