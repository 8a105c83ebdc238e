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
_ROWS_LARGE, _ROWS_MIDDLE = 24, 38
"""Up to so many rows the type is large, or middling; from there on it is small."""


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
    rows = sum(len(steps) for _, steps in areas) + sum(bool(step.reminder) for step in look.steps)
    return template.render(
        title=head_words(look),
        about=[printable(words) for words in about_words(look)],
        after=[printable(words) for words in after_words(look)],
        areas=areas,
        paper_mm=PAPER_MM[paper],
        size="large" if rows <= _ROWS_LARGE else "middle" if rows <= _ROWS_MIDDLE else "small",
    )
