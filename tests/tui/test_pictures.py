"""Seventeen pictures: each screen once, in two sizes, three looks and without colour."""

from __future__ import annotations

import asyncio
from datetime import datetime
from pathlib import Path
from shutil import copytree
from typing import NamedTuple

import pytest

from tests.tui.driving import opened
from tests.tui.pictures import differs
from tracker.workbench.answers import backlog, forecast, pace_answer
from tracker.workbench.demo import make_demo
from tracker.workbench.desk import Desk
from tracker.workbench.settings import Settings

NOW = datetime(2026, 10, 31, 20, 30)
"""The evening on which the demo's history ends."""
SMALL, LARGE = (80, 24), (140, 40)


class Picture(NamedTuple):
    """A picture: its name, the keys that lead there, size and look."""

    name: str
    keys: tuple[str, ...]
    size: tuple[int, int] = SMALL
    look: str = "night"
    colour: bool = True


PICTURES = (
    Picture("tonight", ()),
    Picture("tonight_large_day", (), LARGE, "day"),
    Picture("tonight_without_colour", (), colour=False),
    Picture("tonight_45_minutes", ("m", "4", "5", "enter")),
    Picture("writing", ("e", "4", "5")),
    Picture("writing_turned", ("e", "4", "5", "down", "tab")),
    Picture("lamp_lit", ("l",), look="stark"),
    Picture("army", ("a",)),
    Picture("army_large", ("a", "s", "s"), LARGE),
    Picture("unit", ("a", *["down"] * 6, "enter", "right", "right", "v", "down", "down")),
    Picture("unit_without_colour", ("a", *["down"] * 6, "enter", "right"), colour=False),
    Picture("ranks", ("a", *["down"] * 9, "F", "n")),
    Picture("ranks_large_day", ("a", *["down"] * 9, "F"), LARGE, "day"),
    Picture("dates_large", ("d",), LARGE),
    Picture("backlog_large_day", ("b",), LARGE, "day"),
    Picture("pace", ("p",)),
    Picture("help", ("question_mark",), look="day"),
)


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo's log, with its answers kept."""
    folder = tmp_path_factory.mktemp("demo")
    desk = Desk(make_demo(folder).path, now=lambda: NOW)
    forecast(desk)
    backlog(desk)
    pace_answer(desk)
    return folder


@pytest.mark.usefixtures("fresh_dates")
@pytest.mark.parametrize("wanted", PICTURES, ids=[one.name for one in PICTURES])
def test_the_screen_looks_as_it_did_when_it_was_looked_at(
    wanted: Picture, demo: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    if not wanted.colour:
        monkeypatch.setenv("NO_COLOR", "1")
    folder = copytree(demo, tmp_path / "demo")
    desk = Desk(str(folder / "demo.db"), now=lambda: NOW)

    async def drive() -> str:
        async with opened(desk, wanted.size, settings=Settings(theme=wanted.look)) as it:
            await it.press(*wanted.keys)
            return differs(it.app, wanted.name)

    assert asyncio.run(drive()) == ""


def test_an_empty_log_looks_inviting(tmp_path: Path) -> None:
    async def drive() -> str:
        async with opened(Desk(str(tmp_path / "log.db"), now=lambda: NOW)) as it:
            return differs(it.app, "first")

    assert asyncio.run(drive()) == ""
