"""A row of the sheet of deals: what a person's spreadsheet says, read and checked, not yet stored."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import NamedTuple


class SourceRow(NamedTuple):
    """One deal."""

    date: date
    how: str
    armies: tuple[str, ...] = ()
    """For each unit; none said = wherever a unit of that name is."""
    units: tuple[str, ...] = ()
    models: tuple[str, ...] = ()
    """For each unit, as in "1-5,8"; none said = those of which no deal tells yet."""
    spares: str = ""
    whom: str = ""
    amount: Decimal | None = None
    currency: str = ""
    postage: Decimal | None = None
    exchange: str = ""
    note: str = ""
    row: int = 0
    """Row number in the sheet (the header is row 1); 0 = not from a sheet."""
