"""Which models a deal is about: those of units, living or gone, and spares; and that those sold leave."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from datetime import date
from typing import NamedTuple

from tracker.domain.problems import DataError, Problem, UsageError
from tracker.domain.sources import WAYS_IN, Deal, DealModel
from tracker.domain.text import same_name, tidy
from tracker.store.book import drop, every, keep
from tracker.store.journal import Store
from tracker.store.ranks import forget_places
from tracker.workbench.models import number_ranges, read_numbers
from tracker.workbench.naming import KnownUnit, shown, the_unit
from tracker.workbench.words import count_words

LEAVES_AS = {"sold": "sold", "given away": "given away", "swapped away": "given away"}
"""How a model leaves by a deal, in the words of `records.DEPARTURES`."""


class SaidPart(NamedTuple):
    """Models of one unit as they were said."""

    unit: str
    models: str = ""
    """Empty = those of which no deal of this direction speaks yet."""
    army: str | None = None


class Found(NamedTuple):
    """Models of one unit, or spares, that a deal is about."""

    name: str
    """The unit; empty = spares."""
    unit_id: int | None
    models: tuple[tuple[int, int], ...]
    """(id, number) by number."""

    def words(self) -> str:
        """As in "Spears 1-10", "spares 3-7"."""
        return f"{self.name or 'spares'} {number_ranges([number for _, number in self.models])}"


class _Kept(NamedTuple):
    id: int
    number: int
    name: str
    added: str
    left: str | None
    left_how: str


def find_models(
    store: Store, how: str, parts: Iterable[SaidPart], spares: str, taken: Mapping[int, int]
) -> tuple[Found, ...]:
    """The models meant; a `DataError` for what is not there, or is among those `taken` by other deals."""
    units = [(the_unit(store, part.unit, part.army), part) for part in parts]
    found = [_of_unit(store, how, known, part.models, taken) for known, part in units]
    if tidy(spares):
        there = _kept(store, None)
        found.append(Found("", None, _chosen("--spares", "spares", there, spares, how=how, taken=taken)))
    twice = [model for one in found for model, _ in one.models]
    if len(set(twice)) < len(twice):
        raise DataError(Problem("--unit", "a unit is named twice", "Name each unit once"))
    return tuple(found)


def taken_models(store: Store, how: str, *, besides: int = 0) -> dict[int, int]:
    """The deal by which each model came in (or went out); `besides`: one that does not count."""
    coming = how in WAYS_IN
    same = {deal.id for deal in every(store, Deal) if (deal.how in WAYS_IN) == coming and deal.id != besides}
    return {link.model_id: link.deal_id for link in every(store, DealModel) if link.deal_id in same}


def _kept(store: Store, unit_id: int | None) -> list[_Kept]:
    """All models that are or were of the unit (or are or were spares), by number."""
    rows = store.rows(
        "SELECT id, number, name, added_on, left_on, left_how FROM model WHERE unit_id IS ? ORDER BY number",
        (unit_id,),
    )
    return [_Kept(*row) for row in rows]


def _of_unit(store: Store, how: str, known: KnownUnit, said: str, taken: Mapping[int, int]) -> Found:
    there = _kept(store, known.id)
    if tidy(said):
        return Found(known.name, known.id, _chosen("--models", known.name, there, said, how=how, taken=taken))
    free = [one for one in there if one.id not in taken and _may(one, how, untold=True)]
    if not free and how in WAYS_IN:
        what = f"a deal tells already how every model of {shown(known.name)} came in"
        raise DataError(Problem("--models", what, "Say which models came in now, as in --models 11-20"))
    if not free:
        what = f"it is not said which models of {shown(known.name)} went"
        raise UsageError(Problem("--models", what, "Say them, as in --models 1-5"))
    return Found(known.name, known.id, tuple((one.id, one.number) for one in free))


def _may(one: _Kept, how: str, *, untold: bool = False) -> bool:
    """Whether a model can be part of a deal; `untold`: without its number having been said."""
    if how in WAYS_IN:
        return True
    if one.left is None:
        return not untold
    return one.left_how == LEAVES_AS[how] or (not untold and one.left_how != "broken")


def _chosen(
    where: str, whose: str, there: Sequence[_Kept], said: str, *, how: str, taken: Mapping[int, int]
) -> tuple[tuple[int, int], ...]:
    """The models of these that were said: a name, "all", numbers and ranges."""
    if same_name(said, "all"):
        chosen = [one for one in there if one.id not in taken and _may(one, how)]
    else:
        chosen = [one for one in there if one.name and same_name(one.name, said)] or _numbered(
            where, whose, there, said
        )
    if not chosen:
        raise DataError(Problem(where, f"{shown(whose)} has no such models", "See: lastcoat source show"))
    for one in chosen:
        if one.id in taken:
            did = "came in" if how in WAYS_IN else "went"
            mend = "Say others, or change that deal: lastcoat source set"
            raise DataError(
                Problem(where, f"{whose} {one.number} {did} by deal {taken[one.id]} already", mend)
            )
        if not _may(one, how):
            raise DataError(
                Problem(where, f"{whose} {one.number} is {one.left_how}", "Say others, or undo that")
            )
    return tuple((one.id, one.number) for one in chosen)


def _numbered(where: str, whose: str, there: Sequence[_Kept], said: str) -> list[_Kept]:
    numbers = read_numbers(tidy(said))
    if numbers is None:
        mend = 'Say numbers like "1-5,8", a name, or "all"'
        raise DataError(Problem(where, f"{shown(said)} are no models of {shown(whose)}", mend))
    by_number = {one.number: one for one in there}
    missing = [number for number in numbers if number not in by_number]
    if missing:
        has = number_ranges(sorted(by_number)) or "none"
        raise DataError(
            Problem(where, f"{shown(whose)} has no model {number_ranges(missing[:10])}", f"It has {has}")
        )
    return [by_number[number] for number in numbers]


def found_of(store: Store, number: int) -> tuple[Found, ...]:
    """The models that a deal is about, unit by unit, spares last."""
    rows = store.rows(
        "SELECT unit.name, unit.id, model.id, model.number FROM deal_model"
        " JOIN model ON model.id = deal_model.model_id LEFT JOIN unit ON unit.id = model.unit_id"
        " WHERE deal_id = ? ORDER BY unit.id IS NULL, unit.id, model.number",
        (number,),
    )
    by_unit: dict[int | None, tuple[str, list[tuple[int, int]]]] = {}
    for name, unit, model, its_number in rows:
        by_unit.setdefault(unit, (name or "", []))[1].append((model, its_number))
    return tuple(Found(name, unit, tuple(models)) for unit, (name, models) in by_unit.items())


def still_here(store: Store, how: str, found: Iterable[Found], day: date) -> list[int]:
    """Models of a deal that have not left yet though it goes out; a `DataError` if they came in later."""
    if how in WAYS_IN:
        return []
    return [model for one in found for model, _ in one.models if _is_here(store, model, day)]


def let_leave(store: Store, how: str, here: Collection[int], day: date) -> str:
    """These models leave with a deal; in words how many did."""
    for model in here:
        store.update("model", model, left_on=day.isoformat(), left_how=LEAVES_AS[how])
    forget_places(store, here)
    return f"{count_words(len(here), 'model')} left with it." if here else ""


def _is_here(store: Store, model: int, day: date) -> bool:
    """Whether a model has not left; a `DataError` where it came in only after `day`."""
    added, left = store.rows("SELECT added_on, left_on FROM model WHERE id = ?", (model,))[0]
    if left is None and day.isoformat() < added:
        mend = f"It came in on {added}: say that day or a later one"
        raise DataError(Problem("--date", f"one of the models was not there on {day.isoformat()}", mend))
    return left is None


def link_models(store: Store, deal_id: int, models: Collection[int]) -> None:
    """The deal is about just these models."""
    there = {link.model_id: link for link in every(store, DealModel, deal_id=deal_id)}
    for model, link in there.items():
        if model not in models:
            drop(store, link)
    for model in sorted(models):
        if model not in there:
            keep(store, DealModel(0, deal_id, model))
