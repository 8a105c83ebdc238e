"""The records as they would be if wishes came true: pure changes, each from records to records."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from tracker.domain.problems import did_you_mean
from tracker.domain.progress import alive, progress_of
from tracker.domain.records import DEFAULT_ARMY, Army, Model, Records, Unit
from tracker.domain.routes import usual_route
from tracker.domain.text import printable, same_name, tidy
from tracker.domain.wished_models import (
    fewer_models,
    join,
    refused,
    skip,
    to_models,
    with_filler,
    without,
)
from tracker.domain.wishes import (
    AtStandard,
    Away,
    FewerModels,
    Filler,
    First,
    InOrder,
    MoreEvenings,
    NewUnit,
    OnlyModels,
    Wish,
    Without,
)
from tracker.domain.work import unit_order

_SAME_COATS = (("base colours", "one-coat colours"), ("one-coat colours", "base colours"))
"""Whoever has the one behind them does not need the other when the standard changes."""


def wished(known: Records, wishes: Sequence[Wish], day: date) -> Records:
    """The records with every wish come true, one after the other; `DataError` for what cannot be.

    Wishes about evenings change no records.
    """
    for wish in wishes:
        known = _changed(known, wish, day)
    return known


def _changed(known: Records, wish: Wish, day: date) -> Records:
    out = known
    match wish:
        case First(unit, army):
            out = in_order(known, (unit_named(known, unit, army).id,))
        case InOrder(names):
            out = in_order(known, _each_once(known, names))
        case OnlyModels(unit, models, army):
            out = to_models(known, unit_named(known, unit, army), models, day)
        case FewerModels(unit, fewer, army):
            out = fewer_models(known, unit_named(known, unit, army), fewer, day)
        case Filler(unit, instead_of, army):
            out = with_filler(known, unit_named(known, unit, army), instead_of, day)
        case AtStandard(unit, standard, army):
            out = _at_standard(known, unit_named(known, unit, army), standard, day)
        case Without(unit, army):
            out = without(known, unit_named(known, unit, army), day)
        case NewUnit():
            out = _with_unit(known, wish, day)
        case MoreEvenings() | Away():
            pass
    return out


def unit_named(known: Records, name: str, army: str = "") -> Unit:
    """The unit of that name that still has models; a `DataError` offers the nearest names."""
    armies = {one.id: one.name for one in known.armies}
    there = {model.unit_id for model in known.models if model.left_on is None}
    units = [unit for unit in known.units if unit.id in there]
    found = [
        unit
        for unit in units
        if same_name(unit.name, name) and (not army or same_name(armies[unit.army_id], army))
    ]
    if len(found) == 1:
        return found[0]
    said = f'"{printable(name)}"'
    if found:
        names = " or ".join(f'"{printable(armies[unit.army_id])}"' for unit in found)
        raise refused(f"{said} stands in more than one army", f"Say which: {names}")
    mend = did_you_mean(name, [unit.name for unit in units], "See lastcoat army for their names")
    raise refused(f"there is no unit {said}", mend)


def in_order(known: Records, first: Sequence[int]) -> Records:
    """These units (by id) are done first, in this order; the others keep theirs."""
    others = [unit.id for unit in sorted(known.units, key=unit_order) if unit.id not in first]
    place = {unit_id: i for i, unit_id in enumerate((*first, *others), start=1)}
    return known._replace(units=tuple(unit._replace(order=place[unit.id]) for unit in known.units))


def _each_once(known: Records, names: Sequence[tuple[str, str]]) -> tuple[int, ...]:
    found = [unit_named(known, *name).id for name in names]
    if len(set(found)) < len(found) or not found:
        raise refused("the order names no unit, or one twice", 'Write it like "Riders, Spears"')
    return tuple(found)


def _at_standard(known: Records, unit: Unit, standard: str, day: date) -> Records:
    """The unit to another standard; one on its usual route takes the usual route of that standard."""
    ranked = bool(unit.files and unit.ranks)
    usual, new = (
        usual_route(unit.kind, one, unit.material, ranked=ranked) for one in (unit.standard, standard)
    )
    route = new if unit.route == usual else unit.route
    after = unit._replace(
        standard=standard, route=route, finish_line=unit.finish_line if unit.finish_line in route else ""
    )
    progress = progress_of(known)
    behind = [
        (model.id, needed)
        for model in alive(known.models, unit.id)
        for done, needed in _SAME_COATS
        if needed in route and needed not in unit.route and progress.is_done(model.id, done)
    ]
    known = known._replace(units=tuple(after if one.id == unit.id else one for one in known.units))
    return skip(known, behind, day)


def _with_unit(known: Records, wish: NewUnit, day: date) -> Records:
    """One unit more, behind all others."""
    name = tidy(wish.unit)
    if not name or wish.models < 1:
        raise refused("a new unit needs a name and models", 'Say it like "20 new Spears"')
    army = next((one for one in known.armies if same_name(one.name, wish.army or DEFAULT_ARMY)), None)
    if army is None and not wish.army and known.armies:
        army = known.armies[0]
    if army is None:
        army = Army(max((one.id for one in known.armies), default=0) + 1, wish.army or DEFAULT_ARMY)
        known = known._replace(armies=(*known.armies, army))
    if any(same_name(unit.name, name) and unit.army_id == army.id for unit in known.units):
        raise refused(f'there is a unit "{printable(name)}" already', "Give the new one another name")
    new_id = max((unit.id for unit in known.units), default=0) + 1
    unit = Unit(
        new_id, army.id, name, wish.kind, wish.material, wish.standard, added_on=day,
        route=usual_route(wish.kind, wish.standard, wish.material),
    )  # fmt: skip
    known = known._replace(units=(*known.units, unit))
    return join(known, [Model(0, new_id, n, added_on=day) for n in range(1, wish.models + 1)])
