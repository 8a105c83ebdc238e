"""A unit's ranks by keys: planned, dry-fitted joint by joint, kept; measured, held, exchanged, taken back."""

from __future__ import annotations

import asyncio
from collections.abc import Awaitable, Callable
from pathlib import Path

from tests.desks import with_spears
from tests.tui.driving import Driver, opened
from tracker.domain.problems import Problem
from tracker.report.screens.ranks_page import SaidRanks, rank_rows, read_ranks_line
from tracker.workbench.desk import Desk
from tracker.workbench.ranks import ranks
from tracker.workbench.ranks_rules import RankWish, set_ranks
from tracker.workbench.ranks_say import measure


def a_row_of_three(folder: Path) -> Desk:
    """Spears of which the first two clash as they stand, by 8 mm and the margin."""
    desk = with_spears(folder, 3)
    set_ranks(desk, "Spears", RankWish(files=3, ranks=1, base="20x20", cuts_mm=()))
    for number, reach in enumerate(("-5 6 -5 -3", "-5 -3 -5 2", "-5 -6 -5 -6"), start=1):
        measure(desk, "Spears", str(number), reach)
    return desk


def drive(desk: Desk, keys: Callable[[Driver], Awaitable[None]]) -> None:
    """Open the unit's ranks from the army, and press keys."""

    async def run() -> None:
        async with opened(desk) as it:
            await it.press("a", "end", "F")
            assert it.screen == "ranks"
            await keys(it)

    asyncio.run(run())


def test_a_plan_is_made_and_kept(tmp_path: Path) -> None:
    """One key plans, one keeps."""
    desk = a_row_of_three(tmp_path)

    async def keys(it: Driver) -> None:
        assert "A1-B1: 1's right against 2's left, 9 mm" in it.text
        assert "9?" in it.shown()[4]
        await it.press("pagedown", "pageup")
        await it.press("n")
        assert "No clash" in it.text
        assert "k keeps this plan" in it.text
        await it.press("k")
        assert it.below.startswith("Stored: Spears: 3 models stand as planned.")
        await it.press("u")
        assert it.below.startswith("Taken back")

    drive(desk, keys)


def test_hands_decide_joint_by_joint(tmp_path: Path) -> None:
    """One key says it fits, another by how much not; the plan follows, and its next joint is in hand."""
    desk = with_spears(tmp_path, 2)
    set_ranks(desk, "Spears", RankWish(files=2, ranks=1, base="20x20", cuts_mm=()))
    measure(desk, "Spears", "all", "-5 4 -5 4")

    async def keys(it: Driver) -> None:
        await it.press("n")
        assert it.text.startswith("Dry-fit A1-B1: 1's right against 2's left, 9 mm.")
        await it.press("m")
        await it.paste("3")
        await it.press("enter")
        assert it.below.startswith("Stored: Spears: 1's right on 2's left clashes by 3 mm.")
        assert it.text.startswith("Dry-fit A1-B1: 2's right against 1's left, 9 mm.")
        await it.press("f")
        assert it.below.startswith("Stored: Spears: 2's right on 1's left fits.")
        assert "No clash" in it.text

    drive(desk, keys)
    assert ranks(desk, "Spears").checks == 2


def test_another_joint_may_come_first(tmp_path: Path) -> None:
    """The key j passes one over."""
    desk = with_spears(tmp_path, 4)
    set_ranks(desk, "Spears", RankWish(files=4, ranks=1, base="20x20", cuts_mm=()))
    measure(desk, "Spears", "all", "-5 4 -5 4")

    async def keys(it: Driver) -> None:
        await it.press("n")
        first = it.text.splitlines()[0]
        await it.press("j")
        assert it.text.startswith("Dry-fit ")
        assert it.text.splitlines()[0] != first

    drive(desk, keys)


