"""What is answered about deals: each one, what units cost, and what came and went month by month."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from typing import Literal, NamedTuple

from tracker.domain.answers import Doubt
from tracker.domain.sources import Deal

Purse = Mapping[str, Decimal]
"""Amounts by currency, each exact and by itself."""


class DealPart(NamedTuple):
    """The models of one unit that a deal is about."""

    army: str
    unit: str
    numbers: tuple[int, ...]


class DealTold(NamedTuple):
    """One deal and what it was about."""

    deal: Deal
    parts: tuple[DealPart, ...] = ()
    spares: tuple[int, ...] = ()
    """Numbers of spares; with no parts either, it was for the desk."""


class SourcesAnswer(NamedTuple):
    """Deals, the newest first."""

    as_of: date
    deals: tuple[DealTold, ...]
    unit: str = ""
    """Only deals about this unit; empty = all."""
    noted: str = ""
    """What the unit's own plan says of its source."""
    doubts: tuple[Doubt, ...] = ()


class CostRow(NamedTuple):
    """What one unit cost, or an army, the spares, the desk."""

    army: str
    unit: str
    """Empty = the army as a whole, the spares, or the desk."""
    paid: Purse
    """Amounts of what came in, postage of both ways."""
    got: Purse
    """Amounts of what went out."""
    models: int
    """Models there, and those that left."""
    paid_models: Mapping[str, int]
    """By currency: among how many models what was paid is shared; empty for the desk and all of it."""
    minutes: float
    """Known minutes of work on its models."""
    untimed_lines: int
    """Lines of which no minutes are known."""
    ready_models: int
    ready_minutes: float
    """Known minutes that went into its table-ready models."""

    @property
    def paid_a_model(self) -> Purse:
        """What was paid, per model it was paid for; empty where nothing was."""
        return {
            currency: self.paid[currency] / models
            for currency, models in self.paid_models.items()
            if self.paid.get(currency)
        }

    @property
    def minutes_a_ready_model(self) -> float | None:
        """Mean minutes of a table-ready model; none where there is none."""
        return self.ready_minutes / self.ready_models if self.ready_models else None


class NotCounted(NamedTuple):
    """What a unit's own note says of its cost, where it is in no sum."""

    army: str
    unit: str
    text: str
    why: Literal["unreadable", "deal"]
    """It is no money with a currency; a deal speaks of its models."""


class CostsAnswer(NamedTuple):
    """What everything cost, in money and in hours."""

    as_of: date
    units: tuple[CostRow, ...]
    armies: tuple[CostRow, ...]
    spares: CostRow | None
    desk: CostRow | None
    """Deals without models: paints, tools."""
    total: CostRow | None
    not_counted: tuple[NotCounted, ...] = ()
    doubts: tuple[Doubt, ...] = ()


class MonthRow(NamedTuple):
    """One month."""

    first: date
    models_in: int
    models_out: int
    paid: Purse
    got: Purse
    swaps: int
    """Deals by swap, either way."""
    gifts: int
    """Things that were given, either way."""


class MonthsAnswer(NamedTuple):
    """Months, the newest first."""

    as_of: date
    months: tuple[MonthRow, ...]
    doubts: tuple[Doubt, ...] = ()
