"""Photos by keys: added after a step, looked at in half blocks or by the terminal itself, forgotten."""

from __future__ import annotations

import asyncio
import sys
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest

from tests.pictures import as_bytes, drawn
from tests.tui.driving import Driver, a_small_log, opened
from tracker.report.screens.photos_page import SaidPhoto, read_photo
from tracker.tui.widgets.picture import TERMINAL_PICTURES, HalfBlocks, TerminalCanvas
from tracker.workbench.photos import photos


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


@pytest.fixture
def drawing_terminal(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """The optional package is loaded and found a terminal that draws pictures."""
    import_module("textual_image.widget")
    renderable = import_module("textual_image.renderable")
    monkeypatch.setattr(renderable, "Image", renderable.TGPImage)
    yield
    for name in [name for name in sys.modules if name.startswith(TERMINAL_PICTURES)]:
        del sys.modules[name]


@pytest.mark.usefixtures("drawing_terminal")
@pytest.mark.filterwarnings("ignore::DeprecationWarning")  # of the optional package
def test_a_terminal_that_can_draws_them_itself(tmp_path: Path) -> None:
    """With the optional package loaded, its widget takes the place of ours."""
    desk = a_small_log(tmp_path)
    two_pictures(tmp_path)

    async def drive() -> None:
        async with opened(desk) as it:
            await two_added(it, tmp_path)
            assert not it.app.screen.query(HalfBlocks)
            canvas: Any = it.app.screen.query_one(TerminalCanvas)
            # 120 by 60 points in a room that is wider: its shape stays (cells are taken as 10 by 20 points).
            drawn_size = canvas.image.size
            assert drawn_size.width / drawn_size.height == pytest.approx(2 * 120 / 60, rel=0.05)
            assert drawn_size.height == canvas.size.height
            canvas = canvas.image
            assert canvas.image.getvalue().startswith(b"\xff\xd8\xff")
            await it.press("X", "u")
            assert it.below.startswith("Taken back")
            Path(photos(desk).photos[0].path).write_bytes(b"damaged")
            await it.press("home")
            assert canvas.image is None
            assert it.below.startswith("The picture is damaged.")

    asyncio.run(drive())


def test_a_damaged_or_missing_file_is_said_and_nothing_else_is_drawn(tmp_path: Path) -> None:
    desk = a_small_log(tmp_path)
    two_pictures(tmp_path)

    async def drive() -> None:
        async with opened(desk) as it:
            await two_added(it, tmp_path)
            first, second = (Path(photo.path) for photo in photos(desk).photos)
            first.write_bytes(first.read_bytes()[:300])
            canvas = it.app.screen.query_one(HalfBlocks)
            assert canvas.points
            await it.press("left")
            assert not canvas.points
            assert it.below.startswith("The picture is damaged. Put it back from a backup")
            await it.press("right")
            assert canvas.points
            second.unlink()
            await it.press("escape", "V")
            assert "its file is missing" in it.text
            assert not it.app.screen.query_one(HalfBlocks).points
            await it.press("o")
            await it.paste(str(tmp_path / "none" / "out.jpg"))
            await it.press("enter")
            assert "is missing" in it.below

    asyncio.run(drive())


def test_without_colours_there_are_words_alone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The convention of NO_COLOR (no-color.org)."""
    monkeypatch.setenv("NO_COLOR", "1")
    desk = a_small_log(tmp_path)
    two_pictures(tmp_path)

    async def drive() -> None:
        async with opened(desk) as it:
            await two_added(it, tmp_path)
            assert "10 Mar 2026  Spears, after cleaning" in it.text
            assert not any("▀" in line for line in it.shown())

    asyncio.run(drive())


def test_a_file_and_a_step_are_read_from_one_line() -> None:
    assert read_photo("my spears.jpg after base colours") == SaidPhoto("my spears.jpg", "base colours")
    assert read_photo(' "a b.png" ') == SaidPhoto("a b.png")
    assert read_photo("pictures/after dark.jpg") == SaidPhoto("pictures/after dark.jpg")
