"""The first evening: a first unit and a first line, the demo, a sheet that is there already."""

from __future__ import annotations

import asyncio
from pathlib import Path

from tests.desks import a_desk
from tests.tui.driving import opened
from tracker.workbench.desk import Desk

KEYS_MOST = 40
"""For a first unit and a first evening: well under a minute for anyone."""


def test_a_first_unit_and_a_first_evening_take_few_keys(tmp_path: Path) -> None:
    async def drive() -> None:
        desk = a_desk(tmp_path)
        async with opened(desk) as it:
            assert it.screen == "first"
            assert "Nothing is on the desk yet." in it.text
            await it.press("n")
            await it.type("20 Spears")
            await it.press("enter")
            assert it.screen == "tonight"
            assert it.below.startswith("Added: 20 models of Spears")
            await it.press("e", "4", "0", "enter")
            assert it.below.startswith("Logged: cleaning, 20 of 20 Spears, 40 min")
            assert len("n20 Spears") + len("e40") + 2 <= KEYS_MOST
        assert len(desk.records().lines) == 1

    asyncio.run(drive())


def test_kind_material_and_standard_stand_behind_commas(tmp_path: Path) -> None:
    async def drive() -> None:
        desk = a_desk(tmp_path)
        async with opened(desk) as it:
            await it.press("enter")
            await it.paste("5 Riders, cavalry, metall")
            await it.press("enter")
            assert it.below == '"metall" is no kind, material or standard. Did you mean "metal"?'
            await it.press("n")
            await it.paste("5 Riders, cavalry, metal, good")
            await it.press("enter")
        unit = desk.records().units[0]
        assert (unit.kind, unit.material, unit.standard) == ("cavalry", "metal", "good")

    asyncio.run(drive())


def test_the_demo_opens_in_a_log_of_its_own(tmp_path: Path) -> None:
    async def drive() -> None:
        desk = a_desk(tmp_path)
        async with opened(desk) as it:
            await it.press("y")
            assert it.screen == "tonight"
            assert it.app.desk.path != desk.path
            assert it.below.startswith("This is the demo")
            assert "Old Pondback" in it.text
        assert not Path(desk.path).exists()

    asyncio.run(drive())


def test_a_roster_and_an_evening_sheet_are_brought_in(tmp_path: Path) -> None:
    async def drive() -> None:
        roster, evenings = tmp_path / "roster.csv", tmp_path / "evenings.csv"
        roster.write_text("unit,models\nSpears,20\n", encoding="utf-8")
        evenings.write_text(
            "date,unit,step,models,minutes\n2026-03-01,Spears,cleaning,5,40\n", encoding="utf-8"
        )
        desk: Desk = a_desk(tmp_path)
        async with opened(desk) as it:
            await it.press("i")
            await it.paste(str(tmp_path / "nowhere.csv"))
            await it.press("enter")
            assert it.screen == "first"
            assert it.below
            await it.press("i")
            await it.paste(str(roster))
            await it.press("enter")
            assert it.below == "Stored: 1 unit new."
            await it.press("a", "i")
            await it.paste(str(evenings))
            await it.press("enter")
            assert it.below == "Stored: 1 line new."
        assert len(desk.records().lines) == 1

    asyncio.run(drive())
