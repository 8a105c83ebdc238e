"""Money of deals by where it belongs: at their models, or at the desk.

A deal's money is shared equally among its models, exact to the last coin, and follows each model to the
unit it is in; what has no model is the desk's.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal

from tracker.domain.money import Sums, add_to, shared, together
from tracker.domain.sources import WAYS_IN, Deal

ModelsOf = Mapping[int, Sequence[int]]
"""Ids of the models of each deal, by the deal's id."""
Place = int | None
"""A model's id; none = the desk."""


def paid_of(deal: Deal) -> Decimal | None:
    """What went out of the purse: the amount of what came in, and postage either way; none = nothing said."""
    parts = (deal.amount if deal.how in WAYS_IN else None, deal.postage)
    said = [part for part in parts if part is not None]
    return sum(said, Decimal(0)) if said else None


def got_of(deal: Deal) -> Decimal | None:
    """What came into the purse: the amount of what went out."""
    return None if deal.how in WAYS_IN else deal.amount


class Ledger:
    """Money by where it belongs."""

    def __init__(self, deals: Iterable[Deal], models_of: ModelsOf) -> None:
        self.paid: dict[Place, Sums] = {}
        self.got: dict[Place, Sums] = {}
        self.came: set[int] = set()
        """Models of which a deal says how they came in."""
        for deal in deals:
            models = tuple(sorted(models_of.get(deal.id, ())))
            _put(self.paid, deal.currency, paid_of(deal), models)
            _put(self.got, deal.currency, got_of(deal), models)
            if deal.how in WAYS_IN:
                self.came.update(models)

    def sums(self, places: Iterable[Place]) -> tuple[Sums, Sums, dict[str, int]]:
        """(paid, got, for how many models something was paid, by currency)."""
        there = list(places)
        paid = [self.paid[place] for place in there if place in self.paid]
        counts = Counter(
            currency for place in there if place is not None for currency in self.paid.get(place, ())
        )
        return together(paid), together(self.got[p] for p in there if p in self.got), dict(counts)


def _put(where: dict[Place, Sums], currency: str, amount: Decimal | None, models: Sequence[int]) -> None:
    if amount is None:
        return
    places: Sequence[Place] = models or (None,)
    for place, part in zip(places, shared(amount, len(places)), strict=True):
        add_to(where.setdefault(place, {}), currency, part)
