"""The verbs of paints: one ran out, one is back; which paints there are, and what still needs one.

A paint is nothing but the words that recipes use for it; nothing is looked up, and nothing says to get any.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Sequence
from datetime import date
from typing import Any, NamedTuple

from tracker.domain.answers_recipes import NeedsAnswer, PaintKnown, PaintNeed, PaintsAnswer
from tracker.domain.problems import DataError, Problem, did_you_mean
from tracker.domain.recipe_words import paints_of
from tracker.domain.recipes import PaintOut, Recipe, RecipeVersion
from tracker.domain.records import Records
from tracker.domain.text import tidy
from tracker.store.book import change as put
from tracker.store.book import drop as take_out
from tracker.store.book import every, keep
from tracker.store.units import name_key
from tracker.workbench.answers import DRAWS, SEED, learn_pace
from tracker.workbench.desk import Desk
from tracker.workbench.naming import good_name, shown
from tracker.workbench.recipes_known import Shelf, read_shelf, used_versions
from tracker.workbench.units_plan import Changed


class Live(NamedTuple):
    """A version that counts: the newest of its recipe, or one that something is painted with."""

    recipe: Recipe
    version: RecipeVersion
    units: frozenset[int]
    """Units that go by it, those of its armies too."""


def paint_out(desk: Desk, name: str, use: str = "") -> Changed:
    """A paint ran out; `use` = what is used since. Said again, it changes that."""
    called, instead = good_name("the paint", name), tidy(use) and good_name("--use", use)
    with desk.open(create=True) as store, store.change("paint") as change:
        there = every(store, PaintOut, name_key=name_key(called))
        known = _named(read_shelf(store))
        called = known.get(name_key(called), called)
        out = PaintOut(0, called, name_key(called), instead, desk.evening_day())
        if there and there[0].substitute == instead:
            raise DataError(Problem("the paint", f"{shown(called)} is out already", "Nothing to store"))
        if there:
            put(store, out._replace(id=there[0].id, out_on=there[0].out_on))
        else:
            keep(store, out)
        since = f", {shown(instead)} in its place" if instead else ""
        done = Changed(f"{shown(called)} is out{since}", _not_named(called, known))
        change.words = done.words()
    return done


def paint_back(desk: Desk, name: str) -> Changed:
    """A paint that was out is there again."""
    with desk.open() as store, store.change("paint") as change:
        outs = every(store, PaintOut)
        found = next((out for out in outs if out.name_key == name_key(name)), None)
        if found is None:
            mend = did_you_mean(name, [out.name for out in outs], "See lastcoat paint list")
            raise DataError(Problem("the paint", f"{shown(name)} is not out", mend))
        take_out(store, found)
        done = Changed(f"{shown(found.name)} is back")
        change.words = done.words()
    return done


def list_paints(desk: Desk) -> PaintsAnswer:
    """Every paint of recipes as they are now or as units are painted, and every one that is out."""
    shelf = _shelf(desk)
    if shelf is None:
        return PaintsAnswer(desk.evening_day(), ())
    names, outs = _named(shelf), {out.name_key: out for out in shelf.outs}
    paints = []
    naming: dict[str, list[Live]] = {key: [] for key in outs}
    for live in live_versions(shelf):
        for key in paint_keys(shelf, live):
            naming.setdefault(key, []).append(live)
    for key, mine in sorted(naming.items()):
        units = sorted({unit for live in mine for unit in live.units})
        out = outs.get(key)
        paints.append(
            PaintKnown(
                out.name if out else names[key],
                tuple(dict.fromkeys(live.recipe.name for live in mine)),
                tuple(shelf.units[unit].unit for unit in units),
                out.out_on if out else None,
                out.substitute if out else "",
            )
        )
    return PaintsAnswer(desk.evening_day(), tuple(paints))


def paint_needs(
    desk: Desk, name: str = "", as_of: date | None = None, *, seed: int = SEED, draws: int = DRAWS
) -> NeedsAnswer:
    """Which units still need a paint, or without a name every paint that is out, and how much work that is.

    The work is that of the steps of the unit's route that the paint stands in, whole; minutes come from
    joint draws of the pace, so that those of several units are no sum of their ranges.
    """
    from tracker.workbench.paints_work import Luck, needs_of

    day = as_of or desk.evening_day()
    shelf = _shelf(desk)
    if shelf is None or not (name or shelf.outs):
        return NeedsAnswer(day, ())
    outs = {out.name_key: out for out in shelf.outs}
    wanted = _wanted(shelf, name) if name else list(outs)
    known = desk.records().as_of(day)
    needs, names = [], _named(shelf)
    for key in wanted:
        found = needs_of(shelf, known, key, lambda: learn_pace(desk, known), Luck(seed, draws))
        out = outs.get(key)
        called = out.name if out else names[key]
        substitute = out.substitute if out else ""
        needs.append(
            PaintNeed(
                called, out.out_on if out else None, substitute, found.units, found.minutes, found.not_known
            )
        )
    return NeedsAnswer(day, tuple(needs), seed, _doubts(desk, known, needs))


def live_versions(shelf: Shelf) -> list[Live]:
    """The versions that count, recipe by recipe."""
    units: dict[int, set[int]] = {}
    for unit in shelf.units:
        for recipe, number in used_versions(shelf, unit):
            version = next(one for one in shelf.versions[recipe.id] if one.number == number)
            units.setdefault(version.id, set()).add(unit)
    return [
        Live(recipe, version, frozenset(units.get(version.id, ())))
        for recipe in shelf.recipes
        for version in shelf.versions[recipe.id]
        if version.id in units or version is shelf.versions[recipe.id][-1]
    ]


def paint_keys(shelf: Shelf, live: Live) -> frozenset[str]:
    """The paints that a version names, its primer among them."""
    return frozenset(map(name_key, _words(shelf, live.version)))


def _words(shelf: Shelf, version: RecipeVersion) -> Iterable[str]:
    for words in (version.primer, *(step.paint for step in shelf.steps.get(version.id, ()))):
        yield from paints_of(words)


def _named(shelf: Shelf) -> dict[str, str]:
    """Paints as they were first written, by their folded names."""
    out: dict[str, str] = {}
    for recipe in shelf.recipes:
        for version in shelf.versions[recipe.id]:
            for word in _words(shelf, version):
                out.setdefault(name_key(word), word)
    return out


def _wanted(shelf: Shelf, name: str) -> list[str]:
    key, names = name_key(name), _named(shelf)
    if key in names or any(out.name_key == key for out in shelf.outs):
        return [key]
    mend = did_you_mean(name, names.values(), "See lastcoat paint list")
    raise DataError(Problem("the paint", f"no recipe names {shown(name)}", mend))


def _not_named(name: str, known: dict[str, str]) -> str:
    if name_key(name) in known:
        return ""
    mend = did_you_mean(name, known.values(), "")
    return f"No recipe names it. {mend}".strip()


def _shelf(desk: Desk) -> Shelf | None:
    if not os.path.lexists(desk.path):
        return None
    with desk.open() as store, store.snapshot():
        return read_shelf(store)


def _doubts(desk: Desk, known: Records, needs: Sequence[PaintNeed]) -> tuple[Any, ...]:
    if not any(need.minutes for need in needs):
        return ()
    from tracker.pace.doubts import MOVES_DATES, pace_doubts

    doubts = pace_doubts(known, learn_pace(desk, known))
    return tuple(doubt for doubt in doubts if doubt.code in MOVES_DATES)
