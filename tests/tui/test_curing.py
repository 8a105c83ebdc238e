"""What cures and what can hurt, by keys: timers begun and ended, a step dry, cautions one key away."""

from __future__ import annotations

import asyncio
from datetime import date
from pathlib import Path

from tests.tui.driving import a_small_log, opened
from tracker.report.screens.curing_page import SaidCure, read_cure
from tracker.workbench.lines import Entry, log_line


def test_timers_and_steps_by_keys(tmp_path: Path) -> None:
    desk = a_small_log(tmp_path)
    log_line(desk, Entry("Riders", "varnish", models=2, day=date(2026, 3, 10)))

    async def drive() -> None:
        async with opened(desk) as it:
            await it.press("c")
            assert it.screen == "curing"
            assert it.text.startswith("varnish, 2 of Riders: usually Wed 02:00, latest Wed 22:00")
            await it.press("n")
            await it.paste("putty on the captain, 4-16-24")
            await it.press("enter")
            assert it.below.startswith("Stored: timer for putty on the captain since 21:30")
            assert "putty on the captain: usually Wed 13:30" in it.text
            await it.press("n")
            await it.paste("mystery")
            await it.press("enter")
            assert it.below.startswith("Nobody here knows how long")
            await it.press("home", "w")
            await it.paste("8")
            await it.press("enter")
            assert it.below == "Stored: your wait after varnish: 8 h."
            assert "varnish, 2 of Riders: dry Wed 06:00" in it.text
            await it.press("home", "x", "enter")
            assert it.below == "Stored: varnish on 2 models of Riders is dry since 21:30."
            assert "varnish" not in it.text
            await it.press("escape")
            assert "putty on the captain" in it.text  # tonight tells it

    asyncio.run(drive())


def test_cautions_are_one_key_away_and_come_up_with_what_is_new(tmp_path: Path) -> None:
    desk = a_small_log(tmp_path)

    async def drive() -> None:
        async with opened(desk) as it:
            await it.press("e", *["backspace"] * 60)
            await it.paste("assembled 2 spears")
            await it.press("enter")
            assert "Care: Super glue bonds skin" in it.below
            shown = " ".join(" ".join(it.shown()).split())
            assert "and follow local rules." in shown  # the whole of it is to be seen
            await it.press("exclamation_mark")
            assert it.screen == "cautions"
            assert "To mind with Spears:" in it.text
            await it.press("escape", "G", "exclamation_mark")
            assert "Melting metal" in it.text

    asyncio.run(drive())


def test_a_timer_is_read_from_one_line() -> None:
    assert read_cure("clay") == SaidCure("clay")
    assert read_cure("clay, 12-24-48") == SaidCure("clay", "12-24-48")
    assert read_cure("water effect, 36 h") == SaidCure("water effect", "36")
    assert read_cure("glue, the captain") == SaidCure("glue, the captain")
