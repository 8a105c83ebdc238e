"""Money: an exact decimal with its currency beside it; two currencies are two figures, never one sum."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from decimal import Decimal
from typing import NamedTuple

from tracker.domain.problems import Problem
from tracker.domain.text import tidy

AMOUNT_MOST = Decimal(1_000_000_000)
DECIMALS_MOST = 4
_AMOUNT = re.compile(r"[0-9]{1,10}(?:[.,][0-9]{1,4})?")
_TWO_WAYS = re.compile(r"([1-9][0-9]{0,2})[.,]([0-9]{3})")
_CURRENCY = re.compile(r"[A-Z]{3}")
_WITH_CURRENCY = re.compile(
    r"(?P<before>[A-Za-z]{3})?\s*(?P<amount>[0-9][0-9.,]*)\s*(?P<behind>[A-Za-z]{3})?"
)
MEND = 'Write it like "12.50 EUR": an amount and the three capitals of its currency'

Sums = dict[str, Decimal]
"""Amounts by currency; what is not there is nothing."""


class Money(NamedTuple):
    """So much of one currency."""

    amount: Decimal
    currency: str
    """Three capital letters, as ISO 4217 has them; which ones is the person's business."""


def read_money(text: str, where: str = "the money") -> Money | Problem:
    """Money from "12.50 EUR", "EUR 12.50" or "12,50 EUR"; a `Problem` for what can be read otherwise."""
    said = _WITH_CURRENCY.fullmatch(tidy(text))
    if said is None or (said["before"] is None) == (said["behind"] is None):
        return Problem(where, f"{_quoted(text)} is no money with its currency", MEND)
    currency = said["before"] or said["behind"]
    wrong = check_currency(currency, where)
    amount = read_amount(said["amount"], where)
    if isinstance(amount, Problem):
        return amount
    return wrong or Money(amount, currency)


def read_amount(text: str, where: str = "the amount") -> Decimal | Problem:
    """A plain amount: 0 or more, at most 4 decimals, a point or a comma before them, no thousands parted.

    "1,250" is refused, since it is a thousand to one person and a little more than one to another.
    """
    said = tidy(text)
    two_ways = _TWO_WAYS.fullmatch(said)
    if two_ways:
        mend = f"Write {two_ways[1]}{two_ways[2]}, or {two_ways[1]}.{two_ways[2]}0"
        return Problem(where, f"{_quoted(said)} can be read in two ways", mend)
    if not _AMOUNT.fullmatch(said):
        return Problem(where, f"{_quoted(said)} is no amount", "Write it like 12.50, with at most 4 decimals")
    amount = plain(Decimal(said.replace(",", ".")))
    if amount > AMOUNT_MOST:
        return Problem(where, f"{_quoted(said)} is too much", f"Write at most {AMOUNT_MOST:,}")
    return amount


def check_currency(text: str, where: str) -> Problem | None:
    """What is wrong with a currency: it has to be three capital letters."""
    if _CURRENCY.fullmatch(text):
        return None
    return Problem(where, f"{_quoted(text)} is no currency", "Write three capitals, such as EUR, GBP, PLN")


def plain(amount: Decimal) -> Decimal:
    """The same amount with none of its decimals, or at least two: 12, 12.50, 12.125."""
    if amount == amount.to_integral_value():
        return amount.quantize(Decimal(1))
    two = amount.quantize(Decimal("0.01"))
    return two if two == amount else amount.normalize()


def shared(amount: Decimal, count: int) -> tuple[Decimal, ...]:
    """The amount in `count` parts that are equal but for the last digit and together exactly the amount.

    What is left over goes to the first parts, the smallest coin (0.01, or the amount's own last digit) each.
    """
    exponent = amount.as_tuple().exponent
    coin = Decimal(1).scaleb(min(exponent if isinstance(exponent, int) else 0, -2))
    each, over = divmod(int(amount / coin), count)
    return tuple((each + (place < over)) * coin for place in range(count))


def add_to(sums: Sums, currency: str, amount: Decimal) -> None:
    """Put an amount to what is there of its currency."""
    sums[currency] = sums.get(currency, Decimal(0)) + amount


def together(parts: Iterable[Mapping[str, Decimal]]) -> Sums:
    """Every currency summed by itself."""
    out: Sums = {}
    for part in parts:
        for currency, amount in part.items():
            add_to(out, currency, amount)
    return out


def _quoted(text: str) -> str:
    from tracker.domain.text import printable

    shown = printable(text)
    return f'"{shown if len(shown) <= 40 else shown[:39] + "…"}"'
