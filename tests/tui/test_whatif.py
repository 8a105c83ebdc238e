"""What if by keys: asked as a sentence on the dates, shown beside what is, never stored."""

from __future__ import annotations

import asyncio
from pathlib import Path

from tests.tui.driving import a_small_log, opened


def test_a_sentence_on_the_dates_is_played_and_nothing_is_stored(tmp_path: Path) -> None:
    desk = a_small_log(tmp_path)
    before = desk.records()

    async def drive() -> None:
        async with opened(desk) as it:
            await it.press("d", "w")
            assert it.below.startswith("What if?")
            await it.paste("one more evening a week; riders first")
            await it.press("enter")
            assert it.screen == "whatif"
            assert it.text.startswith("What if: 1 evening a week more; Riders first")
            assert "Riders" in it.text
            assert "earlier" in it.text
            assert "Nothing of it is stored." in it.text.replace("\n", " ")
            await it.press("w")
            await it.paste("without spears")
            await it.press("enter")
            assert it.screen == "whatif"
            assert it.text.startswith("What if: without Spears")
            await it.press("escape")
            assert it.screen == "dates"

    asyncio.run(drive())
    assert desk.records() == before


def test_what_is_not_understood_is_said_and_the_dates_stay(tmp_path: Path) -> None:
    async def drive() -> None:
        async with opened(a_small_log(tmp_path)) as it:
            await it.press("d", "w")
            await it.paste("without nobody")
            await it.press("enter")
            assert it.screen == "dates"
            assert it.below.startswith('There is no unit "nobody".')
            await it.press("w", "enter")
            assert it.screen == "dates"

    asyncio.run(drive())
