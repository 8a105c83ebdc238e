"""The page in a real Chromium: at the width of a phone and of a desk, light and dark, and on paper."""

from __future__ import annotations

import asyncio
from collections.abc import Awaitable, Callable
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.browser import Page, browser
from tests.report import samples
from tests.report.test_page import FIGURES, answers
from tracker.report.page import page_html, parts_of
from tracker.report.plain import month_words

# (width, height) in CSS pixels: two phones, a desk; light or dark.
WINDOWS = [(360, 740, "dark"), (390, 844, "light"), (1280, 900, "light"), (1280, 900, "dark")]
TABLES_SHOWN = "document.querySelectorAll('details').forEach(one => one.open = true)"
OVERFLOWING = """[...document.querySelectorAll('main *')].filter(
    one => !one.closest('thead') && one.scrollWidth > one.clientWidth + 1 && one.clientWidth > 0
        && !one.closest('svg')).length"""
LOWEST_LETTER = """Math.min(...[...document.querySelectorAll('svg.figure text')]
    .filter(one => one.getBoundingClientRect().width > 0)
    .map(one => parseFloat(getComputedStyle(one).fontSize)
        * one.ownerSVGElement.getBoundingClientRect().width / one.ownerSVGElement.viewBox.baseVal.width))"""
SHOWN = (
    "[...document.querySelectorAll('svg.figure')].filter(one => one.getBoundingClientRect().width > 0).length"
)


def in_a_browser(folder: Path, html: str, look: Callable[[Page, str], Awaitable[None]]) -> None:
    """Write the page, open a browser and look at it."""
    file = folder / "page.html"
    file.write_text(html, encoding="utf-8")

    async def run() -> None:
        async with browser(folder / "profile") as new_tab:
            await look(await new_tab(), file.as_uri())

    asyncio.run(run())


@pytest.mark.parametrize(
    "names", [("Spears", "Riders", "Captain"), samples.HOSTILE], ids=["plain", "hostile"]
)
def test_it_opens_without_a_request_or_a_complaint(tmp_path: Path, names: tuple[str, ...]) -> None:
    async def look(page: Page, address: str) -> None:
        for width, height, light in WINDOWS:
            await page.window(width, height, is_tablet=width < 600)
            await page.prefer(prefers_color_scheme=light)
            await page.open(address)
            await page.shows(TABLES_SHOWN)
            # WCAG 2.2, 1.4.10 (reflow): no scrolling in two dimensions at 320 pixels and more.
            assert await page.shows("document.documentElement.scrollWidth") <= width
            assert await page.shows(OVERFLOWING) == 0
            assert await page.shows(SHOWN) == FIGURES
            assert await page.shows(LOWEST_LETTER) >= 9
        assert set(page.asked()) == {address}
        assert page.complaints() == []

    in_a_browser(tmp_path, page_html(answers(names)), look)


def test_it_stays_whole_at_the_narrowest_width(tmp_path: Path) -> None:
    async def look(page: Page, address: str) -> None:
        await page.window(320, 640, is_tablet=True)
        await page.open(address)
        await page.shows(TABLES_SHOWN)
        assert await page.shows("document.documentElement.scrollWidth") <= 320

    in_a_browser(tmp_path, page_html(answers()), look)


def test_on_paper_the_figures_and_their_tables_are_there(tmp_path: Path) -> None:
    async def look(page: Page, address: str) -> None:
        await page.window(1280, 900)
        await page.prefer(prefers_color_scheme="dark")  # paper stays white
        await page.open(address)
        sheets = PdfReader(BytesIO(await page.print())).pages
        # Ligatures of the font come out as one sign (Unicode FB00 to FB04).
        said = "\n".join(sheet.extract_text() for sheet in sheets).replace("ﬁ", "fi").replace("ﬀ", "ff")
        for part in parts_of(answers()):
            assert part.title in said
            for row in part.rows:
                assert row.cells[-1] in said, row
        assert "models to go" in said  # written in a figure
        assert month_words(samples.TODAY.replace(year=2027, month=1)) in said  # on an axis
        assert page.complaints() == []

    in_a_browser(tmp_path, page_html(answers()), look)
