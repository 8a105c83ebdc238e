"""Recipes by keys: written, filtered, opened, changed, copied, used, and a paint that is out."""

from __future__ import annotations

import asyncio
from pathlib import Path

import pytest
from rich.color import Color

from tests.tui.driving import Driver, a_small_log, opened
from tracker.report.screens.recipes_page import SaidUser, read_key, read_out, read_user
from tracker.tui.actions import ACTIONS, HELP
from tracker.workbench.paints import list_paints
from tracker.workbench.recipes import add_recipe, change_recipe
from tracker.workbench.recipes_known import show_recipe, show_unit
from tracker.workbench.recipes_steps import StepWish, set_step
from tracker.workbench.recipes_used import use_recipe


async def answer(it: Driver, *texts: str) -> None:
    """Answer one question after the other."""
    for text in texts:
        await it.press("ctrl+u", "ctrl+k")
        await it.paste(text)
        await it.press("enter")


def test_a_recipe_is_written_changed_copied_and_used(tmp_path: Path) -> None:
    desk = a_small_log(tmp_path)

    async def drive() -> None:
        async with opened(desk) as it:
            await it.press("C")
            assert it.screen == "recipes"
            assert it.text.startswith("No recipe is written down. n writes one")
            await it.press("n")
            await answer(it, "Red cloaks", "cloth: dark red, wash; trim: gold?")
            assert it.below == 'Stored: the recipe "Red cloaks", 3 steps.'
            await it.press("n")
            await answer(it, "Bone", "skin")
            assert it.below.startswith('"skin" names no area. Write it like')
            await it.press("enter")
            assert it.screen == "recipe"
            assert it.text.startswith("Red cloaks, version 1, 10 Mar 2026")
            await it.press("c")
            assert it.entry == "cloth: dark red, wash"
            await answer(it, "cloth: dark red, wash, orange edge")
            assert "Red cloaks, version 2 of 2" in it.text
            await it.press("v", "c")
            assert it.text.startswith("Red cloaks, version 1 of 2")
            assert it.below.startswith("Version 1 stays as it is.")
            await it.press("g")
            await answer(it, "spears")
            assert it.below == 'Stored: Spears is painted with "Red cloaks" version 1.'
            await it.press("w", "home", "o")
            assert it.entry == "dark red"
            await answer(it, "dark red = mid red")
            assert "Out: dark red; mid red since." in it.text
            await it.press("y")
            await answer(it, "Blue cloaks", "cloth: dark blue")
            await it.press("escape")
            assert [line.split("  ")[0] for line in it.text.splitlines()] == ["Blue cloaks", "Red cloaks"]

    asyncio.run(drive())
    assert show_unit(desk, "Spears").looks[0].version.number == 1
    assert [paint.name for paint in list_paints(desk).paints if paint.out_on] == ["dark red"]
    assert show_recipe(desk, "Blue cloaks").like == ("Red cloaks", 2)


def test_the_list_is_filtered_as_one_types_and_a_unit_has_its_own(tmp_path: Path) -> None:
    desk = a_small_log(tmp_path)
    add_recipe(desk, "Red cloaks", "cloth: dark red")
    add_recipe(desk, "Army rims", "rim: dark brown")
    use_recipe(desk, "Army rims", army="My army")
    use_recipe(desk, "Red cloaks", unit="Spears")
    change_recipe(desk, "Red cloaks", "cloth: bright red")

    async def drive() -> None:
        async with opened(desk) as it:
            await it.press("C", "slash")
            await it.type("bro")
            assert it.text.startswith('With "bro": 1 of 2\n\nArmy rims')
            await it.press("enter", "a", "down", "enter", "c")
            assert it.text.startswith("Spears: painted with\n\nRed cloaks")
            await it.press("enter")
            assert it.text.startswith("Red cloaks, version 1 of 2")
            assert "dark red" in it.text
            await it.press("escape", "C")
            assert it.text.startswith("Army rims ")
            await it.press("a", "down", "down", "enter", "c")
            assert "Army rims" in it.text

    asyncio.run(drive())


def test_a_swatch_has_its_colour_and_a_recipe_fits_one_screen(tmp_path: Path) -> None:
    desk = a_small_log(tmp_path)
    hostile = "[bold red]x[/]\x1b[31m"
    add_recipe(
        desk, hostile, "; ".join(f"{area}: one, two wash, three edge" for area in ("a", "b", "c", "d"))
    )
    set_step(
        desk, hostile, StepWish(swatch="#7a1f1f", tool="big brush", paint=hostile, reminder="thin"), of=1
    )

    async def drive() -> None:
        async with opened(desk) as it:
            await it.press("C", "enter", "down")
            assert all(len(line) <= 80 for line in it.shown())
            assert sum("three" in line for line in it.shown()) == 4
            page = it.app.page
            assert page is not None
            line = next(i for i, one in enumerate(page.rows.lines) if "#7a1f1f" in one.text)
            (block,) = [one for one in page.rows.render_line(line) if one.text == "██"]
            assert block.style is not None
            assert block.style.color == Color.parse("#7a1f1f")
            assert "[bold red]x[/]\\x1b[31m" in "".join(it.shown())
            await it.pilot.resize_terminal(60, 24)
            await it.settle()
            assert any(text.rstrip().endswith("██ #7a1f1f") for text in it.shown())

    asyncio.run(drive())


@pytest.mark.parametrize("page", ["recipes", "recipe"])
def test_no_key_does_two_things(page: str) -> None:
    own = [key for action in ACTIONS if page in action.where for key in action.keys.split(",") if key]
    everywhere = {key for action in (*ACTIONS, HELP) if not action.where for key in action.keys.split(",")}
    assert len(own) == len(set(own))
    assert everywhere.isdisjoint(own)


def test_what_is_said_in_a_line() -> None:
    assert read_out("dark red = mid red") == ("dark red", "mid red")
    assert read_out(" dark red ") == ("dark red", "")
    assert read_user("army My army") == SaidUser(army="My army")
    assert read_user("Host: Spears") == SaidUser("Host: Spears")
    assert read_key("2:a:b") == ("a:b", 2)
