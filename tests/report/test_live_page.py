"""The page whose figures answer to the pointer: one file all the same, drawings where it must do without."""

from __future__ import annotations

import json
import re
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from tests.browser import Page
from tests.report import samples
from tests.report.test_page import FIGURES, Reader, answers
from tests.report.test_page_in_a_browser import in_a_browser
from tracker.domain.answers import Doubt
from tracker.report.live_figures import library, live_figures
from tracker.report.page import page_html, parts_of
from tracker.report.plain import at_level

LIVE = {"ready", "fan", "backlog", "pace", "record"}
SEEN = "[...document.querySelectorAll('{}')].filter(one => one.getBoundingClientRect().width > 0).length"
LIVE_SEEN, DRAWN_SEEN = SEEN.format(".live .js-plotly-plot .main-svg"), SEEN.format("svg.figure")


def traces(fragment: str) -> list[dict[str, Any]]:
    """The data that a fragment hands to its library."""
    start = fragment.index("[{", fragment.index("Plotly.newPlot("))
    data: list[dict[str, Any]]
    data, _ = json.JSONDecoder().raw_decode(fragment[start:])
    return data


def test_the_figures_hold_the_numbers_of_the_answers() -> None:
    told = answers()
    figures = live_figures(told)
    assert set(figures) == LIVE
    open_units = [unit for unit in told.forecast.units if unit.models_ready < unit.models]
    middles = [
        trace["x"][0][:10] for trace in traces(figures["ready"])
        if trace["mode"] == "markers" and "middle" in trace["text"][0]
    ]  # fmt: skip
    known = [at_level(unit.ready, 50) for unit in open_units]
    assert [day for day, middle in zip(middles, known, strict=True) if middle] == [
        middle.isoformat() for middle in known if middle
    ]
    hours = traces(figures["backlog"])[0]["y"]
    assert hours[-1] == round(told.backlog.days[-1].minutes / 60, 1)
    assert traces(figures["record"])[0]["y"] == list(told.record.tenths)


def test_it_is_one_file_that_offers_to_send_nothing_anywhere() -> None:
    page = page_html(answers(), live=True)
    policy = re.search(r'http-equiv="Content-Security-Policy" content="([^"]*)"', page)
    assert policy
    assert (
        policy[1]
        == "default-src 'none'; style-src 'unsafe-inline'; script-src 'unsafe-inline'; img-src data:"
    )
    own = page.replace(library(), "")
    assert "http://" not in own.replace("http://www.w3.org/2000/svg", "")
    assert "https://" not in own
    for fragment in live_figures(answers()).values():
        # The library offers by default to upload a chart; the page turns that off.
        assert '"showSendToCloud": false' in fragment
        assert '"displayModeBar": false' in fragment


def test_names_inside_live_figures_are_not_mark_up() -> None:
    for fragment in live_figures(answers(samples.HOSTILE)).values():
        script = fragment[fragment.index("Plotly.newPlot(") :]
        inside = script[: script.index("</script>")]
        assert "<img" not in inside
        assert "<a " not in inside
        assert "\\u003ca href" not in inside or "\\u0026lt;a href" in inside


def test_no_middle_is_drawn_from_too_few_evenings() -> None:
    told = answers()
    few = told._replace(forecast=told.forecast._replace(doubts=(Doubt("rhythm", "Too early."),)))
    figures = live_figures(few)
    assert "fan" not in figures
    assert "middle" not in figures["ready"]


@pytest.mark.parametrize(
    "names", [("Spears", "Riders", "Captain"), samples.HOSTILE], ids=["plain", "hostile"]
)
def test_it_is_live_on_a_desk_and_drawn_on_a_phone(tmp_path: Path, names: tuple[str, ...]) -> None:
    html = page_html(answers(names), live=True)

    async def look(page: Page, address: str) -> None:
        await page.window(1280, 900)
        await page.open(address)
        assert await page.shows(LIVE_SEEN) >= len(LIVE)
        assert await page.shows(DRAWN_SEEN) == FIGURES - len(LIVE)
        await page.window(390, 844, is_tablet=True)
        await page.open(address)
        assert await page.shows(LIVE_SEEN) == 0
        assert await page.shows(DRAWN_SEEN) == FIGURES
        assert await page.shows("document.documentElement.scrollWidth") <= 390
        assert set(page.asked()) == {address}
        assert page.complaints() == []

    in_a_browser(tmp_path, html, look)


def test_paper_shows_the_drawings(tmp_path: Path) -> None:
    async def look(page: Page, address: str) -> None:
        await page.window(1280, 900)
        await page.open(address)
        sheets = PdfReader(BytesIO(await page.print())).pages
        said = "\n".join(sheet.extract_text() for sheet in sheets).replace("ﬁ", "fi").replace("ﬀ", "ff")
        for part in parts_of(answers()):
            assert part.title in said
        assert "models to go" in said  # written in a drawing

    in_a_browser(tmp_path, page_html(answers(), live=True), look)


def test_the_tables_are_the_same_with_and_without_script() -> None:
    assert Reader(page_html(answers(), live=True)).rows == Reader(page_html(answers())).rows
