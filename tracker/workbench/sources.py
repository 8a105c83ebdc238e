"""The verbs of deals: what came in or went out, from or to whom, for how much; said, changed, dropped."""

from __future__ import annotations

from collections.abc import Sequence

from tracker.domain.problems import DataError, Problem, UsageError
from tracker.domain.sources import WAYS_IN, WAYS_OUT, Deal
from tracker.domain.text import tidy
from tracker.store.book import change as put_record
from tracker.store.book import drop, every, keep
from tracker.store.journal import Store
from tracker.workbench.desk import Desk
from tracker.workbench.sources_models import (
    Found,
    find_models,
    found_of,
    let_leave,
    link_models,
    still_here,
    taken_models,
)
from tracker.workbench.sources_said import DealWish, checked_deal, good_way
from tracker.workbench.units_plan import Changed
from tracker.workbench.words import day_words


def add_deal(desk: Desk, how: str, wish: DealWish) -> Changed:
    """Keep a deal. Models that are sold, swapped or given away leave with it, if they have not yet."""
    deal = checked_deal(Deal(0, good_way(how), day=wish.day or desk.evening_day()), wish, desk)
    if _says_nothing(deal, wish):
        mend = "Say what it was about: a unit, spares, money, whom, or a note"
        raise UsageError(Problem("source", "nothing is said of it", mend))
    with desk.open(create=True) as store, store.change("source") as change:
        found = find_models(
            store, deal.how, wish.parts or (), wish.spares or "", taken_models(store, deal.how)
        )
        number, left = put_deal(store, deal, found)
        done = Changed(f"deal {number}, {deal_words(deal, found, desk)}", left)
        change.words = done.words()
    return done


def change_deal(desk: Desk, number: int, wish: DealWish) -> Changed:
    """Say a deal otherwise; what is not said stays.

    Models that no longer belong to it stay gone if they left: that is mended with undo.
    """
    if wish == DealWish():
        raise UsageError(Problem("source set", "nothing is said", 'Say what changes, as in --cost "9 EUR"'))
    with desk.open() as store, store.change("source") as change:
        before = the_deal(store, number)
        how = good_way(wish.how or before.how)
        if (how in WAYS_IN) != (before.how in WAYS_IN):
            mend = "Drop it and add another"
            raise DataError(Problem("--how", f"{before.how} cannot become {how}", mend))
        deal = checked_deal(before._replace(how=how, day=wish.day or before.day), wish, desk)
        found = found_of(store, number)
        if wish.parts is not None or wish.spares is not None:
            found = _found_anew(store, deal, wish, found)
        left = bring_deal(store, deal, found)
        done = Changed(f"deal {number}, {deal_words(deal, found, desk)}", left)
        change.words = done.words()
    return done


def drop_deal(desk: Desk, number: int) -> Changed:
    """Forget a deal; its models stay as they are."""
    with desk.open() as store, store.change("source") as change:
        deal = the_deal(store, number)
        found = found_of(store, number)
        link_models(store, number, ())
        drop(store, deal)
        gone = deal.how in WAYS_OUT and bool(found)
        more = "Its models stay gone; lastcoat undo brings back a deal with its models." if gone else ""
        done = Changed(f"no longer deal {number}, {deal_words(deal, found, desk)}", more)
        change.words = done.words()
    return done


def put_deal(store: Store, deal: Deal, found: Sequence[Found]) -> tuple[int, str]:
    """Keep a checked deal with its models; its number, and in words how many models left with it."""
    here = still_here(store, deal.how, found, deal.day)
    number = keep(store, deal)
    link_models(store, number, [model for one in found for model, _ in one.models])
    return number, let_leave(store, deal.how, here, deal.day)


def bring_deal(store: Store, deal: Deal, found: Sequence[Found]) -> str:
    """Bring a kept deal to this and these models; in words how many left with it."""
    here = still_here(store, deal.how, found, deal.day)
    put_record(store, deal)
    link_models(store, deal.id, [model for one in found for model, _ in one.models])
    return let_leave(store, deal.how, here, deal.day)


def _found_anew(store: Store, deal: Deal, wish: DealWish, before: Sequence[Found]) -> tuple[Found, ...]:
    """Units that are said stand in for the units there were, spares for the spares."""
    parts = () if wish.parts is None else wish.parts
    taken = taken_models(store, deal.how, besides=deal.id)
    new = find_models(store, deal.how, parts, wish.spares or "", taken)
    kept = [one for one in before if (wish.parts is None if one.name else wish.spares is None)]
    return (*kept, *new)


def _says_nothing(deal: Deal, wish: DealWish) -> bool:
    about = wish.parts or tidy(wish.spares or "")
    return not (about or deal.whom or deal.exchange or deal.note or deal.currency)


def the_deal(store: Store, number: int) -> Deal:
    """The deal of that number; a `DataError` when there is none."""
    found: tuple[Deal, ...] = every(store, Deal, id=number)
    if not found:
        raise DataError(Problem("the deal", f"there is no deal {number}", "See: lastcoat source show"))
    return found[0]


def deal_words(deal: Deal, found: Sequence[Found], desk: Desk) -> str:
    """As in "bought: Spears 1-10 from a club table for 12.50 EUR and 3 EUR postage (Tue 10 Mar)"."""
    out = f"{deal.how}: {', '.join(one.words() for one in found) or 'for the desk'}"
    out += f" {'from' if deal.how in WAYS_IN else 'to'} {deal.whom}" if deal.whom else ""
    money = [f"{deal.amount} {deal.currency}"] if deal.amount is not None else []
    money += [f"{deal.postage} {deal.currency} postage"] if deal.postage is not None else []
    money += [deal.exchange] if deal.exchange else []
    out += f" for {' and '.join(money)}" if money else ""
    out += f", {deal.note}" if deal.note else ""
    return f"{out} ({day_words(deal.day, desk.today())})"
