"""Where things came from and what they cost; money is decimal and has its currency with it."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import NamedTuple

WAYS_IN = ("bought", "swapped", "gifted", "printed", "found")
WAYS_OUT = ("sold", "swapped away", "given away")


class Deal(NamedTuple):
    """Something came in or went out: models, or things for the desk."""

    id: int
    how: str
    """One of `WAYS_IN` or `WAYS_OUT`."""
    whom: str = ""
    """From or to whom, in the person's own words."""
    amount: Decimal | None = None
    """What was paid (or got, when it went out); none = nothing said."""
    currency: str = ""
    """Three letters (ISO 4217); empty only where no money is said."""
    postage: Decimal | None = None
    """In the same currency."""
    exchange: str = ""
    """What was given for it (or got), when it was no money."""
    note: str = ""
    day: date = date(1970, 1, 1)


class DealModel(NamedTuple):
    """A model that a deal was about; its money is shared equally among them."""

    id: int
    deal_id: int
    model_id: int


class ListTarget(NamedTuple):
    """So many points the list of an army is meant to have."""

    id: int
    army_id: int
    points: float
