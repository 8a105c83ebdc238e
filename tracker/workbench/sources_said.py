"""What a person says of a deal, checked: the way it came or went, money, words, its day."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import NamedTuple

from tracker.domain.money import Money, read_amount, read_money
from tracker.domain.problems import DataError, Problem, UsageError, did_you_mean
from tracker.domain.sources import WAYS_IN, WAYS_OUT, Deal
from tracker.domain.text import same_name, tidy
from tracker.workbench.desk import Desk
from tracker.workbench.lines import not_in_future
from tracker.workbench.naming import good_text, shown
from tracker.workbench.sources_models import SaidPart

WAYS = (*WAYS_IN, *WAYS_OUT)
TEXT_LETTERS_MOST = 1000


class DealWish(NamedTuple):
    """What is said of a deal; None = not said, "" = taken away."""

    how: str | None = None
    parts: tuple[SaidPart, ...] | None = None
    """Units and which of their models; empty = none of them."""
    spares: str | None = None
    """Numbers of spares, as in "3-7"."""
    whom: str | None = None
    cost: str | None = None
    """Money with its currency."""
    postage: str | None = None
    """Money, or an amount in the currency of the cost."""
    exchange: str | None = None
    note: str | None = None
    day: date | None = None


def good_way(said: str) -> str:
    """One of the ways in which things come in and go out."""
    found = next((way for way in WAYS if same_name(way, said.replace("-", " "))), None)
    if found is None:
        mend = did_you_mean(said, WAYS, f"One of: {', '.join(WAYS)}")
        raise UsageError(Problem("source", f"{shown(said)} is no way to come in or go out", mend))
    return found


def checked_deal(deal: Deal, wish: DealWish, desk: Desk) -> Deal:
    """The deal with what was said; a `DataError` for what cannot be."""
    not_in_future(deal.day, desk.today())
    deal = deal._replace(
        whom=_good_words("--from", wish.whom, deal.whom),
        exchange=_good_words("--given", wish.exchange, deal.exchange),
        note=_good_words("--note", wish.note, deal.note),
    )
    if wish.cost is not None and wish.postage is not None:
        deal = deal._replace(postage=None)  # so that both can change to another currency
    return _with_postage(_with_cost(deal, wish.cost), wish.postage)


def _good_words(where: str, text: str | None, before: str) -> str:
    if text is None:
        return before
    said = tidy(good_text(where, text))
    if len(said) > TEXT_LETTERS_MOST:
        what = f"the text has {len(said)} letters"
        raise DataError(Problem(where, what, f"Shorten it to {TEXT_LETTERS_MOST}"))
    return said


def _with_cost(deal: Deal, said: str | None) -> Deal:
    if said is None:
        return deal
    if not tidy(said):
        return deal._replace(amount=None, currency=deal.currency if deal.postage is not None else "")
    money = _money("--cost", said)
    if deal.postage is not None and money.currency != deal.currency:
        what = f"the postage is in {deal.currency}, the cost in {money.currency}"
        raise DataError(Problem("--cost", what, "Say --postage in the same currency too"))
    return deal._replace(amount=money.amount, currency=money.currency)


def _with_postage(deal: Deal, said: str | None) -> Deal:
    """Postage is in the currency of the cost, where one is said; without a cost it says its own."""
    if said is None:
        return deal
    if not tidy(said):
        return deal._replace(postage=None, currency=deal.currency if deal.amount is not None else "")
    plain = read_amount(said)
    if isinstance(plain, Decimal) and deal.currency:
        return deal._replace(postage=plain)
    money = _money("--postage", said)
    if deal.amount is not None and money.currency != deal.currency:
        what = f"the cost is in {deal.currency}, the postage in {money.currency}"
        mend = "Say both in one currency, or keep the postage as a deal of its own"
        raise DataError(Problem("--postage", what, mend))
    return deal._replace(postage=money.amount, currency=money.currency)


def _money(where: str, said: str) -> Money:
    money = read_money(said, where)
    if isinstance(money, Problem):
        raise DataError(money)
    return money
