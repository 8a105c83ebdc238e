"""The cautions: what comes up the first time, what belongs to a step, a material or a unit; lead in metal."""

from __future__ import annotations

import os
from collections.abc import Iterator
from typing import NamedTuple

from tracker.domain.caution_rules import (
    MATERIAL_CAUTIONS,
    CautionRow,
    every_row,
    hazards_of_material,
    hazards_of_paint,
    hazards_of_step,
    hazards_of_words,
    rows_of,
)
from tracker.domain.cautions import CAUTIONS, LEAD
from tracker.domain.cures import LeadFree
from tracker.domain.problems import DataError, Problem, did_you_mean
from tracker.domain.recipes import RecipeStep, RecipeUse
from tracker.domain.steps import CATALOGUE, find_step
from tracker.domain.text import same_name, tidy
from tracker.store.book import drop, every, keep
from tracker.store.journal import Store
from tracker.store.read import one_unit
from tracker.store.units import all_unit_names, own_steps
from tracker.workbench.desk import Desk
from tracker.workbench.naming import KnownUnit, catalogue_name, good_text, shown, the_unit
from tracker.workbench.units_plan import Changed


class CautionsAnswer(NamedTuple):
    """Cautions, and what they are about."""

    about: str
    """What was asked for, by its full name; empty = all of them."""
    rows: tuple[CautionRow, ...]
    lead_free: bool = False
    """Whether it is a unit whose metal is known to hold no lead."""


def cautions(desk: Desk, about: str = "", *, unit: str = "", army: str | None = None) -> CautionsAnswer:
    """Every caution, or those of a step, a material, a unit or a person's own words for a thing.

    With `unit` those of that unit; what is said in `about` is then a step of it and comes first. A
    `DataError` for what nobody knows.
    """
    good_text("caution", about)
    if not os.path.lexists(desk.path):
        return _of_words(about, (), {}) if about else CautionsAnswer("", every_row())
    with desk.open() as store, store.snapshot():
        if unit:
            return _of_unit(store, the_unit(store, unit, army), about)
        if not about:
            return CautionsAnswer("", every_row())
        known = all_unit_names(store)
        if not (_step_named(about, own_steps(store)) or tidy(about).casefold() in MATERIAL_CAUTIONS):
            for _, its_army, name in known:
                if same_name(name, about):
                    return _of_unit(store, the_unit(store, about, army or _only(known, name, its_army)))
        return _of_words(about, [name for _, _, name in known], own_steps(store))


def say_lead(desk: Desk, unit: str, *, free: bool, army: str | None = None) -> Changed:
    """The metal of a unit is known to hold no lead, or is taken as if it did again."""
    with desk.open() as store, store.change("caution") as change:
        known = the_unit(store, unit, army)
        said = every(store, LeadFree, unit_id=known.id)
        if LEAD not in hazards_of_material(one_unit(store, known.id).material) and not said:
            what = f"{shown(known.name)} is of no metal, as far as the log knows"
            raise DataError(
                Problem("caution", what, f"lastcoat unit set {shown(known.name)} --material metal")
            )
        for one in said:
            drop(store, one)
        if free:
            keep(store, LeadFree(0, known.id, said[0].said_on if said else desk.evening_day()))
        words = "holds no lead" if free else "counts as lead until it is known"
        done = Changed(f"the metal of {known.name} {words}")
        change.words = done.words()
        change.kept = free != bool(said)
    return done if free != bool(said) else done._replace(more="It was said before.")


def first_of_step(store: Store, step: str) -> str:
    """The caution for a step that is in the log for the first time; empty where its hazards came up before.

    To be asked before the line is stored.
    """
    logged = {str(name) for (name,) in store.rows("SELECT DISTINCT step FROM line")}
    met = {hazard for name in logged for hazard in hazards_of_step(name)}
    return care_line([hazard for hazard in hazards_of_step(step) if hazard not in met], step)


def first_of_material(store: Store, material: str, but_unit: int = 0) -> str:
    """The caution for a material that no other unit is of; empty where its hazards came up before."""
    hazards = hazards_of_material(material)
    if not hazards:
        return ""
    others = store.rows("SELECT DISTINCT material FROM unit WHERE id <> ?", (but_unit,))
    met = {hazard for (other,) in others for hazard in hazards_of_material(str(other))}
    return care_line([hazard for hazard in hazards if hazard not in met], material)


def care_line(hazards: list[str], about: str) -> str:
    """One line for what is new: the main hazard, and where the others are told."""
    if not hazards:
        return ""
    more = f" More to mind: lastcoat caution {shown(about)}." if len(hazards) > 1 else ""
    return f"Care: {CAUTIONS[hazards[0]].line}{more}"


def _only(known: list[tuple[int, str, str]], name: str, army: str) -> str | None:
    """The army, if a unit of that name stands in no other; None = it must be said."""
    return army if sum(same_name(other, name) for _, _, other in known) == 1 else None


def _step_named(said: str, own: dict[str, str]) -> str | None:
    """The step of the catalogue that was said, by its name or a word for it, or one of the person's own."""
    known = find_step(said) or find_step(catalogue_name(said))
    return known.name if known else own.get(tidy(said).casefold())


def _of_words(about: str, units: list[str] | tuple[str, ...], own: dict[str, str]) -> CautionsAnswer:
    """Cautions of a step, a material, a hazard, or of words like "white spirit"."""
    step, key = _step_named(about, own), tidy(about).casefold()
    if key in MATERIAL_CAUTIONS:
        return CautionsAnswer(key, rows_of((hazard, key) for hazard in hazards_of_material(key)))
    if step is not None:
        return CautionsAnswer(step, rows_of((hazard, step) for hazard in hazards_of_step(step)))
    hazards = (key,) if key in CAUTIONS else hazards_of_material(about) or hazards_of_words(about)
    if hazards:
        said = tidy(about)
        return CautionsAnswer(said, rows_of((hazard, said) for hazard in hazards))
    names = [*CATALOGUE, *own.values(), *MATERIAL_CAUTIONS, *CAUTIONS, *units]
    what = f"{shown(about)} is no step, material, hazard or unit that is known"
    raise DataError(Problem("caution", what, did_you_mean(about, names, "See all of them: lastcoat caution")))


def _of_unit(store: Store, known: KnownUnit, first: str = "") -> CautionsAnswer:
    """Cautions of a unit: of its material, its steps and its recipes; those of the step `first` first."""
    unit = one_unit(store, known.id)
    free = bool(every(store, LeadFree, unit_id=known.id))
    steps = sorted(unit.route, key=lambda step: not same_name(step, first))
    found: list[tuple[str, str]] = []
    of_steps = [(hazard, step) for step in steps for hazard in hazards_of_step(step)]
    found += [pair for pair in of_steps if same_name(pair[1], first)]
    found += [(hazard, unit.material) for hazard in hazards_of_material(unit.material, lead_free=free)]
    found += [pair for pair in of_steps if not same_name(pair[1], first)]
    found += _of_recipes(store, known.id)
    return CautionsAnswer(known.name, rows_of(found), free)


def _of_recipes(store: Store, unit_id: int) -> Iterator[tuple[str, str]]:
    """What the recipes of a unit bring, by the person's own words on them."""
    for use in every(store, RecipeUse, unit_id=unit_id):
        for step in every(store, RecipeStep, version_id=use.version_id):
            for words in (step.technique, step.medium, step.tool):
                for hazard in hazards_of_words(words):
                    yield hazard, words
            for hazard in hazards_of_paint(step.paint):
                yield hazard, step.paint
