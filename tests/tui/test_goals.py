"""Goals by keys: set in a line, told with their chance, cut, given up, taken back."""

from __future__ import annotations

import asyncio
from datetime import date
from pathlib import Path

import pytest

from tests.tui.driving import a_small_log, opened
from tracker.domain.problems import Problem
from tracker.report.screens.goals_page import SaidGoal, read_goal_line


def test_a_goal_is_set_told_and_given_up(tmp_path: Path) -> None:
    desk = a_small_log(tmp_path)

    async def drive() -> None:
        async with opened(desk) as it:
            await it.press("G")
            assert it.screen == "goals"
            assert it.text.startswith("club day, 1 Jun 2026: Riders.")  # the unit's own goal date
            await it.press("n")
            await it.paste("2026-04-15 Spring game: Spears, riders")
            await it.press("enter")
            assert it.below.startswith('Stored: goal "Spring game"')
            assert "Spring game, 15 Apr 2026: Spears, Riders." in it.text
            assert "Chance: " in it.text
            await it.press("n")
            await it.paste("Spring game")
            await it.press("enter")
            assert it.below.startswith("Its day and its name are needed.")
            await it.press("home", "enter")
            assert "Chance as it is: " in it.text
            await it.press("X")
            assert it.below.startswith("Stored: ")
            await it.press("u")
            assert it.below.startswith("Taken back")

    asyncio.run(drive())
    assert [goal.name for goal in desk.records().goals] == ["Spring game"]


def test_without_goals_the_page_says_how_to_set_one(tmp_path: Path) -> None:
    from tests.desks import with_spears

    async def drive() -> None:
        async with opened(with_spears(tmp_path)) as it:
            await it.press("G")
            assert it.text == "No goal is set. n sets one."
            await it.press("enter", "X")
            assert it.below == ""

    asyncio.run(drive())


def test_a_goal_is_read_from_one_line() -> None:
    day = date(2027, 3, 13)
    assert read_goal_line("2027-03-13 Spring game: Spears, Riders") == SaidGoal(
        "Spring game", day, ("Spears", "Riders")
    )
    assert read_goal_line("2027-03-13 Everything") == SaidGoal("Everything", day)
    assert read_goal_line("2027-03-13 Big game: 1000 points") == SaidGoal("Big game", day, points=1000)
    assert read_goal_line("2027-03-13 Half of it: 40 models") == SaidGoal("Half of it", day, models=40)


@pytest.mark.parametrize(
    "said", ["", "Spring game", "2027-03-13", "2027-02-30 x", "2027-03-13 x: 1.5 models"]
)
def test_a_goal_that_cannot_be_is_one_problem(said: str) -> None:
    assert isinstance(read_goal_line(said), Problem)
