"""Recipes and paints as JSON."""

from __future__ import annotations

from datetime import date
from typing import Any

from tracker.domain.answers import LEVELS, Doubt, Minutes
from tracker.domain.answers_recipes import (
    NeedsAnswer,
    PaintNeed,
    PaintsAnswer,
    RecipeLook,
    RecipesAnswer,
    UnitNeed,
)

Json = dict[str, Any]


def recipes_json(answer: RecipesAnswer) -> Json:
    """Recipes, each in one version; of a unit those it is painted with."""
    return {
        **_head(answer.as_of),
        "unit": answer.unit or None,
        "army": answer.army or None,
        "recipes": [_look_json(look) for look in answer.looks],
    }


def recipe_json(look: RecipeLook, as_of: date) -> Json:
    """One version of a recipe with everything about it."""
    return {**_head(as_of), **_look_json(look)}


def _look_json(look: RecipeLook) -> Json:
    version = look.version
    return {
        "recipe": look.recipe.name,
        "note": look.recipe.note,
        "version": version.number,
        "is_newest": look.is_newest,
        "made_on": version.made_on.isoformat(),
        "changed": version.note,
        "primer": version.primer,
        "like": look.like and look.like._asdict(),
        "versions": [one.number for one in look.versions],
        "steps": [
            {key: value for key, value in step._asdict().items() if key not in ("id", "version_id")}
            for step in look.steps
        ],
        "used_by": [
            {"army": one.army, "unit": one.unit or None, "version": one.number, "on": one.used_on.isoformat()}
            for one in look.used_by
        ],
        "variants": list(look.variants),
        "out": [{"paint": paint, "substitute": substitute or None} for paint, substitute in look.outs],
    }


def paints_json(answer: PaintsAnswer) -> Json:
    """Every paint with its recipes and units."""
    paints = [
        {
            "paint": paint.name,
            "recipes": list(paint.recipes),
            "units": list(paint.units),
            "out_on": paint.out_on and paint.out_on.isoformat(),
            "substitute": paint.substitute or None,
        }
        for paint in answer.paints
    ]
    return {**_head(answer.as_of), "paints": paints}


def needs_json(answer: NeedsAnswer) -> Json:
    """What needs which paint; minutes by level, null where they are not known."""
    return {
        **_head(answer.as_of, answer.doubts),
        "seed": answer.seed,
        "needs": [_need_json(need) for need in answer.needs],
    }


def _need_json(need: PaintNeed) -> Json:
    return {
        "paint": need.paint,
        "out_on": need.out_on and need.out_on.isoformat(),
        "substitute": need.substitute or None,
        "units": [_unit_json(unit) for unit in need.units],
        "minutes": _minutes_json(need.minutes),
        "not_known": list(need.not_known),
    }


def _unit_json(unit: UnitNeed) -> Json:
    return {
        "army": unit.army,
        "unit": unit.unit,
        "recipes": [{"recipe": name, "version": number} for name, number in unit.recipes],
        "areas": list(unit.areas),
        "steps": [{"step": need.step or None, "models": need.models} for need in unit.steps],
        "minutes": _minutes_json(unit.minutes),
    }


def _minutes_json(minutes: Minutes | None) -> Json | None:
    if minutes is None:
        return None
    return {str(level): round(value, 2) for level, value in zip(LEVELS, minutes, strict=True)}


def _head(as_of: date, doubts: tuple[Doubt, ...] = ()) -> Json:
    return {"as_of": as_of.isoformat(), "doubts": [{"code": one.code, "text": one.text} for one in doubts]}
