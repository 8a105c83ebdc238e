"""A unit's ranks by keys: planned, dry-fitted joint by joint, kept; measured, held, exchanged, taken back."""

from __future__ import annotations

import asyncio
from collections.abc import Awaitable, Callable
from pathlib import Path

from tests.desks import with_spears
from tests.tui.driving import Driver, opened
from tracker.domain.problems import Problem
from tracker.report.screens.ranks_page import ASK_RANKS, SaidRanks, read_ranks_line
from tracker.report.screens.ranks_rows import rank_rows
from tracker.tui.screens.ranks import Ranks
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


def lead(it: Driver) -> str:
    """What to do now, above the drawing."""
    return it.shown()[2].strip()


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
        assert "9?‹" in it.shown()[5]
        await it.press("pagedown", "pageup")
        await it.press("k")
        assert it.below.startswith("This is the order as it stands")
        await it.press("n")
        assert "No clash" in it.text
        assert "k keeps this plan" in lead(it)
        assert "the plan, not taken yet" in it.shown()[3]
        await it.press("x")
        assert it.below.startswith("Places are changed in the order as it stands")
        await it.press("k")
        assert it.below.startswith("Stored: Spears: 3 models stand as planned.")
        assert "It stands as planned." in lead(it)
        await it.press("u")
        assert it.below.startswith("Taken back")
        await it.press("U")
        assert it.below.startswith("Brought back")

    drive(desk, keys)


def test_hands_decide_joint_by_joint(tmp_path: Path) -> None:
    """One key says it fits, another by how much not; the plan follows, and its next joint is in hand."""
    desk = with_spears(tmp_path, 2)
    set_ranks(desk, "Spears", RankWish(files=2, ranks=1, base="20x20", cuts_mm=()))
    measure(desk, "Spears", "all", "-5 4 -5 4")

    async def keys(it: Driver) -> None:
        await it.press("n")
        assert lead(it) == "Dry-fit A1-B1: 1's right against 2's left, 9 mm by the ruler. f fits, m mm"
        await it.press("m")
        await it.paste("3")
        await it.press("enter")
        assert it.below.startswith("Stored: Spears: 1's right on 2's left clashes by 3 mm.")
        assert lead(it).startswith("Dry-fit A1-B1: 2's right against 1's left, 9 mm")
        await it.press("f")
        assert it.below.startswith("Stored: Spears: 2's right on 1's left fits.")
        assert "No clash" in it.text
        for key in ("f", "m"):
            await it.press(key)
            assert it.below.startswith("No joint is in hand")

    drive(desk, keys)
    assert ranks(desk, "Spears").checks == 2


def test_a_key_pressed_twice_does_not_answer_for_two_joints(tmp_path: Path) -> None:
    """While the plan is made anew no joint is in hand, and the screen says so."""
    desk = with_spears(tmp_path, 4)
    set_ranks(desk, "Spears", RankWish(files=4, ranks=1, base="20x20", cuts_mm=()))
    measure(desk, "Spears", "all", "-5 4 -5 4")

    async def keys(it: Driver) -> None:
        await it.press("n")
        page = it.app.screen
        assert isinstance(page, Ranks)
        page.action_fits()
        assert page.hand is None
        assert page.grid.rows.lead.startswith("Working it out anew")
        page.action_fits()
        await it.settle()
        assert page.hand is not None

    drive(desk, keys)
    assert ranks(desk, "Spears").checks == 1


def test_what_is_wrong_leaves_the_joint_in_hand(tmp_path: Path) -> None:
    """It can be said again."""

    async def keys(it: Driver) -> None:
        before = lead(it)
        await it.press("m")
        await it.paste("a lot")
        await it.press("enter")
        assert "nothing a dry fit can show" in it.below
        assert lead(it) == before

    drive(a_row_of_three(tmp_path), keys)


def test_without_a_ruler_any_joint_can_be_said(tmp_path: Path) -> None:
    """One key and what hands found; the plan goes around it."""
    desk = with_spears(tmp_path, 3)
    set_ranks(desk, "Spears", RankWish(files=3, ranks=1, base="20x20", cuts_mm=()))

    async def keys(it: Driver) -> None:
        await it.press("c")
        assert it.entry == "A1-B1 "
        await it.paste("3 mm")
        await it.press("enter")
        assert it.below.startswith("Stored: Spears: 1's right on 2's left clashes by 3 mm.")
        assert "3!" in it.shown()[5]
        await it.press("n")
        assert "3!" not in it.shown()[5]
        await it.press("c", "enter")
        assert "joint and what you found go together" in it.below

    drive(desk, keys)
    assert ranks(desk, "Spears").checks == 1


def test_another_joint_may_come_first(tmp_path: Path) -> None:
    """The keys j and Tab pass one over."""
    desk = with_spears(tmp_path, 4)
    set_ranks(desk, "Spears", RankWish(files=4, ranks=1, base="20x20", cuts_mm=()))
    measure(desk, "Spears", "all", "-5 4 -5 4")

    async def keys(it: Driver) -> None:
        await it.press("n")
        first = lead(it)
        await it.press("j")
        assert lead(it).startswith("Dry-fit ")
        assert lead(it) != first
        await it.press("tab")
        assert lead(it).startswith("Dry-fit ")

    drive(desk, keys)


def test_models_are_measured_held_and_turned(tmp_path: Path) -> None:
    """The reach that is known stands in the line already."""
    desk = a_row_of_three(tmp_path)

    async def keys(it: Driver) -> None:
        await it.press("r")
        assert it.entry == "-5 6 -5 -3"
        await it.press("escape", "right", "h", "enter")
        assert it.below.startswith("Stored: Spears 2: keeps B1.")
        assert "keeps its place (*)" in it.text
        await it.press("h")
        assert "free to go anywhere" in it.below
        assert "keeps its place (*)" not in it.text
        for turns in ("front", "half", "any"):
            await it.press("o")
            assert it.below.startswith(f"Stored: Spears 2: turns {turns}.")
            assert f"may turn: {turns}" in it.text
        await it.press("o")
        assert it.below.startswith("Stored: Spears 2: turns as the unit.")
        assert "may turn" not in it.text
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
        assert "1 ↑" in it.shown()[5].split("[")[1]
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
        assert it.app.page is not None
        assert it.app.page.entry.line.placeholder == ASK_RANKS
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
        assert "20 ↑" not in it.shown()[5]
        await it.press("end")
        assert "20 ↑" in it.shown()[5]
        assert "T1: model 20" in it.text
        await it.press("home")
        assert "A1: model 1" in it.text

    drive(desk, keys)


def test_three_lines_are_left_below_a_deep_unit(tmp_path: Path) -> None:
    """On the smallest screen as well; ranks scroll with the cursor."""
    desk = with_spears(tmp_path, 40)
    set_ranks(desk, "Spears", RankWish(files=4, ranks=10, base="20x20"))

    async def run() -> None:
        async with opened(desk, (60, 16)) as it:
            await it.press("a", "end", "F")
            assert it.app.page is not None
            assert it.app.page.rows.size.height >= 3
            await it.press(*["down"] * 9)
            assert any("[37" in line for line in it.shown())

    asyncio.run(run())


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
