"""The page: one file, no script and no address in it, names inert, its tables as the JSON answers say."""

from __future__ import annotations

import json
import re
from datetime import date, datetime
from html.parser import HTMLParser
from typing import Any

import pytest

from tests.report import samples
from tracker.domain.answers import BacklogAnswer, Doubt, ForecastAnswer, PaceAnswer, TrackRecordAnswer
from tracker.domain.records import Goal
from tracker.report.answers import backlog_json, forecast_json, pace_json, track_record_json
from tracker.report.drawings.svg import DARK, LIGHT
from tracker.report.goal_rows import goal_rows
from tracker.report.page import PageAnswers, page_html
from tracker.report.parts.dates import lead_words
from tracker.report.plain import date_words, minutes_words, month_words, per_model_words, span_words
from tracker.report.steps_json import steps_json

FIGURES = 8
NO_RECORD = TrackRecordAnswer(samples.TODAY, 0)


class Reader(HTMLParser):
    """Collects tags, links, tables and their rows by section."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.links: list[str] = []
        self.handlers: list[str] = []
        self.cells: list[str] = []
        self.rows: dict[str, list[list[str]]] = {}
        self.lang = ""
        self._section = ""
        self._in = ""
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        said = dict(attrs)
        self.tags.append(tag)
        self._in = tag
        self.links += [
            f"{tag} {name}={value}"
            for name, value in attrs
            if name in ("src", "href", "xlink:href", "action", "data", "poster", "srcset", "background")
        ]
        self.handlers += [name for name in said if name.startswith("on")]
        if tag == "html":
            self.lang = said.get("lang") or ""
        if tag == "section":
            self._section = said.get("id") or ""
            self.rows[self._section] = []
        if tag == "tr":
            self.rows[self._section].append([])
        if tag in ("td", "th"):
            self.cells.append("")
            self.rows[self._section][-1].append("")

    def handle_endtag(self, tag: str) -> None:  # noqa: ARG002 - the parser's signature
        self._in = ""

    def handle_data(self, data: str) -> None:
        if self._in in ("td", "th"):
            self.cells[-1] += data
            self.rows[self._section][-1][-1] += data

    def table(self, section: str) -> list[list[str]]:
        """The rows of a section's table without its heads."""
        return self.rows[section][1:]


def answers(names: tuple[str, ...] = ("Spears", "Riders", "Captain")) -> PageAnswers:
    """All that the page tells, with these units and steps."""
    return PageAnswers(
        samples.forecast(names)._replace(doubts=()), samples.backlog(), samples.pace(names[:3]),
        samples.record(), samples.sittings(), samples.steps(names),
    )  # fmt: skip


@pytest.fixture(scope="module")
def hostile_page() -> str:
    return page_html(answers(samples.HOSTILE), title=samples.HOSTILE[0])


@pytest.fixture(scope="module")
def hostile(hostile_page: str) -> Reader:
    return Reader(hostile_page)


@pytest.fixture(scope="module")
def read() -> Reader:
    return Reader(page_html(answers()))


def test_it_is_a_page_for_readers_of_every_kind(hostile_page: str, hostile: Reader) -> None:
    assert hostile_page.startswith("<!doctype html>")
    assert hostile.lang == "en"
    assert '<meta name="viewport"' in hostile_page
    assert hostile.tags.count("table") == FIGURES
    # Each is drawn for a desk and for a phone, and carries its words.
    assert hostile_page.count('role="img" aria-label="') == hostile.tags.count("svg") == 2 * FIGURES
    assert len(hostile_page) < 400_000


def test_nothing_in_it_leads_anywhere_or_runs(hostile_page: str, hostile: Reader) -> None:
    assert hostile.links == []
    assert hostile.handlers == []
    forbidden = {"script", "link", "iframe", "object", "embed", "img", "form", "base", "a", "use", "image"}
    assert not forbidden & set(hostile.tags)
    assert "url(" not in hostile_page
    assert "@import" not in hostile_page


def test_the_policy_forbids_every_request_and_every_script(hostile_page: str) -> None:
    policy = re.search(r'http-equiv="Content-Security-Policy" content="([^"]*)"', hostile_page)
    assert policy
    assert policy[1] == "default-src 'none'; style-src 'unsafe-inline'"


