"""Spares and roles by keys: brought in, filtered, matched, filled as a stand-in, freed."""

from __future__ import annotations

import asyncio
from pathlib import Path

import pytest

from tests.tui.driving import a_small_log, opened
from tracker.domain.problems import Problem
from tracker.report.screens.roles_page import SaidRole, read_new_role
from tracker.report.screens.spares_page import SaidSpares, read_new_spares
from tracker.workbench.roles import roles_answer
from tracker.workbench.units_shape import spares


def test_spares_come_in_and_fill_a_role(tmp_path: Path) -> None:
    desk = a_small_log(tmp_path)

    async def drive() -> None:
        async with opened(desk) as it:
            await it.press("S", "n")
            await it.paste("12 spearman, 20x20, 28 mm, primed, in drawer 2, spear, shield")
            await it.press("enter")
            assert it.below.startswith("Stored: 12 spares 1-12 (spearman).")
            await it.press("n")
            await it.paste("1 old captain of the hill watch, 25 round, on the top shelf, sword")
            await it.press("enter")
            assert any("spearman         20x20" in line for line in it.shown())
            assert max(map(len, it.shown())) <= 80
            await it.press("slash")
            await it.paste("shelf")
            await it.press("enter")
            assert "1 with shelf." in it.text
            assert "spearman" not in it.text
            await it.press("m")
            assert it.text.startswith("No role is planned.")
            await it.press("n")
            await it.paste("Spears: captain, 25x25, sword")
            await it.press("enter")
            assert "captain in Spears (25x25, sword):" in it.text
            await it.press("home", "down", "s")
            assert it.below.startswith("Stored: spare 13 (old captain of the hill watch) fills captain")
            assert "captain in Spears: model 21 old captain of the hill watch (stand-in)" in it.text
            await it.press("f")
            assert it.below.startswith("Stored: the role captain in Spears is open, its model is spare 13")
            await it.press("X")
            assert it.text.startswith("No role is planned.")

    asyncio.run(drive())
    assert len(spares(desk)) == 13
    assert roles_answer(desk).roles == ()


def test_spares_are_read_from_one_line() -> None:
    assert read_new_spares("12 spearman, 20x20,28,5 mm,primed") == SaidSpares(
        12, "spearman", base="20x20", height_mm=28.5, state="primed"
    )
    assert read_new_spares("3 Cavalry, Metal, 25x50, 46.5 mm, kept in box 1, lance") == SaidSpares(
        3, "", "cavalry", "25x50", 46.5, "metal", "", "box 1", ("lance",)
    )
    assert read_new_spares("2") == SaidSpares(2)
    for wrong in ("", "spearman", ", 3"):
        assert isinstance(read_new_spares(wrong), Problem)


def test_a_role_is_read_from_one_line() -> None:
    assert read_new_role("Spears: banner bearer, 20x20, banner") == SaidRole(
        "Spears", "banner bearer", base="20x20", tags=("banner",)
    )
    assert read_new_role("Spears: 4 spearman, 28 mm") == SaidRole("Spears", "spearman", 4, height_mm=28.0)


@pytest.mark.parametrize("said", ["", "Spears", "Spears:", ": captain", "Spears: 4"])
def test_a_role_that_cannot_be_is_one_problem(said: str) -> None:
    assert isinstance(read_new_role(said), Problem)
