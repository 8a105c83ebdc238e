"""Where the invented person's models came from, and what they gave for them."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

from demo_db.army import MUSTER
from tracker.domain.rows_sources import SourceRow

TARGET_POINTS = 1000.0
"""What the list of the muster is meant to have for the game at the hall."""


def deals() -> tuple[SourceRow, ...]:
    """Money in two currencies, which nobody adds up; a swap, a gift, a find."""
    return (
        _in(date(2024, 11, 2), "bought", "Mill Spears", whom="the harvest fair", amount="36"),
        _in(date(2024, 11, 2), "swapped", "The Reeve", whom="a friend", exchange="a box of bits"),
        _in(date(2024, 12, 21), "gifted", "Ferry Riders", whom="a sister"),
        _in(date(2025, 5, 10), "bought", "Weir Keepers", whom="a table at the hall", amount="18.50"),
        _in(date(2025, 8, 2), "bought", "Old Pondback", whom="a caster on the coast", amount="27",
            postage="4.20", currency="GBP"),
        _in(date(2026, 1, 17), "found", "Bean Slinger", whom="the attic"),
        SourceRow(date(2026, 3, 7), "bought", amount=Decimal("7.80"), currency="EUR",
                  note="two brushes, glue"),
        _in(date(2026, 9, 12), "bought", "Beekeepers", whom="the harvest fair", amount="24"),
    )  # fmt: skip


def _in(
    day: date, how: str, unit: str, *, whom: str = "", amount: str = "", postage: str = "",
    currency: str = "EUR", exchange: str = "",
) -> SourceRow:  # fmt: skip
    return SourceRow(
        day, how, (MUSTER,), (unit,), (), "", whom, Decimal(amount) if amount else None,
        currency if amount else "", Decimal(postage) if postage else None, exchange,
    )  # fmt: skip