def test_names_are_text_and_nothing_else(hostile_page: str, hostile: Reader) -> None:
    assert samples.HOSTILE[0] in hostile.cells
    assert "<script>alert" not in hostile_page
    assert "<img src=x" not in hostile_page
    assert "\x1b" not in hostile_page
    assert "\u202e" not in hostile_page
    assert max(len(cell) for cell in hostile.cells) <= 120


def test_without_anything_there_is_still_a_page() -> None:
    day = samples.TODAY
    html = page_html(
        PageAnswers(ForecastAnswer(day, (), ()), BacklogAnswer(day, (), None), PaceAnswer(day, ()), NO_RECORD)
    )
    assert "Nothing is planned yet." in html
    assert "No evening is logged yet." in html


def test_when_all_is_ready_it_says_so() -> None:
    forecast = samples.forecast()
    html = page_html(answers()._replace(forecast=forecast._replace(units=forecast.units[-1:])))
    assert "Everything on the desk is table-ready." in html


def test_below_two_weeks_of_history_no_single_day_is_named() -> None:
    forecast = samples.forecast()._replace(doubts=(Doubt("rhythm", "Two evenings are known."),))
    read = Reader(page_html(answers()._replace(forecast=forecast)))
    assert "fan" not in read.rows
    assert "Middle" not in read.rows["ready"][0]
    first = forecast.units[0].ready
    assert read.table("ready")[0][3:] == [date_words(first[1]), date_words(first[17])]
    assert lead_words(forecast) == [
        "Host: 4 of 41 models table-ready; 8-32 h of work to go, hardly done before 12 Dec 2026."
    ]


# What stands beside each figure is what the JSON answers say, number by number.


def test_the_dates_are_those_of_the_json_answer(read: Reader) -> None:
    said = spoken(forecast_json(samples.forecast()))
    open_ones = [one for one in said["units"] + said["armies"] if one["models_ready"] < one["models"]]
    rows = read.table("ready")
    assert len(rows) == len(open_ones)
    for row, one in zip(rows, open_ones, strict=True):
        assert row[0] == (one["unit"] or f"All of {one['army']}")
        assert row[1] == f"{one['models_ready']} of {one['models']}"
        assert row[2] == span_words(one["minutes_left"]["10"], one["minutes_left"]["90"])
        assert row[3:] == [words_of(one["ready"][level]) for level in ("10", "50", "90")]


def test_the_goals_are_those_of_the_json_answer(read: Reader) -> None:
    (one,) = [unit for unit in spoken(forecast_json(samples.forecast()))["units"] if unit["goal_date"]]
    chance = f"{round(100 * one['chance_by_goal'])} in 100"
    assert read.table("goals") == [[one["unit"], words_of(one["goal_date"]), one["unit"], chance]]


def test_the_coming_months_follow_from_the_dates(read: Reader) -> None:
    units = [
        unit
        for unit in spoken(forecast_json(samples.forecast()))["units"]
        if unit["models_ready"] < unit["models"]
    ]
    for row in read.table("fan"):
        for cell, level in zip(row[1:], ("10", "50", "90"), strict=True):
            left = [
                unit["models"] - unit["models_ready"]
                for unit in units
                if unit["ready"][level] is None or unit["ready"][level] > iso_of(row[0])
            ]
            assert cell == f"{sum(left)}"


def test_the_steps_are_those_of_the_json_answer(read: Reader) -> None:
    said = spoken(steps_json(samples.steps(("Spears", "Riders", "Captain"))))
    wanted = [
        [f"{unit['unit']}: {step['step']}", f"{step['models']} of {unit['models']}",
         span_words(step["minutes"]["10"], step["minutes"]["90"])]
        for unit in said["units"]
        for step in unit["steps"]
        if step["models"] and unit["models_ready"] < unit["models"]
    ]  # fmt: skip
    assert read.table("steps") == wanted


def test_the_backlog_is_that_of_the_json_answer(read: Reader) -> None:
    history = spoken(backlog_json(samples.backlog()))["history"]
    wanted = [
        [month_words(day_of(day["date"])), f"{day['models']}", minutes_words(day["minutes"]),
         f"{day['added']}", f"{day['finished']}", f"{day['taken_away']}"]
        for day in history  # one day a month in the sample
    ]  # fmt: skip
    assert read.table("backlog") == wanted


