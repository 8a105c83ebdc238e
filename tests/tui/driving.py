"""Driving the screens by keys: a desk with a small log, and a driver that waits for every worker."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from datetime import date
from pathlib import Path
from typing import Any

from textual.events import Paste
from textual.pilot import Pilot

from tests.desks import a_desk
from tracker.domain.rows import RosterRow
from tracker.tui.app import Lastcoat
from tracker.workbench.adding import add_unit
from tracker.workbench.desk import Desk
from tracker.workbench.lines import Entry, log_line

ADDED = date(2026, 2, 1)
SIZE = (80, 24)
_KEYS = {" ": "space", ",": "comma"}


def a_small_log(folder: Path) -> Desk:
    """Twenty spears, begun, and five riders with a goal."""
    desk = a_desk(folder)
    add_unit(desk, RosterRow("Spears", 20, added=ADDED))
    add_unit(
        desk, RosterRow("Riders", 5, kind="cavalry", added=ADDED, goal_date=date(2026, 6, 1), goal="club day")
    )
    for day, models, minutes in ((3, 5, 50.0), (4, 5, 45.0), (9, 4, 40.0)):
        log_line(desk, Entry("Spears", "cleaning", models=models, minutes=minutes, day=date(2026, 3, day)))
    return desk


class Driver:
    """A program that is driven by keys."""

    def __init__(self, app: Lastcoat, pilot: Pilot[Any]) -> None:
        self.app = app
        self.pilot = pilot

    async def settle(self) -> None:
        """Until no worker is at work and nothing is left to be drawn."""
        for _ in range(3):
            await self.app.workers.wait_for_complete()
            await self.pilot.pause()

    async def press(self, *keys: str) -> None:
        """Press keys one after the other, each as a person would: after what it did is seen."""
        for key in keys:
            await self.pilot.press(key)
        await self.settle()

    async def type(self, text: str) -> None:
        """Type a text, key by key."""
        await self.pilot.press(*(_KEYS.get(sign, sign) for sign in text))
        await self.settle()

    async def paste(self, text: str) -> None:
        """Put a text in at once, as a terminal pastes it."""
        assert self.app.page is not None
        self.app.page.entry.line.post_message(Paste(text))
        await self.settle()

    @property
    def text(self) -> str:
        """What stands on the page of lines."""
        page = self.app.page
        return "\n".join(line.text for line in page.rows.lines) if page else ""

    @property
    def below(self) -> str:
        """What stands under the entry line."""
        from textual.widgets import Static

        page = self.app.page
        return str(page.entry.query_one("#below", Static).content) if page else ""

    @property
    def entry(self) -> str:
        """What stands in the entry line."""
        page = self.app.page
        return page.entry.line.value if page else ""

    @property
    def screen(self) -> str:
        """The name of the screen that is shown."""
        page = self.app.page
        return page.PAGE if page else ""

    def shown(self) -> list[str]:
        """The lines of the terminal as they are drawn."""
        strips = self.app.screen._compositor.render_strips()
        return ["".join(segment.text for segment in strip).rstrip() for strip in strips]


@asynccontextmanager
async def opened(desk: Desk, size: tuple[int, int] = SIZE, **more: Any) -> AsyncIterator[Driver]:
    """The program, opened and at rest."""
    app = Lastcoat(desk, **more)
    async with app.run_test(size=size) as pilot:
        driver = Driver(app, pilot)
        await driver.settle()
        yield driver
