"""Figures as SVG files: well-formed, whole in themselves, their words inside."""

from __future__ import annotations

from xml.etree import ElementTree as ET

import pytest

from tests.report import samples
from tests.report.test_page import FIGURES, answers
from tracker.domain.steps_left import StepMinutes, UnitSteps
from tracker.report.drawings.axes import nice_steps, stairs
from tracker.report.drawings.steps import steps_in_order
from tracker.report.page import figure_files
from tracker.report.plain import date_words

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module", params=["plain", "hostile"])
def files(request: pytest.FixtureRequest) -> dict[str, str]:
    return figure_files(answers(samples.HOSTILE) if request.param == "hostile" else answers())


def test_every_figure_is_a_file(files: dict[str, str]) -> None:
    assert len(files) == FIGURES
    assert all(name.removesuffix(".svg").isalpha() for name in files)


def test_each_is_xml_that_runs_nothing_and_leads_nowhere(files: dict[str, str]) -> None:
    # SVG 1.1: script (18.2), a (17.1), image (5.7), use (5.6), foreignObject (23.3), xlink:href.
    for text in files.values():
        root = ET.fromstring(text)  # noqa: S314 - our own file
        tags = {element.tag.removeprefix(SVG) for element in root.iter()}
        assert tags <= {
            "svg",
            "title",
            "desc",
            "style",
            "g",
            "rect",
            "line",
            "circle",
            "polygon",
            "polyline",
            "text",
        }
        names = {name for element in root.iter() for name in element.attrib}
        assert not any("href" in name or name.startswith("on") for name in names)
        assert "url(" not in text
        assert "@import" not in text


def test_each_says_in_words_what_it_shows(files: dict[str, str]) -> None:
    for text in files.values():
        root = ET.fromstring(text)  # noqa: S314
        title, desc = root.find(f"{SVG}title"), root.find(f"{SVG}desc")
        assert title is not None
        assert desc is not None
        assert title.text
        assert desc.text
        assert root.attrib["role"] == "img"


def test_the_ready_dates_stand_in_the_words() -> None:
    text = figure_files(answers())["ready.svg"]
    first = samples.forecast().units[0].ready
    assert f"Spears: {date_words(first[1])} to {date_words(first[17])}" in text


def test_nothing_is_drawn_beyond_the_sheet() -> None:
    for text in figure_files(answers()).values():
        root = ET.fromstring(text)  # noqa: S314
        width, height = float(root.attrib["width"]), float(root.attrib["height"])
        for element in root.iter():
            for name in ("x", "x1", "x2", "cx"):
                assert -1 <= float(element.attrib.get(name, 0)) <= width
            for name in ("y", "y1", "y2", "cy"):
                assert -1 <= float(element.attrib.get(name, 0)) <= height


@pytest.mark.parametrize(
    ("top", "steps"),
    [
        (0, [0, 1]),
        (1, [0, 0.2, 0.4, 0.6, 0.8, 1]),
        (48, [0, 10, 20, 30, 40, 50]),
        (100, [0, 20, 40, 60, 80, 100]),
    ],
)
def test_heights_are_round(top: float, steps: list[float]) -> None:
    assert nice_steps(top) == pytest.approx(steps)


def test_a_stair_holds_until_the_next_step() -> None:
    assert stairs([(0, 5), (10, 3), (30, 1)], 20) == [(0, 5), (10, 5), (10, 3), (20, 3)]


def test_steps_keep_the_order_of_each_unit() -> None:
    def unit(*steps: str) -> UnitSteps:
        return UnitSteps("Host", "Spears", 5, 0, tuple(StepMinutes(step, 5) for step in steps))

    units = [unit("cleaning", "priming", "shade"), unit("cleaning", "pinning", "priming", "tufts")]
    order = steps_in_order(units)
    for one in units:
        places = [order.index(step.step) for step in one.steps]
        assert places == sorted(places)
    assert len(order) == 5