def test_the_pace_is_that_of_the_json_answer(read: Reader) -> None:
    steps = spoken(pace_json(samples.pace(("Spears", "Riders", "Captain"))))["steps"]
    wanted = [
        [step["step"], *(per_model_words(step["minutes_per_model"][level]) for level in ("10", "50", "90")),
         f"{step['lines']}", step["from"]]
        for step in steps
    ]  # fmt: skip
    assert read.table("pace") == wanted


def test_the_track_record_is_that_of_the_json_answer(read: Reader) -> None:
    tenths = spoken(track_record_json(samples.record()))["tenths"]
    assert [int(row[1]) for row in read.table("record")] == tenths


def test_every_evening_is_in_the_table(read: Reader) -> None:
    rows = read.table("evenings")
    assert sum(int(row[1]) for row in rows) == len(samples.sittings())
    month, count, minutes = rows[-1]
    last = [one for one in samples.sittings() if month_words(one.date) == month]
    assert (count, minutes) == (f"{len(last)}", minutes_words(sum(one.minutes or 0 for one in last)))


def test_planned_evenings_stand_beside_those_that_were() -> None:
    planned = (date(2026, 11, 3), date(2026, 11, 10))
    html = page_html(answers()._replace(planned=planned))
    for day in planned:
        assert html.count(f"<title>{date_words(day)}: planned</title>") == 2
    assert "A bold ring is an evening that is planned: 3 Nov 2026, 10 Nov 2026." in html


def test_goals_are_named_by_their_words_or_by_their_units() -> None:
    goals = [
        (Goal(0, "2026-12-01", date(2026, 12, 1), (1, 2)), 0.5),
        (Goal(3, "harvest", date(2027, 2, 1), (1,), models=20), 0.004),
        (Goal(4, "open day", date(2027, 3, 1), points=1000.0), None),
        (Goal(5, "all", date(2027, 4, 1)), 1.0),
        (Goal(6, "past", date(2026, 1, 1)), 1.0),
    ]
    rows = goal_rows(goals, {1: "Spears", 2: "Riders"}, samples.TODAY)
    assert Reader(page_html(answers()._replace(goals=rows))).table("goals") == [
        ["Spears, Riders", "1 Dec 2026", "Spears, Riders", "50 in 100"],
        ["harvest", "1 Feb 2027", "20 models of Spears", "under 1 in 100"],
        ["open day", "1 Mar 2027", "1,000 points", ""],
        ["all", "1 Apr 2027", "every unit", "over 99 in 100"],
    ]


@pytest.mark.parametrize("colours", [LIGHT, DARK])
def test_lines_and_letters_stand_out(colours: dict[str, str]) -> None:
    # WCAG 2.2: 1.4.3, text 4.5 to 1; 1.4.11, what a figure is made of 3 to 1.
    for name in ("ink", "soft"):
        assert contrast(colours[name], colours["paper"]) >= 4.5
    for name in ("blue", "mark", "green"):
        assert contrast(colours[name], colours["paper"]) >= 3.0
    assert contrast(colours["ink"], colours["band"]) >= 4.5  # numbers stand on it


def contrast(one: str, other: str) -> float:
    """WCAG 2.2, "contrast ratio": (L1 + 0.05) / (L2 + 0.05)."""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def luminance(colour: str) -> float:
    """WCAG 2.2, "relative luminance"."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def test_the_contrast_is_counted_right() -> None:
    # WCAG 2.2, Understanding 1.4.3: black on white is 21 to 1; #767676 on white is just above 4.5.
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.01)


def day_of(iso: str) -> date:
    return date.fromisoformat(iso)


def words_of(iso: str | None) -> str:
    return date_words(None if iso is None else day_of(iso))


def iso_of(words: str) -> str:
    """The day that "14 Mar 2027" says, read by the standard library."""
    return datetime.strptime(words, "%d %b %Y").date().isoformat()


def spoken(answer: dict[str, object]) -> Any:
    """The answer as a reader of the printed document gets it."""
    return json.loads(json.dumps(answer))