def test_models_are_measured_held_and_turned(tmp_path: Path) -> None:
    """The reach that is known stands in the line already."""
    desk = a_row_of_three(tmp_path)

    async def keys(it: Driver) -> None:
        await it.press("r")
        assert it.entry == "-5 6 -5 -3"
        await it.press("escape", "right", "h")
        await it.paste("C1")
        await it.press("enter")
        assert it.below.startswith("Stored: Spears 2: keeps C1.")
        assert "keeps its place (*)" in it.text
        await it.press("o")
        await it.paste("any")
        await it.press("enter")
        assert it.below.startswith("Stored: Spears 2: turns any.")
        await it.press("h", "enter")
        assert "free to go anywhere" in it.below
        await it.press("r")
        await it.paste(" and a bit")
        await it.press("enter")
        assert "is not four edges" in it.below

    drive(desk, keys)


def test_two_models_change_places(tmp_path: Path) -> None:
    """The key x marks one, and again on another place."""
    desk = a_row_of_three(tmp_path)

    async def keys(it: Driver) -> None:
        await it.press("x", "right", "right", "x")
        assert it.below.startswith("Stored: Spears 1: stands at C1.")
        await it.press("x", "x")

    drive(desk, keys)
    assert [one.model_id for one in ranks(desk, "Spears").placed] == [3, 2, 1]


def test_a_filler_comes_and_goes(tmp_path: Path) -> None:
    """And sizes are shown below."""
    desk = with_spears(tmp_path, 8)
    set_ranks(desk, "Spears", RankWish(files=4, ranks=2, base="20x20"))

    async def keys(it: Driver) -> None:
        assert "Hold a ruler" in it.text
        await it.press("plus")
        await it.paste("40x40")
        await it.press("enter")
        assert "filler of 40x40 takes A1 to B2, 4 models became spares" in it.below
        assert "A1: filler" in it.text
        await it.press("z")
        assert "Tray inside" in it.text
        await it.press("z")
        assert "Tray inside" not in it.text
        await it.press("X")
        assert "the filler at A1 is gone" in it.below
        await it.press("right", "X")
        assert "o larger base takes B1. There is none in this unit" in it.below

    drive(desk, keys)


def test_a_unit_without_files_and_ranks_is_asked_for_them(tmp_path: Path) -> None:
    """In one line."""
    desk = with_spears(tmp_path, 8)

    async def keys(it: Driver) -> None:
        assert "has no files and ranks" in it.text + it.below or it.entry == ""
        await it.paste("4x2 20x20")
        await it.press("enter")
        assert it.below.startswith("Stored: Spears: files 4, ranks 2, base 20x20.")
        assert "A1: model 1" in it.text
        await it.press("s")
        await it.paste("wide")
        await it.press("enter")
        assert "is not read" in it.below

    drive(desk, keys)


def test_the_unit_is_reached_from_its_sheet_and_left_again(tmp_path: Path) -> None:
    """Back is back."""

    async def run() -> None:
        async with opened(a_row_of_three(tmp_path)) as it:
            await it.press("a", "end", "enter", "F")
            assert it.screen == "ranks"
            await it.press("escape")
            assert it.screen == "unit"

    asyncio.run(run())


def test_a_wide_unit_moves_sideways_with_the_cursor(tmp_path: Path) -> None:
    """Twenty files do not fit into 80 columns; the last is seen when the cursor is there."""
    desk = with_spears(tmp_path, 40)
    set_ranks(desk, "Spears", RankWish(files=20, ranks=2, base="20x20"))

    async def keys(it: Driver) -> None:
        assert "20 ↑" not in it.shown()[4]
        await it.press("end")
        assert "20 ↑" in it.shown()[4]
        assert "T1: model 20" in it.text
        await it.press("home")
        assert "A1: model 1" in it.text

    drive(desk, keys)


def test_what_is_drawn_is_no_wider_than_the_screen(tmp_path: Path) -> None:
    """Places shrink to the room there is."""
    answer = ranks(a_row_of_three(tmp_path), "Spears")
    assert rank_rows(answer, 40).pitch < rank_rows(answer, 80).pitch


def test_files_and_ranks_are_read_from_one_line() -> None:
    """With and without the base."""
    assert read_ranks_line("5x4 20x20") == SaidRanks(5, 4, "20x20")
    assert read_ranks_line(" 5 × 4 ") == SaidRanks(5, 4, None)
    assert read_ranks_line("5x4 on 32 round") == SaidRanks(5, 4, "32 round")
    assert isinstance(read_ranks_line("five by four"), Problem)
