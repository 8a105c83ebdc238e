"""Photos by keys: added after a step, looked at in half blocks or by the terminal itself, forgotten."""

from __future__ import annotations

import asyncio
import sys
from pathlib import Path

import pytest

from tests.pictures import as_bytes, drawn
from tests.tui.driving import Driver, a_small_log, opened
from tracker.report.screens.photos_page import SaidPhoto, read_photo
from tracker.tui.screens.photos import TERMINAL_PICTURES
from tracker.tui.widgets.picture import HalfBlocks


def two_pictures(folder: Path) -> None:
    for name, width in (("a.png", 80), ("b.png", 120)):
        (folder / name).write_bytes(as_bytes("PNG", drawn(width, 60)))


async def two_added(it: Driver, folder: Path) -> None:
    await it.press("a", "down", "V")
    assert it.screen == "photos"
    assert it.text.startswith("No photo of it yet.")
    for said in (f"{folder / 'a.png'} after cleaning", f"'{folder / 'b.png'}'"):
        await it.press("n")
        await it.paste(said)
        await it.press("enter")
        assert it.below.startswith("Stored: 1 photo of Spears")


def test_photos_are_added_seen_and_forgotten(tmp_path: Path) -> None:
    desk = a_small_log(tmp_path)
    two_pictures(tmp_path)

    async def drive() -> None:
        async with opened(desk) as it:
            await two_added(it, tmp_path)
            assert "after cleaning" in it.text
            canvas = it.app.screen.query_one(HalfBlocks)
            await it.press("home")
            first = canvas.points
            assert first[0][0][0] > first[0][0][2]  # red on the left
            assert any("▀" in line for line in it.shown())
            await it.press("down")
            assert canvas.points != first
            await it.press("X")
            assert it.below.startswith("Stored: photo 2")
            await it.press("u")
            assert it.below.startswith("Taken back")
            await it.press("o")
            await it.paste(str(tmp_path / "out.jpg"))
            await it.press("enter")
            assert it.below == f"Written: {tmp_path / 'out.jpg'}"
            await it.press("n")
            await it.paste(str(tmp_path / "nothing.png"))
            await it.press("enter")
            assert "There is no such file" in it.below

    asyncio.run(drive())


@pytest.mark.filterwarnings("ignore::DeprecationWarning")  # of the optional package
def test_a_terminal_that_can_draws_them_itself(tmp_path: Path) -> None:
    """With the optional package loaded, its widget takes the place of ours."""
    pytest.importorskip("textual_image.widget")
    assert TERMINAL_PICTURES in sys.modules
    desk = a_small_log(tmp_path)
    two_pictures(tmp_path)

    async def drive() -> None:
        async with opened(desk) as it:
            await two_added(it, tmp_path)
            assert not it.app.screen.query(HalfBlocks)
            await it.press("home", "X", "u")
            assert it.below.startswith("Taken back")

    try:
        asyncio.run(drive())
    finally:
        for name in [name for name in sys.modules if name.startswith(TERMINAL_PICTURES)]:
            del sys.modules[name]


def test_a_file_and_a_step_are_read_from_one_line() -> None:
    assert read_photo("my spears.jpg after base colours") == SaidPhoto("my spears.jpg", "base colours")
    assert read_photo(' "a b.png" ') == SaidPhoto("a b.png")
    assert read_photo("pictures/after dark.jpg") == SaidPhoto("pictures/after dark.jpg")
