"""Money: read in the ways people write it, refused where it could be two things, shared to the last coin."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tracker.domain.money import Money, plain, read_amount, read_money, shared
from tracker.domain.problems import Problem
from tracker.sheets.sources import plain_amount

AMOUNTS = st.decimals(0, 1_000_000_000, places=4)


# Currencies are three capitals (ISO 4217); that amounts stand before or behind them, with a point or a
# comma, is common practice, no source.
@pytest.mark.parametrize(
    ("text", "amount"),
    [
        ("12.50 EUR", "12.50"), ("EUR 12.50", "12.50"), ("12,50 EUR", "12.50"), (" 12.5EUR ", "12.50"),
        ("0 EUR", "0"), ("1250 EUR", "1250"), ("0.125 EUR", "0.125"), ("1.2340 EUR", "1.234"),
        ("1000000000 EUR", "1000000000"),
    ],
)  # fmt: skip
def test_money_is_read_as_people_write_it(text: str, amount: str) -> None:
    assert read_money(text) == Money(Decimal(amount), "EUR")


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("12.50", "no money with its currency"),
        ("EUR 12 EUR", "no money with its currency"),
        ("about 12 EUR", "no money"),
        ("-3 EUR", "no money"),
        ("12.50 eur", "no currency"),
        ("1,250 EUR", "two ways"),
        ("1.250 EUR", "two ways"),
        ("1,250.50 EUR", "no amount"),
        ("1.23456 EUR", "no amount"),
        ("1000000000.5 EUR", "too much"),
        ("١٢ EUR", "no money"),  # digits that are no ASCII
        ("\x1b[2J EUR", r"\x1b"),
    ],
)
def test_what_could_be_two_things_is_a_problem(text: str, says: str) -> None:
    found = read_money(text)
    assert isinstance(found, Problem)
    assert says in found.what


@given(AMOUNTS)
@settings(max_examples=40)
def test_an_amount_in_a_cell_comes_back_the_same(amount: Decimal) -> None:
    assert read_amount(plain_amount(plain(amount))) == amount


@given(AMOUNTS, st.integers(1, 500))
@settings(max_examples=40)
def test_shares_are_equal_to_a_coin_and_add_up(amount: Decimal, count: int) -> None:
    parts = shared(plain(amount), count)
    assert sum(parts) == amount
    assert max(parts) - min(parts) <= Decimal("0.01")
    assert list(parts) == sorted(parts, reverse=True)


def test_shares_by_hand() -> None:
    # 10.00 among 3: one cent is left over and goes to the first.
    assert shared(Decimal(10), 3) == (Decimal("3.34"), Decimal("3.33"), Decimal("3.33"))
