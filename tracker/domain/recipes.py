"""Recipes: how an area was painted, step by step, in the person's own words, and every version of it."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

TECHNIQUES = (
    "prime", "base", "one-coat", "wash", "glaze", "layer", "drybrush", "edge", "stipple", "freehand",
    "decal", "weathering", "varnish",
)  # fmt: skip
"""The trade's words; a person may use their own."""
AREAS = (
    "skin", "cloth", "leather", "metal", "trim", "hair", "weapon", "shield", "horse", "base", "rim",
)  # fmt: skip
CERTAINTIES = ("sure", "probable", "guess")
SHEENS = ("matt", "satin", "gloss")


class Recipe(NamedTuple):
    """A recipe by its name. What it says stands in its versions, which never change."""

    id: int
    name: str
    name_key: str
    note: str = ""
    added_on: date = date(1970, 1, 1)


class RecipeVersion(NamedTuple):
    """What a recipe said from a day on. A change makes a new one."""

    id: int
    recipe_id: int
    number: int
    """1, 2, 3 … within its recipe."""
    like_id: int | None = None
    """The version of another recipe that it was copied from; none = it is no variant."""
    primer: str = ""
    """The primer beneath, in the person's own words."""
    note: str = ""
    """What was changed, or a reminder for the whole of it."""
    made_on: date = date(1970, 1, 1)


class RecipeStep(NamedTuple):
    """One step on one area."""

    id: int
    version_id: int
    place: int
    """1, 2, 3 … within its version."""
    area: str
    technique: str = ""
    paint: str = ""
    """In the person's own words; nothing is ever looked up."""
    mix: str = ""
    """Parts in the order of the paint's words: "2:1"."""
    medium: str = ""
    tool: str = ""
    sheen: str = ""
    certainty: str = "sure"
    swatch: str = ""
    """A colour as "#rrggbb" that the person matched by eye; empty = none."""
    reminder: str = ""


class RecipeUse(NamedTuple):
    """A unit, or a whole army, that is painted by one version of a recipe."""

    id: int
    version_id: int
    unit_id: int | None = None
    army_id: int | None = None
    """Either of the two: rims and bases belong to the army."""
    used_on: date = date(1970, 1, 1)


class PaintOut(NamedTuple):
    """A paint that ran out, by the words that recipes use for it."""

    id: int
    name: str
    name_key: str
    substitute: str = ""
    """What is used since; empty = nothing yet."""
    out_on: date = date(1970, 1, 1)
