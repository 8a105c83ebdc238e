"""`lastcoat serve` in a real Chromium: an evening is logged, and nobody else is asked anything."""

from __future__ import annotations

import asyncio
from pathlib import Path

from tests.browser import browser
from tests.cli.serve.serving import FIRST_SCREEN, a_log, comes, program
from tracker.cli.serve.door import NO_KEY, OTHER_NAME, SPENT


def test_a_line_of_an_evening_in_a_browser(tmp_path: Path) -> None:
    desk = a_log(tmp_path)

    async def evening() -> None:
        async with program(tmp_path) as (_, address), browser(tmp_path / "profile") as new_tab:
            page, base = await new_tab(), address.partition("?")[0]
            await page.window(1280, 800, is_tablet=True)
            assert await page.open(address) == 200
            await page.drawn(FIRST_SCREEN)
            assert await page.shows("location.href") == base  # the key stands in it no more
            before = len(page.events)
            await page.type("e")
            await page.drawn("Esc", before)
            await page.type("glued 3 spears, 20 min")
            await page.drawn("assembly, 3 of 20 Spears", before)
            await page.type("\r")
            await page.drawn("Logged:", before)
            await comes(lambda: len(desk.records().lines) == 4)
            await page.ask("Page.reload")
            await page.drawn("You left off with assembly", before)
            assert page.hosts() == {base.split("/")[2]}
            assert page.complaints() == []

    asyncio.run(evening())
    line = desk.records().lines[-1]
    assert (line.step, line.models, line.minutes) == ("assembly", 3, 20.0)


def test_another_browser_and_another_name_are_refused(tmp_path: Path) -> None:
    a_log(tmp_path)

    async def look() -> None:
        async with program(tmp_path) as (_, address), browser(tmp_path / "profile") as new_tab:
            stranger = await new_tab()
            assert await stranger.open(address.partition("?")[0]) == 403
            assert await stranger.shows("document.body.innerText.trim()") == NO_KEY
            # Chromium resolves every name under localhost to this machine (RFC 6761, 6.3).
            other_name = await new_tab()
            assert await other_name.open(address.replace("127.0.0.1", "elsewhere.localhost")) == 403
            assert await other_name.shows("document.body.innerText.trim()") == OTHER_NAME
            first = await new_tab()
            assert await first.open(address) == 200
            second = await new_tab()
            assert await second.open(address) == 403
            assert await second.shows("document.body.innerText.trim()") == SPENT

    asyncio.run(look())


def test_a_small_tablet_held_upright_shows_eighty_columns(tmp_path: Path) -> None:
    a_log(tmp_path)

    async def look() -> None:
        async with program(tmp_path) as (_, address), browser(tmp_path / "profile") as new_tab:
            page = await new_tab()
            await page.window(600, 1000, is_tablet=True)
            assert await page.open(address) == 200
            await page.drawn(FIRST_SCREEN)
            (made,) = page.said("Network.webSocketCreated")
            assert int(made["url"].partition("width=")[2].partition("&")[0]) >= 80
            before = len(page.events)
            await page.type("q")
            await page.until(lambda: page.said("Network.webSocketClosed") or None)
            assert await page.shows("document.activeElement.innerText") == "Open again"
            await page.type("\r")
            await page.drawn(FIRST_SCREEN, before)
            assert page.complaints() == []

    asyncio.run(look())
