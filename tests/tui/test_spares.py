"""Spares by keys: models leave a unit, are kept, and another unit takes them."""

from __future__ import annotations

import asyncio
from pathlib import Path

from tests.tui.driving import a_small_log, opened
from tracker.domain.problems import Problem
from tracker.report.screens.spares_page import read_role
from tracker.workbench.army import army_list
from tracker.workbench.units_shape import spares


def test_marked_models_become_spares_and_another_unit_takes_them(tmp_path: Path) -> None:
    desk = a_small_log(tmp_path)

    async def drive() -> None:
        async with opened(desk) as it:
            await it.press("a", "down", "enter", "v", "down", "down", "S")
            assert it.below == "Stored: 3 models of Spears became spares."
            await it.press("escape", "S")
            assert it.screen == "spares"
            assert it.text.startswith("3 spares: kept, and no backlog until a unit takes them.")
            await it.press("enter")
            await it.paste("riders: 2-3")
            await it.press("enter")
            assert it.below == "Stored: 2 spares joined Riders."
            assert it.text.startswith("1 spare:")
            await it.press("enter")
            await it.paste("nobody")
            await it.press("enter")
            assert "nobody" in it.below
            await it.press("u")
            assert it.below.startswith("Taken back")

    asyncio.run(drive())
    assert len(spares(desk)) == 3
    assert {unit.unit: unit.models for unit in army_list(desk).units} == {"Spears": 17, "Riders": 5}


def test_no_spares_are_told_with_the_way_to_one(tmp_path: Path) -> None:
    async def drive() -> None:
        async with opened(a_small_log(tmp_path)) as it:
            await it.press("a", "S")
            assert it.text.startswith("There are no spares.")
            await it.press("enter")
            assert it.entry == ""

    asyncio.run(drive())


def test_a_role_is_read_for_one_spare_and_for_several() -> None:
    assert read_role("Watch 2", 7) == ("Watch 2", [7])
    assert read_role("Spears: 2, 5-7", 9) == ("Spears", [2, 5, 6, 7])
    for wrong in ("Spears: 0", "Spears: 5-2", "Spears: two", "Spears: 1-99999", "Spears: ²"):
        assert isinstance(read_role(wrong, 1), Problem)
    assert read_role("Spears:", 1) == ("Spears", [])
