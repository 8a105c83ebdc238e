"""The pages by keys: tonight with a time, the army, the dates, the backlog, the pace."""

from __future__ import annotations

import asyncio
from datetime import date
from pathlib import Path

import pytest

from tests.tui.driving import a_small_log, opened
from tracker.tui.messages import Stored
from tracker.workbench.answers import forecast


def test_tonight_tells_where_it_was_left_off_and_what_is_ready(tmp_path: Path) -> None:
    async def drive() -> None:
        async with opened(a_small_log(tmp_path)) as it:
            assert it.text.startswith("You left off with cleaning on Spears, Mon 9 Mar; 6 models to go.")
            assert "You can take up" in it.text
            assert "Next goal: Riders by 1 Jun 2026 (club day)." in it.text
            await it.press("down", "enter")
            assert it.entry == "assembly 14 Spears,  min"

    asyncio.run(drive())


def test_a_time_shows_what_can_be_finished_in_it(tmp_path: Path) -> None:
    async def drive() -> None:
        async with opened(a_small_log(tmp_path)) as it:
            await it.press("m", "4", "5", "enter")
            assert it.text.splitlines()[2] == "You can finish in 45 min"
            assert " in 100" in it.text
            await it.press("m", "enter")
            assert "You can finish" not in it.text
            await it.press("m")
            await it.paste("soon")
            await it.press("enter")
            assert it.below.startswith("0 minutes cannot be.")

    asyncio.run(drive())


def test_every_page_is_one_key_away_and_escape_leads_back(tmp_path: Path) -> None:
    async def drive() -> None:
        async with opened(a_small_log(tmp_path)) as it:
            for key, page in (
                ("a", "army"),
                ("d", "dates"),
                ("b", "backlog"),
                ("p", "pace"),
                ("t", "tonight"),
            ):
                await it.press(key)
                assert it.screen == page
            await it.press("a", "question_mark")
            assert it.screen == "help"
            await it.press("escape")
            assert it.screen == "army"
            await it.press("escape")
            assert it.screen == "tonight"
            await it.press("escape")
            assert it.screen == "tonight"

    asyncio.run(drive())


def test_the_army_sorts_filters_and_folds(tmp_path: Path) -> None:
    async def drive() -> None:
        async with opened(a_small_log(tmp_path)) as it:
            await it.press("a")
            assert it.text.index("Spears") < it.text.index("Riders")
            await it.press("s")
            assert it.text.startswith("Sorted by name")
            assert it.text.index("Riders") < it.text.index("Spears")
            await it.press("slash")
            await it.type("spe")
            await it.press("enter")
            assert "Riders" not in it.text
            assert 'only names with "spe" (1 of 2)' in it.text
            await it.press("home", "f")
            assert "▸ My army: 0 of 20 models table-ready" in it.text
            assert "Spears" not in it.text

    asyncio.run(drive())


def test_units_are_cared_for_and_every_change_is_told_and_undone(tmp_path: Path) -> None:
    async def drive() -> None:
        desk = a_small_log(tmp_path)
        async with opened(desk, (140, 40)) as it:
            messages: list[str] = []
            await it.press("a", "down")
            for key, said, names in (
                ("r", "ctrl+u Long Spears", ["Long Spears", "Riders"]),
                ("plus", "4", ["Long Spears", "Riders"]),
                ("x", "last 4 Young Spears", ["Long Spears", "Riders", "Young Spears"]),
                ("g", "2026-05-01 spring game", ["Long Spears", "Riders", "Young Spears"]),
            ):
                await it.press(key)
                if said.startswith("ctrl+u "):
                    await it.press("ctrl+u")
                await it.paste(said.removeprefix("ctrl+u "))
                await it.press("enter")
                messages.append(it.below)
                assert [unit.name for unit in desk.records().units] == names
            assert desk.records().units[0].goal_date == date(2026, 5, 1)
            assert all(message for message in messages)
            await it.press("J")
            assert it.text.index("Riders") < it.text.index("Long Spears")
            for _ in range(5):
                await it.press("u")
                assert it.below.startswith("Taken back: ")
        assert [unit.name for unit in desk.records().units] == ["Spears", "Riders"]

    asyncio.run(drive())


def test_a_unit_is_merged_and_retired(tmp_path: Path) -> None:
    async def drive() -> None:
        desk = a_small_log(tmp_path)
        async with opened(desk, (140, 40)) as it:
            await it.press("a", "down", "X")
            await it.paste("1-3 broken")
            await it.press("enter")
            assert "3 models of Spears: broken" in it.below
            await it.press("M")
            await it.paste("Riders")
            await it.press("enter")
            assert "0 of 22 models table-ready" in it.text
            await it.press("X")
            await it.paste("lost at sea")
            await it.press("enter")
            assert "is no way to leave" in it.below

    asyncio.run(drive())


@pytest.mark.usefixtures("fresh_dates")
def test_the_dates_come_from_a_worker_and_are_the_verbs_own(tmp_path: Path) -> None:
    async def drive() -> None:
        desk = a_small_log(tmp_path)
        async with opened(desk) as it:
            await it.press("d")
            assert it.text.startswith("Table-ready, as of 10 Mar 2026")
            assert "between" in it.text  # a range in words below two weeks of history, and no fan
            assert it.app.answers.fresh
            assert it.app.answers.forecast == forecast(desk)
            await it.press("enter")
            assert it.screen == "unit"

    asyncio.run(drive())


@pytest.mark.usefixtures("fresh_dates")
def test_kept_dates_show_at_once_and_the_cursor_does_not_jump(tmp_path: Path) -> None:
    async def drive() -> None:
        desk = a_small_log(tmp_path)
        forecast(desk)
        heard: list[object] = []
        async with opened(desk) as it:
            await it.press("d", "down")
            before = it.app.page.rows.key if it.app.page else ""
            it.app.post_message(Stored("something"))
            await it.settle()
            assert it.app.page is not None
            heard.append(it.app.page.rows.key)
            assert heard == [before]
            assert it.app.answers.fresh

    asyncio.run(drive())


@pytest.mark.usefixtures("fresh_dates")
def test_backlog_and_pace_show_what_the_verbs_answer(tmp_path: Path) -> None:
    async def drive() -> None:
        async with opened(a_small_log(tmp_path), (100, 50)) as it:
            await it.press("b")
            assert it.text.startswith("25 models to go: ")
            assert "Evenings of the past weeks" in it.text
            assert "a year" in it.text or "30 days" in it.text
            await it.press("p")
            assert it.text.startswith("Your pace in minutes per model, as of 10 Mar 2026")
            await it.press("r")
            assert it.text.startswith("Track record of your pace")
            await it.press("r")
            assert it.text.startswith("Your pace in minutes")

    asyncio.run(drive())
