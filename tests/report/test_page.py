"""The page: one file, no address in it that a browser would follow, names inert, drawn by a browser."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from html.parser import HTMLParser
from pathlib import Path

import pytest

from tests.report import samples
from tracker.domain.answers import BacklogAnswer, ForecastAnswer, PaceAnswer, TrackRecordAnswer
from tracker.report.page import page_html

FIGURES = 5
NO_RECORD = TrackRecordAnswer(samples.TODAY, 0)


class Reader(HTMLParser):
    """Collects tags, links, texts and scripts."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.links: list[str] = []
        self.handlers: list[str] = []
        self.cells: list[str] = []
        self.scripts: list[str] = []
        self.lang = ""
        self._in = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self._in = tag
        for name, value in attrs:
            if name in ("src", "href", "action", "data", "poster", "srcset", "background"):
                self.links.append(f"{tag} {name}={value}")
            if name.startswith("on"):
                self.handlers.append(name)
            if (tag, name) == ("html", "lang"):
                self.lang = value or ""
        if tag in ("td", "th"):
            self.cells.append("")
        if tag == "script":
            self.scripts.append("")

    def handle_endtag(self, tag: str) -> None:  # noqa: ARG002 - the parser's signature
        self._in = ""

    def handle_data(self, data: str) -> None:
        if self._in in ("td", "th"):
            self.cells[-1] += data
        if self._in == "script":
            self.scripts[-1] += data


@pytest.fixture(scope="module")
def hostile_page() -> str:
    return page_html(
        samples.forecast(samples.HOSTILE), samples.backlog(), samples.pace(samples.HOSTILE[:3]),
        samples.record(), samples.sittings(), title=samples.HOSTILE[0],
    )  # fmt: skip


@pytest.fixture(scope="module")
def read(hostile_page: str) -> Reader:
    reader = Reader()
    reader.feed(hostile_page)
    return reader


def test_it_is_a_page_for_readers_of_every_kind(hostile_page: str, read: Reader) -> None:
    assert hostile_page.startswith("<!doctype html>")
    assert read.lang == "en"
    assert '<meta name="viewport"' in hostile_page
    assert read.tags.count("table") == FIGURES
    assert hostile_page.count('role="img"') == FIGURES
    assert len(hostile_page) < 5_200_000


def test_nothing_in_it_leads_anywhere(read: Reader) -> None:
    assert read.links == []
    assert read.handlers == []
    assert not {"link", "iframe", "object", "embed", "img", "form", "base", "a"} & set(read.tags)


def test_the_policy_forbids_every_request(hostile_page: str) -> None:
    policy = re.search(r'http-equiv="Content-Security-Policy" content="([^"]*)"', hostile_page)
    assert policy
    assert policy[1].startswith("default-src 'none'")
    assert "http" not in policy[1]


def test_names_are_text_and_nothing_else(hostile_page: str, read: Reader) -> None:
    # One script for the library and one for each figure: no name opened another.
    assert len(read.scripts) == 1 + FIGURES
    assert samples.HOSTILE[0] in read.cells
    assert "<script>alert" not in hostile_page
    assert "<img src=x" not in hostile_page
    assert "\x1b" not in hostile_page
    assert "\u202e" not in hostile_page
    assert max(len(cell) for cell in read.cells) <= 120


def test_names_inside_figures_are_not_mark_up(read: Reader) -> None:
    for script in read.scripts[1:]:
        assert "<" not in script.replace("<br>", "")
        assert "&lt;a href" in script or "\\u003ca href" not in script


def test_without_anything_there_is_still_a_page() -> None:
    day = samples.TODAY
    html = page_html(
        ForecastAnswer(day, (), ()), BacklogAnswer(day, (), None), PaceAnswer(day, ()), NO_RECORD, ()
    )
    assert "Nothing is planned yet." in html
    assert "No evening is logged yet." in html


def test_when_all_is_ready_it_says_so() -> None:
    answer = samples.forecast()
    html = page_html(
        answer._replace(units=answer.units[-1:]), samples.backlog(), samples.pace(), NO_RECORD, ()
    )
    assert "Everything on the desk is table-ready." in html


_WATCH = """<script>
window.seen = {errors: [], refused: []};
window.addEventListener('error', e => window.seen.errors.push(String(e.message)));
document.addEventListener('securitypolicyviolation', e => window.seen.refused.push(e.blockedURI));
for (const name of ['error', 'warn']) console[name] = (...words) => window.seen.errors.push(words.join(' '));
</script>"""
_TELL = """<script>
window.addEventListener('load', () => {
  window.seen.requests = performance.getEntriesByType('resource').map(e => e.name);
  window.seen.drawn = document.querySelectorAll('.js-plotly-plot .main-svg').length > 0
    ? document.querySelectorAll('.js-plotly-plot').length : 0;
  window.seen.links = document.querySelectorAll('a[href], svg a').length;
  const out = document.createElement('pre');
  out.id = 'seen';
  out.textContent = JSON.stringify(window.seen);
  document.body.appendChild(out);
});
</script>"""


def test_a_browser_draws_it_without_a_request_or_a_complaint(hostile_page: str, tmp_path: Path) -> None:
    browser = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
    if browser is None:
        return  # the checks above hold without one; where a browser is installed it is asked as well
    # The library's text holds the same tags: only the first and the last are the page's own.
    before, _, after = hostile_page.replace("<title>", _WATCH + "<title>", 1).rpartition("</body>")
    watched = before + _TELL + "</body>" + after
    page = tmp_path / "page.html"
    page.write_text(watched, encoding="utf-8")
    done = subprocess.run(
        [browser, "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run",
         "--disable-background-networking", "--disable-component-update", "--disable-sync",
         f"--user-data-dir={tmp_path / 'profile'}", "--virtual-time-budget=10000", "--dump-dom",
         page.as_uri()],
        capture_output=True, text=True, timeout=90, check=False,
    )  # fmt: skip
    told = re.search(r'<pre id="seen">(.*?)</pre>', done.stdout, re.DOTALL)
    assert told, done.stderr[-2000:]
    seen = json.loads(told[1])
    assert seen == {"errors": [], "refused": [], "requests": [], "drawn": FIGURES, "links": 0}
