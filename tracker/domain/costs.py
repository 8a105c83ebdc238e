"""What units cost: the money of deals at their models, and the hours that went into them.

The units, the spares and the desk add up to all that was paid, currency by currency.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from tracker.domain.answers_sources import CostRow, CostsAnswer, NotCounted
from tracker.domain.ledger import Ledger, ModelsOf, Place
from tracker.domain.model_hours import hours_of
from tracker.domain.money import Money, add_to, read_money, together
from tracker.domain.progress import finish_steps, progress_of
from tracker.domain.records import Records, Unit
from tracker.domain.sources import Deal
from tracker.domain.work import unit_order


def costs_of(
    known: Records, deals: Sequence[Deal], models_of: ModelsOf, as_of: date, army: str = ""
) -> CostsAnswer:
    """What every unit, army, the spares and the desk cost; `known` ends with `as_of`.

    `army`: only this one, by its name as it is stored; then spares, desk and the whole are left out.
    """
    there = {model.id for model in known.models}
    kept = {deal.id: [model for model in models_of.get(deal.id, ()) if model in there] for deal in deals}
    book = _Book(known, Ledger((deal for deal in deals if deal.day <= as_of), kept))
    armies = [one for one in known.armies if not army or one.name == army]
    rows = [book.unit(unit) for one in armies for unit in book.units if unit.army_id == one.id]
    by_army = [_summed(one.name, [row for row in rows if row.army == one.name]) for one in armies]
    noted = tuple(note for note in book.not_counted if not army or note.army == army)
    spares, desk = book.loose([m.id for m in known.models if m.unit_id is None]), book.loose([None])
    whole = _summed("", [*rows, *(row for row in (spares, desk) if row)])._replace(paid_models={})
    return CostsAnswer(
        as_of, tuple(rows), tuple(row for row in by_army if row.models or row.paid or row.got),
        None if army else spares, None if army else desk, None if army else whole, noted,
    )  # fmt: skip


class _Book:
    """What is known, looked at unit by unit."""

    def __init__(self, known: Records, ledger: Ledger) -> None:
        self._armies = {army.id: army.name for army in known.armies}
        self._progress = progress_of(known)
        self._hours = hours_of(known)
        self._ledger = ledger
        self._models: dict[int, list[int]] = {unit.id: [] for unit in known.units}
        for model in known.models:
            if model.unit_id is not None:
                self._models[model.unit_id].append(model.id)
        self.units = sorted(known.units, key=unit_order)
        self.not_counted: list[NotCounted] = []

    def unit(self, unit: Unit) -> CostRow:
        """The row of one unit."""
        models, hours = self._models[unit.id], self._hours
        paid, got, paid_models = self._ledger.sums(models)
        own = self._own_cost(unit, models)
        if own is not None:
            add_to(paid, own.currency, own.amount)
            paid_models[own.currency] = len(models)
        steps = finish_steps(unit)
        ready = [model for model in models if self._progress.table_ready(model, steps)]
        of_model = hours.of_model
        return CostRow(
            self._armies[unit.army_id], unit.name, paid, got, len(models), paid_models,
            sum(of_model.get(model, 0.0) for model in models) + hours.of_unit.get(unit.id, 0.0),
            hours.untimed.get(unit.id, 0), len(ready), sum(of_model.get(model, 0.0) for model in ready),
        )  # fmt: skip

    def _own_cost(self, unit: Unit, models: Sequence[int]) -> Money | None:
        """What the unit's own note says it cost, where it counts; else the note is listed."""
        if not unit.cost:
            return None
        army = self._armies[unit.army_id]
        money = read_money(unit.cost)
        if not isinstance(money, Money):
            self.not_counted.append(NotCounted(army, unit.name, unit.cost, "unreadable"))
        elif self._ledger.came.intersection(models):
            self.not_counted.append(NotCounted(army, unit.name, unit.cost, "deal"))
        else:
            return money
        return None

    def loose(self, places: Sequence[Place]) -> CostRow | None:
        """The row of the spares or the desk; none where there is nothing to say of it."""
        paid, got, paid_models = self._ledger.sums(places)
        models = [place for place in places if place is not None]
        minutes = sum(self._hours.of_model.get(model, 0.0) for model in models)
        if not (paid or got or minutes):
            return None
        return CostRow("", "", paid, got, len(models), paid_models, minutes, 0, 0, 0.0)


def _models_together(rows: Sequence[CostRow]) -> dict[str, int]:
    out: dict[str, int] = {}
    for row in rows:
        for currency, models in row.paid_models.items():
            out[currency] = out.get(currency, 0) + models
    return out


def _summed(army: str, rows: Sequence[CostRow]) -> CostRow:
    """Rows as one."""
    return CostRow(
        army, "", together(row.paid for row in rows), together(row.got for row in rows),
        sum(row.models for row in rows), _models_together(rows),
        sum(row.minutes for row in rows), sum(row.untimed_lines for row in rows),
        sum(row.ready_models for row in rows), sum(row.ready_minutes for row in rows),
    )  # fmt: skip
