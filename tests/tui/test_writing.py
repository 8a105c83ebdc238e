"""Writing an evening down by keys: what is offered, understood, turned, stored, and kept half typed."""

from __future__ import annotations

import asyncio
from datetime import timedelta
from pathlib import Path

from tests.desks import NOW
from tests.tui.driving import a_small_log, opened
from tracker.workbench.drafts import draft, save_draft
from tracker.workbench.past import would_undo

KEYS_MOST = 12
"""For tonight's usual line from the opened program."""


def test_the_usual_line_takes_few_keys(tmp_path: Path) -> None:
    async def drive() -> None:
        desk = a_small_log(tmp_path)
        async with opened(desk) as it:
            keys = ["e", "4", "5", "enter"]
            await it.press(*keys)
            assert len(keys) <= KEYS_MOST
            assert it.below.startswith("Logged: cleaning, 4 of 20 Spears, 45 min (Tue 10 Mar).")
        last = desk.records().lines[-1]
        assert (last.step, last.models, last.minutes) == ("cleaning", 4, 45.0)

    asyncio.run(drive())


def test_a_daily_backup_that_fails_is_told_beside_what_was_stored(tmp_path: Path) -> None:
    async def drive() -> None:
        desk = a_small_log(tmp_path)
        Path(desk.path).with_name(f"{Path(desk.path).stem}-backups").touch()
        next_day = desk._replace(now=lambda: NOW + timedelta(days=1))
        async with opened(next_day) as it:
            await it.press("e", "4", "5", "enter")
            assert it.below.startswith("Logged: cleaning, 4 of 20 Spears")
            assert "backup cannot be made" in it.below
        assert len(desk.records().lines) == 4

    asyncio.run(drive())


def test_it_is_shown_as_understood_before_it_is_stored(tmp_path: Path) -> None:
    async def drive() -> None:
        desk = a_small_log(tmp_path)
        async with opened(desk) as it:
            await it.press("e")
            await it.type("cleaned 2 spaers, 20 min")
            assert it.below.startswith("cleaning, 2 of 20 Spears (15-16), 20 min")
            assert len(desk.records().lines) == 3
            await it.press("enter")
            assert len(desk.records().lines) == 4
            assert it.entry == ""
            assert it.app.page is not None
            assert it.app.page.rows.has_focus

    asyncio.run(drive())


def test_arrows_turn_to_another_step_and_tab_to_another_unit(tmp_path: Path) -> None:
    async def drive() -> None:
        desk = a_small_log(tmp_path)
        async with opened(desk) as it:
            await it.press("e", "9", "down")
            assert it.below.startswith("assembly,")
            await it.press("up", "tab")
            assert it.below.startswith("cleaning, 4 of 5 Riders")
            await it.press("enter")
        units = {unit.id: unit.name for unit in desk.records().units}
        assert units[desk.records().lines[-1].unit_id] == "Riders"

    asyncio.run(drive())


def test_what_cannot_be_is_said_and_nothing_is_stored_or_lost(tmp_path: Path) -> None:
    async def drive() -> None:
        desk = a_small_log(tmp_path)
        async with opened(desk) as it:
            await it.press("e")
            await it.paste("cleaned 99 spears, 20 min")
            await it.press("enter")
            assert "99 models said" in it.below
            assert it.entry == "cleaned 99 spears, 20 min"
        assert len(desk.records().lines) == 3

    asyncio.run(drive())


def test_what_is_half_typed_is_there_next_time(tmp_path: Path) -> None:
    async def drive() -> None:
        desk = a_small_log(tmp_path)
        async with opened(desk) as it:
            await it.press("e")
            await it.type("cleaned 3 sp")
            assert draft(desk) == "cleaned 3 sp"
        async with opened(desk) as it:
            assert it.entry == "cleaned 3 sp"
            await it.press("e", "escape")
            assert it.below == "Kept for later."

    asyncio.run(drive())


def test_an_offered_line_is_no_draft_until_something_is_typed(tmp_path: Path) -> None:
    async def drive() -> None:
        desk = a_small_log(tmp_path)
        async with opened(desk) as it:
            await it.press("e")
            assert it.entry == "cleaning 4 Spears,  min"
            assert draft(desk) == ""
            await it.press("escape")
            assert (it.entry, it.below) == ("", "")
            await it.press("e", "5")
            assert draft(desk) == "cleaning 4 Spears, 5 min"

    asyncio.run(drive())


def test_it_is_gone_once_it_is_stored(tmp_path: Path) -> None:
    async def drive() -> None:
        desk = a_small_log(tmp_path)
        save_draft(desk, "cleaned 3 spears, 30 min")
        async with opened(desk) as it:
            await it.press("e", "enter")
            assert it.below.startswith("Logged: cleaning, 3 of 20 Spears")
        assert draft(desk) == ""

    asyncio.run(drive())


def test_undo_says_what_it_takes_back_and_redo_brings_it_back(tmp_path: Path) -> None:
    async def drive() -> None:
        desk = a_small_log(tmp_path)
        async with opened(desk) as it:
            await it.press("u")
            assert it.below.startswith("Taken back: log: cleaning, 4 of 20 Spears, 40 min (Mon 9 Mar).")
            assert len(desk.records().lines) == 2
            await it.press("U")
            assert it.below.startswith("Brought back: log: cleaning, 4 of 20 Spears")
        assert len(desk.records().lines) == 3

    asyncio.run(drive())


def test_a_change_of_another_day_is_shown_before_it_is_taken_back(tmp_path: Path) -> None:
    async def drive() -> None:
        old = a_small_log(tmp_path)
        later = old._replace(now=lambda: old.now().replace(day=20))
        async with opened(later) as it:
            await it.press("u")
            assert it.below.startswith("Would be taken back: log:")
            assert len(old.records().lines) == 3
            await it.press("u")
            assert it.below.startswith("Taken back: log:")
        assert len(old.records().lines) == 2

    asyncio.run(drive())


def test_an_empty_log_has_nothing_to_take_back(tmp_path: Path) -> None:
    async def drive() -> None:
        desk = a_small_log(tmp_path)
        while would_undo(desk):
            async with opened(desk) as it:
                await it.press("u")
        async with opened(desk) as it:
            await it.press("u")
            assert it.below == "There is nothing to take back."

    asyncio.run(drive())


def test_markup_and_signs_in_a_name_are_only_letters(tmp_path: Path) -> None:
    async def drive() -> None:
        desk = a_small_log(tmp_path)
        async with opened(desk, (140, 40)) as it:
            await it.press("a", "n")
            await it.paste("3 [red]Owls[/red]")
            await it.press("enter")
            assert "[red]Owls[/red]" in it.text
            assert any("[red]Owls" in line for line in it.shown())

    asyncio.run(drive())
