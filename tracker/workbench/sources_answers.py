"""The verbs that answer about deals: each one, what units cost, and month by month. They store nothing."""

from __future__ import annotations

import os
from datetime import date
from typing import NamedTuple

from tracker.domain.answers_sources import CostsAnswer, DealPart, DealTold, MonthsAnswer, SourcesAnswer
from tracker.domain.problems import DataError, Problem, did_you_mean
from tracker.domain.records import Records
from tracker.domain.sources import Deal, DealModel
from tracker.domain.text import same_name
from tracker.store.book import every
from tracker.store.read import one_unit, records
from tracker.workbench.desk import Desk
from tracker.workbench.naming import shown, the_unit
from tracker.workbench.sources_models import found_of

MONTHS = 12
MONTHS_MOST = 1200


class _Kept(NamedTuple):
    """What is known, and the deals with it, from one moment."""

    known: Records
    deals: tuple[Deal, ...]
    models_of: dict[int, list[int]]


def sources(desk: Desk, unit: str = "", army: str | None = None) -> SourcesAnswer:
    """Every deal, the newest first; with a unit only those about its models, and its own note of a source."""
    if not os.path.lexists(desk.path) and not unit:
        return SourcesAnswer(desk.evening_day(), ())
    with desk.open() as store, store.snapshot():
        known = the_unit(store, unit, army) if unit else None
        noted = one_unit(store, known.id).source if known else ""
        deals: tuple[Deal, ...] = every(store, Deal)
        armies = {
            int(number): (str(its_army), str(name))
            for number, its_army, name in store.rows(
                "SELECT unit.id, army.name, unit.name FROM unit JOIN army ON army.id = unit.army_id"
            )
        }
        told = []
        for deal in sorted(deals, key=lambda one: (one.day, one.id), reverse=True):
            found = found_of(store, deal.id)
            if known is not None and all(one.unit_id != known.id for one in found):
                continue
            parts = tuple(
                DealPart(*armies[one.unit_id], tuple(number for _, number in one.models))
                for one in found
                if one.unit_id is not None
            )
            spares = tuple(n for one in found if one.unit_id is None for _, n in one.models)
            told.append(DealTold(deal, parts, spares))
    return SourcesAnswer(desk.evening_day(), tuple(told), known.name if known else "", noted)


def costs(desk: Desk, army: str | None = None, as_of: date | None = None) -> CostsAnswer:
    """What every unit cost in money and in hours, as known on the evening of `as_of`."""
    from tracker.domain.costs import costs_of

    day = as_of or desk.evening_day()
    kept = _kept(desk, day)
    name = "" if army is None else army_named(kept.known, army)
    return costs_of(kept.known, kept.deals, kept.models_of, day, name)


def months(desk: Desk, count: int = MONTHS, as_of: date | None = None) -> MonthsAnswer:
    """What came in and went out in the last so many months, as known on the evening of `as_of`."""
    from tracker.domain.deal_months import months_of

    if not 0 < count <= MONTHS_MOST:
        raise DataError(Problem("--months", f"{count} months cannot be", f"Say 1 to {MONTHS_MOST:,}"))
    day = as_of or desk.evening_day()
    kept = _kept(desk, day)
    return months_of(kept.known, kept.deals, day, count)


def army_named(known: Records, said: str) -> str:
    """An army's name as it is stored; a `DataError` when there is none of that name."""
    names = [army.name for army in known.armies]
    for name in names:
        if same_name(name, said):
            return name
    mend = did_you_mean(said, names, "See: lastcoat army")
    raise DataError(Problem("--army", f"there is no army {shown(said)}", mend))


def _kept(desk: Desk, day: date) -> _Kept:
    if not os.path.lexists(desk.path):
        return _Kept(Records(), (), {})
    with desk.open() as store, store.snapshot():
        known = records(store).as_of(day)
        models_of: dict[int, list[int]] = {}
        for link in every(store, DealModel):
            models_of.setdefault(link.deal_id, []).append(link.model_id)
        return _Kept(known, every(store, Deal), models_of)
