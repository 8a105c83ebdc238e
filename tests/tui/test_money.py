"""Points and money by keys: a deal in a line, a target, both told, taken back; and the one-line forms."""

from __future__ import annotations

import asyncio
from pathlib import Path

import pytest

from tests.desks import a_desk
from tests.tui.driving import a_small_log, opened
from tracker.domain.problems import Problem
from tracker.report.screens.deal_line import SaidDeal, read_deal_line
from tracker.report.screens.money_page import read_target
from tracker.workbench.units_plan import set_plan


def test_a_deal_and_a_target_are_said_told_and_taken_back(tmp_path: Path) -> None:
    desk = a_small_log(tmp_path)
    set_plan(desk, "Spears", {"points": 120.0})

    async def drive() -> None:
        async with opened(desk) as it:
            await it.press("P")
            assert it.screen == "money"
            assert "planned 120 points, built 0, table-ready 0" in it.text
            assert "The list has no target. t sets one." in it.text
            assert "No money is noted yet. n notes what came in" in it.text
            await it.press("n")
            await it.paste("bought Spears 12.50 EUR from a club table")
            await it.press("enter")
            assert it.below.startswith("Stored: deal 1, bought: Spears 1-20 from a club table for 12.50 EUR")
            assert "0.62 EUR" in it.text  # 12.50 / 20 = 0.625, half to even
            await it.press("t")
            await it.paste("100")
            await it.press("enter")
            assert "Reached between " in " ".join(it.text.split())
            assert max(map(len, it.shown())) <= 80
            await it.press("home", "enter")
            await it.paste("many")
            await it.press("enter")
            assert it.below.startswith('"many" is no number of points.')
            await it.press("t")
            await it.paste("none")
            await it.press("enter")
            assert it.below.startswith("Stored: no target for the list of My army any more.")
            await it.press("n")
            await it.paste("Spears")
            await it.press("enter")
            assert it.below.startswith("It has to begin with how it came or went.")
            await it.press("u")
            assert it.below.startswith("Taken back: ")

    asyncio.run(drive())


def test_with_nothing_on_the_desk_the_page_says_what_to_do(tmp_path: Path) -> None:
    async def drive() -> None:
        async with opened(a_desk(tmp_path), size=(60, 16)) as it:
            await it.press("P")
            assert it.text.startswith("Nothing is on the desk yet.")
            assert "n notes what came in or went out" in " ".join(it.text.split())

    asyncio.run(drive())


@pytest.mark.parametrize(
    ("line", "said"),
    [
        (
            "bought Spears 12.50 EUR from a club table",
            SaidDeal("bought", "Spears", cost="12.50 EUR", whom="a club table"),
        ),
        (
            "bought Old Spears 1-10, 12 for EUR 12,50 and 3 EUR postage",
            SaidDeal("bought", "Old Spears", "1-10, 12", cost="EUR 12,50", postage="3 EUR"),
        ),
        ("bought 9 EUR: two brushes", SaidDeal("bought", cost="9 EUR", note="two brushes")),
        (
            "Swapped away spares 3-7 for two captains to Ben",
            SaidDeal("swapped away", spares="3-7", exchange="two captains", whom="Ben"),
        ),
        ("sold Spears all 4 EUR", SaidDeal("sold", "Spears", "all", cost="4 EUR")),
        ("gifted Riders", SaidDeal("gifted", "Riders")),
        ("found postage 2 EUR spare 4", SaidDeal("found", spares="4", postage="2 EUR")),
    ],
)
def test_a_deal_is_read_from_one_line(line: str, said: SaidDeal) -> None:
    assert read_deal_line(line) == said


@pytest.mark.parametrize("line", ["", "Spears 12 EUR", "boughtSpears"])
def test_a_line_that_is_no_deal_is_one_problem(line: str) -> None:
    assert isinstance(read_deal_line(line), Problem)


def test_a_target_is_read() -> None:
    assert read_target("1000 points") == 1000
    assert read_target("None") is None
    assert isinstance(read_target("1e9"), Problem)
