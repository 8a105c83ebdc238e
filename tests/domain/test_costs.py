"""Costs: a small ledger counted by hand, sums that add up by currency, hours that follow the models."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

from hypothesis import given, settings
from hypothesis import strategies as st

from tracker.domain.answers_sources import CostsAnswer
from tracker.domain.costs import costs_of
from tracker.domain.deal_months import months_of
from tracker.domain.money import together
from tracker.domain.records import Army, Line, Model, Records, Session, Unit
from tracker.domain.sources import WAYS_IN, WAYS_OUT, Deal

DAY = date(2026, 3, 10)
ADDED = date(2026, 1, 5)
ROUTE = ("cleaning", "varnish")


def bench() -> Records:
    """Four spears, two riders of another army, two spares."""
    units = (
        Unit(1, 1, "Spears", added_on=ADDED, route=ROUTE),
        Unit(2, 2, "Riders", added_on=ADDED, route=ROUTE, cost="20 EUR"),
    )
    of = (1, 1, 1, 1, 2, 2, None, None)
    models = tuple(Model(i, unit, i, added_on=ADDED) for i, unit in enumerate(of, start=1))
    return Records((Army(1, "Host"), Army(2, "Guests")), units, models)


def eur(amount: str, how: str = "bought", **more: object) -> Deal:
    fields = {"id": 1, "day": DAY, **more}
    return Deal(how=how, amount=Decimal(amount), currency="EUR", **fields)  # type: ignore[arg-type]


def asked(known: Records, *deals: tuple[Deal, list[int]]) -> CostsAnswer:
    numbered = [deal._replace(id=i) for i, (deal, _) in enumerate(deals, start=1)]
    return costs_of(known, numbered, {i: models for i, (_, models) in enumerate(deals, start=1)}, DAY)


def test_a_small_ledger_by_hand() -> None:
    answer = asked(
        bench(),
        (eur("10", postage=Decimal("2.01")), [1, 2, 7]),  # 12.01 / 3 = 4.01 + 4.00 + 4.00
        (eur("5"), []),
        (eur("3", "sold", postage=Decimal("1.50")), [4]),
    )
    spears, riders = answer.units
    assert (spears.paid, spears.got) == ({"EUR": Decimal("9.51")}, {"EUR": Decimal(3)})
    assert spears.paid_models == {"EUR": 3}
    assert spears.paid_a_model == {"EUR": Decimal("3.17")}
    assert riders.paid == {"EUR": Decimal(20)}  # from its own note: no deal speaks of its models
    assert riders.paid_a_model == {"EUR": Decimal(10)}
    assert answer.spares is not None
    assert answer.spares.paid == {"EUR": Decimal(4)}
    assert answer.desk is not None
    assert answer.desk.paid == {"EUR": Decimal(5)}
    assert answer.total is not None
    assert answer.total.paid == {"EUR": Decimal("38.51")}  # 12.01 + 5 + 1.50 + 20
    assert answer.not_counted == ()


def test_a_note_of_the_cost_counts_only_where_it_can() -> None:
    known = bench()
    odd = known._replace(units=(known.units[0]._replace(cost="12 old coins"), known.units[1]))
    answer = asked(odd, (eur("1"), [5]))
    assert [(note.unit, note.why) for note in answer.not_counted] == [
        ("Spears", "unreadable"),
        ("Riders", "deal"),
    ]
    assert answer.units[1].paid == {"EUR": Decimal(1)}


def test_what_is_later_or_unknown_by_then_is_not_counted_twice() -> None:
    answer = asked(bench(), (eur("9", day=date(2026, 3, 11)), [1]), (eur("4"), [1, 99]))
    assert answer.units[0].paid == {"EUR": Decimal(4)}  # model 99 is not known yet


amounts = st.decimals(0, 10_000, places=2)
deals = st.lists(
    st.tuples(
        st.builds(
            Deal,
            id=st.just(0),
            how=st.sampled_from((*WAYS_IN, *WAYS_OUT)),
            amount=st.none() | amounts,
            currency=st.sampled_from(("EUR", "GBP", "JPY")),
            postage=st.none() | amounts,
            day=st.just(DAY),
        ),
        st.lists(st.integers(1, 8), unique=True),
    ),
    max_size=12,
)


@given(deals)
@settings(max_examples=40)
def test_units_spares_and_desk_add_up_to_all_deals_by_currency(said: list[tuple[Deal, list[int]]]) -> None:
    known = bench()._replace(units=tuple(unit._replace(cost="") for unit in bench().units))
    answer = asked(known, *said)
    rows = [*answer.units, *(row for row in (answer.spares, answer.desk) if row)]
    for currency in ("EUR", "GBP", "JPY"):
        mine = [deal for deal, _ in said if deal.currency == currency]
        went = sum((deal.amount or Decimal(0) for deal in mine if deal.how in WAYS_IN), Decimal(0))
        went += sum((deal.postage or Decimal(0) for deal in mine), Decimal(0))
        came = sum((deal.amount or Decimal(0) for deal in mine if deal.how in WAYS_OUT), Decimal(0))
        assert together(row.paid for row in rows).get(currency, 0) == went
        assert together(row.got for row in rows).get(currency, 0) == came
        assert answer.total is not None
        assert answer.total.paid.get(currency, 0) == went
    by_month = months_of(known, [deal for deal, _ in said], DAY, 12)
    assert together(month.paid for month in by_month.months) == together(row.paid for row in rows)
    assert together(month.got for month in by_month.months) == together(row.got for row in rows)


def test_hours_follow_the_models() -> None:
    # 60 minutes on models 1, 2 and 5, which is in another unit by now: 20 each. An untimed line is only told.
    lines = (
        Line(1, 1, 1, "cleaning", 3, 60.0, model_ids=(1, 2, 5)),
        Line(2, 1, 1, "varnish", 1, 10.0, model_ids=(1,)),
        Line(3, 2, 2, "cleaning", 1, None, model_ids=(6,)),
        Line(4, 1, 2, "cleaning", 0, 8.0, finished=False),  # names none: shared by both riders
    )
    known = bench()._replace(lines=lines, sessions=(Session(1, DAY), Session(2, DAY, "late")))
    spears, riders = asked(known).units
    assert (spears.minutes, spears.ready_models, spears.minutes_a_ready_model) == (50.0, 1, 30.0)
    assert (riders.minutes, riders.untimed_lines, riders.minutes_a_ready_model) == (28.0, 1, None)


def test_months_by_hand() -> None:
    known = bench()
    models = (*known.models[:7], known.models[7]._replace(left_on=date(2026, 2, 3), left_how="sold"))
    deals = [
        eur("9", day=date(2026, 1, 31)), eur("4", "sold", day=date(2026, 2, 3)),
        Deal(3, "swapped", exchange="a book", day=date(2026, 2, 28)), Deal(4, "given away", day=DAY),
        eur("7", day=date(2026, 3, 11)),
    ]  # fmt: skip
    answer = months_of(known._replace(models=models), deals, DAY, 12)
    told = [(m.first.month, m.models_in, m.models_out, m.swaps, m.gifts) for m in answer.months]
    assert told == [(3, 0, 0, 0, 1), (2, 0, 1, 1, 0), (1, 8, 0, 0, 0)]
    assert (answer.months[1].got, answer.months[2].paid) == ({"EUR": Decimal(4)}, {"EUR": Decimal(9)})
    assert len(months_of(known, deals, DAY, 2).months) == 2
