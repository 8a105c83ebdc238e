"""One hostile text in every free field of the log, and everything that answers.

The text arrives as it is; it steers no terminal, runs on no page, is no formula in a sheet and no line of its
own in the calendar.
"""

from __future__ import annotations

import csv
import io
import json
from collections import Counter
from functools import cache
from html.parser import HTMLParser
from pathlib import Path
from typing import NamedTuple

import icalendar
import pytest
from click.testing import CliRunner

from tests.desks import a_desk
from tests.faults.full_log import ANSWERS, NAMED, SHEETS, fill
from tests.pictures import with_place
from tracker.cli.main import main
from tracker.domain.text import printable
from tracker.workbench.desk import Desk
from tracker.workbench.whole import export_document

TEXTS = {
    "terminal": "\x1b[31mred\x1b]0;title\x07\x9b2J",
    "markup": "[bold]x[/bold] [link=//a]b[/link]",
    "script": "</script><script>alert(1)</script><img src=x onerror=alert(1)>",
    "attribute": "\"' onmouseover=alert(1) x='",
    "template": "{{ 7*7 }}{% raw %}${x} %s %(x)s {0.__class__}",
    "formula": "=HYPERLINK(\"//a\",1)",
    "apostrophe": "'@SUM(A1)",
    "direction": "\u202eright to left\u202c \u2066x\u2069 \u200f",
    "widths": "竜 e\u0301\u200d\u200b\ufeff 🏳️\u200d🌈",
    "lines": "a\r\nEND:VEVENT\r\nb\x0bc\u2028d\x85e",
    "calendar": "a,b;c\\n\\d:e",
    "query": "x'); DROP TABLE line;--",
    "option": "--help -1",
    "path": "../../etc/passwd",
}  # fmt: skip
PAGES = (
    ("report", "page.html", "--draws=100"), ("recipe", "sheet", "--", "TEXT", "recipe.html"),
    ("ranks", "sheet", "--", "TEXT", "ranks.html"), ("ranks", "sheet", "--", "TEXT", "ranks.svg"),
)  # fmt: skip


class Filled(NamedTuple):
    """A log with the text everywhere, and its folder."""

    desk: Desk
    folder: Path
    text: str

    def say(self, *words: str) -> str:
        """What a command prints; on neither stream anything that steers a terminal."""
        done = CliRunner().invoke(main, list(words), obj=self.desk)
        assert done.exit_code == 0, (words, done.output)
        if words[0] != "export":
            assert all(printable(line) == line for line in done.output.split("\n")), words
        return done.stdout


@cache
def filled(folder: Path, text: str) -> Filled:
    folder.mkdir()
    found = Filled(a_desk(folder), folder, text)
    fill(found.say, text, with_place(folder / "seen.jpg"))
    return found


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("hostile")


@pytest.fixture(params=TEXTS)
def log(request: pytest.FixtureRequest, folder: Path) -> Filled:
    return filled(folder / request.param, TEXTS[request.param])


class Tags(HTMLParser):
    """Every tag with the names of its attributes."""

    def __init__(self) -> None:
        super().__init__()
        self.found: Counter[str] = Counter()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """One tag."""
        self.found[f"{tag} {' '.join(sorted(name for name, _ in attrs))}"] += 1


def page(log: Filled, words: tuple[str, ...]) -> str:
    name = next(word for word in words if word.endswith(("html", "svg")))
    there = str(log.folder / name)
    log.say(*(there if word == name else log.text if word == "TEXT" else word for word in words))
    return Path(there).read_text(encoding="utf-8")


def sorts_of_tags(text: str) -> set[str]:
    reader = Tags()
    reader.feed(text)
    return set(reader.found)


def test_every_answer_steers_nothing_and_its_json_is_exact(log: Filled) -> None:
    asked = [*ANSWERS, *((*words, "--", log.text) for words in NAMED)]
    exact = 0
    for words in asked:
        assert log.say(*words)
        at = words.index("--") if "--" in words else len(words)
        told = log.say(*words[:at], "--json", *words[at:])
        assert told.isascii()
        exact += log.text in _texts(json.loads(told))
    # Most answers name a unit, a recipe or the like; there the text is what was typed.
    assert exact > len(asked) // 2


def _texts(document: object) -> set[str]:
    if isinstance(document, dict):
        return set().union(*map(_texts, (*document, *document.values())))
    if isinstance(document, list):
        return set().union(*map(_texts, document))
    return {document} if isinstance(document, str) else set()


def test_every_page_has_the_tags_of_a_harmless_log(log: Filled, folder: Path) -> None:
    if not (folder / "harmless").exists():
        filled(folder / "harmless", "Tom")
    for words in PAGES:
        harmless = page(filled(folder / "harmless", "Tom"), words)
        hostile = page(log, words)
        assert sorts_of_tags(hostile) <= sorts_of_tags(harmless), words
        assert not [sort for sort in sorts_of_tags(hostile) if " on" in sort]
        # The figures' library brings odd signs of its own, hence those of the harmless page.
        assert not [sign for sign in set(hostile) - set(harmless) if printable(sign) != sign], words


def exported(desk: Desk, what: str) -> str:
    """A sheet to the byte."""
    done = CliRunner().invoke(main, ["export", what, "-"], obj=desk)
    assert done.exit_code == 0, done.output
    return done.stdout_bytes.decode()


def test_every_sheet_is_free_of_formulas_and_comes_in_again(log: Filled, tmp_path: Path) -> None:
    other = a_desk(tmp_path)
    for what in SHEETS:
        text = exported(log.desk, what)
        cells = [cell for row in csv.reader(io.StringIO(text, newline="")) for cell in row]
        # OWASP, "CSV Injection": a cell must not begin with one of these signs.
        assert not [cell for cell in cells if cell[:1] in tuple("=+-@\t\r")], what
        if what in ("roster", "evenings", "recipes"):
            (tmp_path / what).write_bytes(text.encode())
            done = CliRunner().invoke(main, ["import", what, str(tmp_path / what)], obj=other)
            assert done.exit_code == 0, done.output
    assert exported(other, "recipes") == exported(log.desk, "recipes")
    units = {unit.name for unit in other.records().units}
    assert units == {unit.name for unit in log.desk.records().units if unit.name in units}
    assert log.text in units


def test_the_calendar_holds_the_events_of_a_harmless_log(log: Filled, folder: Path) -> None:
    """Read with icalendar's parser of RFC 5545: nothing in a text begins a line or an event of its own."""
    counts = []
    for one in (log, filled(folder / "harmless", "Tom")):
        one.say("calendar", str(one.folder / "all.ics"), "--draws=100")
        raw = (one.folder / "all.ics").read_bytes()
        assert not any(byte < 32 and byte not in b"\r\n\t" for byte in raw)
        found = icalendar.Calendar.from_ical(raw)
        counts.append((len(found.walk("VEVENT")), len(found.errors)))
    assert counts[0] == counts[1]


def test_no_name_becomes_a_place_on_the_disk(log: Filled) -> None:
    """Photos are named by their content, all else by what the person says."""
    names = {path.name for path in log.folder.rglob("*")}
    assert not [name for name in names if log.text in name]
    assert {path.name for path in log.folder.parent.iterdir()} <= {*TEXTS, "harmless"}


def test_the_document_comes_in_again_to_the_byte(log: Filled, tmp_path: Path) -> None:
    log.say("export", "all", str(tmp_path / "one.json"))
    other = a_desk(tmp_path)
    assert CliRunner().invoke(main, ["import", "all", str(tmp_path / "one.json")], obj=other).exit_code == 0
    assert export_document(other) == export_document(log.desk)
