"""What the words of a recipe mean: techniques as people say them, the paints a step names, where it belongs.

The pairs of techniques and steps are common practice of the trade, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from itertools import groupby

from tracker.domain.recipes import TECHNIQUES, RecipeStep
from tracker.domain.text import tidy

_SAID: dict[str, str] = {
    "prime": "primed priming primer undercoat undercoated",
    "base": "based basecoat basecoated base-coat base_coat base_coated base_colour",
    "one-coat": "one_coat one-coated",
    "wash": "washed washing shade shaded shading",
    "glaze": "glazed glazing",
    "layer": "layered layering layers",
    "drybrush": "drybrushed drybrushing dry-brush dry_brush dry_brushed",
    "edge": "edged edging edges edge_highlight edge_highlighted highlight highlighted highlights",
    "stipple": "stippled stippling",
    "freehand": "freehanded",
    "decal": "decals transfer transfers",
    "weathering": "weathered",
    "varnish": "varnished varnishing",
}
TECHNIQUE_WORDS: dict[str, str] = {
    word.replace("_", " "): technique
    for technique in TECHNIQUES
    for word in (technique, *_SAID.get(technique, "").split())
}
"""Words (one or two of them) -> the technique they mean."""
BEGINNING_WORDS = frozenset({
    "primed", "basecoated", "washed", "glazed", "layered", "drybrush", "drybrushed", "edged", "highlighted",
    "stippled", "weathered", "varnished",
})  # fmt: skip
"""Words that mean their technique before a paint too; no paint is likely to be called so."""

PRIMING = ("priming",)
_BASE = ("base colours", "one-coat colours")
_SHADE = ("shade", "layering", "one-coat colours", "base colours")
_LAYER = ("layering", "highlights", "details", "base colours", "one-coat colours")
_EDGE = ("highlights", "layering", "details")
STEPS_OF: dict[str, tuple[str, ...]] = {
    "prime": PRIMING,
    "base": _BASE,
    "one-coat": ("one-coat colours", "base colours"),
    "wash": _SHADE,
    "glaze": _SHADE,
    "layer": _LAYER,
    "drybrush": _EDGE,
    "edge": _EDGE,
    "stipple": _LAYER,
    "freehand": ("freehand", "details"),
    "decal": ("decals",),
    "weathering": ("weathering",),
    "varnish": ("varnish", "gloss coat"),
}
"""A technique -> the catalogue steps it may belong to: the first of them that a route has."""
BASE_PAINTING = ("base painting", "base texture")
_ON_BASES = ("base", "bases", "rim", "rims", "base rim")
_PLUS = re.compile(r"\s+\+\s+")


def known_technique(said: str) -> str:
    """The trade's technique that a word means, or the word itself as it was said."""
    word = tidy(said)
    return TECHNIQUE_WORDS.get(word.casefold(), word)


def steps_meant(step: RecipeStep, *, is_first: bool) -> tuple[str, ...]:
    """Catalogue steps that a step of a recipe may belong to, the likeliest first; none = nobody knows.

    `is_first`: it is the first of its area. A paint without a technique is a base colour there, and a
    layer later.
    """
    if tidy(step.area).casefold() in _ON_BASES and step.technique not in ("prime", "varnish"):
        return BASE_PAINTING
    if not step.technique:
        return _BASE if is_first else _LAYER
    return STEPS_OF.get(step.technique, ())


def paints_of(words: str) -> tuple[str, ...]:
    """The paints that a step names: "dark red + black" are two."""
    return tuple(part for part in map(tidy, _PLUS.split(words)) if part)


def by_area(steps: Iterable[RecipeStep]) -> list[tuple[str, tuple[RecipeStep, ...]]]:
    """Steps by area: areas as they first come, within one in order; capitals make no other area."""
    found: dict[str, list[RecipeStep]] = {}
    for step in sorted(steps, key=lambda one: one.place):
        found.setdefault(tidy(step.area).casefold(), []).append(step)
    return [(group[0].area, tuple(group)) for group in found.values()]


def firsts(steps: Sequence[RecipeStep]) -> frozenset[int]:
    """Places of the steps that are the first of their area, primers and varnishes aside."""
    out = []
    for _, group in by_area(steps):
        colours = [one.place for one in group if one.technique not in ("prime", "varnish")]
        out += colours[:1]
    return frozenset(out)


def same_steps(one: Iterable[RecipeStep], other: Iterable[RecipeStep]) -> bool:
    """Whether two versions say the same, step by step."""
    return _bare(one) == _bare(other)


def _bare(steps: Iterable[RecipeStep]) -> list[RecipeStep]:
    return [step._replace(id=0, version_id=0) for step in sorted(steps, key=lambda one: one.place)]


def grouped(steps: Iterable[RecipeStep]) -> dict[int, tuple[RecipeStep, ...]]:
    """Steps by the id of their version, each in order."""
    ordered = sorted(steps, key=lambda one: (one.version_id, one.place))
    return {version: tuple(group) for version, group in groupby(ordered, key=lambda one: one.version_id)}
