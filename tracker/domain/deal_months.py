"""Month by month: what came in and went out, and what was paid and got for it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from tracker.domain.answers_sources import MonthRow, MonthsAnswer
from tracker.domain.ledger import got_of, paid_of
from tracker.domain.money import Sums, add_to
from tracker.domain.records import Records
from tracker.domain.sources import Deal

SWAPS = ("swapped", "swapped away")
GIFTS = ("gifted", "given away")


def months_of(known: Records, deals: Sequence[Deal], as_of: date, months: int) -> MonthsAnswer:
    """The last `months` months, the newest first, from the first of which anything is known.

    Models count by the day they came in or left, spares too; money by the day of its deal.
    """
    days = [model.added_on for model in known.models] + [deal.day for deal in deals if deal.day <= as_of]
    first = min(days, default=as_of).replace(day=1)
    out: list[MonthRow] = []
    month = as_of.replace(day=1)
    while month >= first and len(out) < months:
        out.append(_month(month, known, [deal for deal in deals if _in(deal.day, month, as_of)]))
        month = _before(month)
    return MonthsAnswer(as_of, tuple(out) if days else ())


def _month(month: date, known: Records, deals: Sequence[Deal]) -> MonthRow:
    paid: Sums = {}
    got: Sums = {}
    for deal in deals:
        for sums, amount in ((paid, paid_of(deal)), (got, got_of(deal))):
            if amount is not None:
                add_to(sums, deal.currency, amount)
    return MonthRow(
        month,
        sum(_same_month(model.added_on, month) for model in known.models),
        sum(model.left_on is not None and _same_month(model.left_on, month) for model in known.models),
        paid,
        got,
        sum(deal.how in SWAPS for deal in deals),
        sum(deal.how in GIFTS for deal in deals),
    )


def _same_month(day: date, month: date) -> bool:
    return (day.year, day.month) == (month.year, month.month)


def _in(day: date, month: date, as_of: date) -> bool:
    return day <= as_of and _same_month(day, month)


def _before(month: date) -> date:
    """The first of the month before."""
    return (
        month.replace(year=month.year - 1, month=12)
        if month.month == 1
        else month.replace(month=month.month - 1)
    )
