"""Names that could do harm, on their way through every command: they arrive as typed and steer nothing."""

from __future__ import annotations

import csv
import io
import json
from html.parser import HTMLParser
from pathlib import Path

import pytest
from click.testing import CliRunner

from tests.desks import a_desk
from tracker.cli.main import main
from tracker.domain.text import printable
from tracker.workbench.desk import Desk

NAMES = (
    'quo"te\'s', "a,b;c", "🐉\U0001f3f3\ufe0f\u200d\U0001f308", "\u202eright to left\u202c", "أرمادا",
    "[markup]", "[bold red]x[/]", "<script>alert(1)</script>", "<img src=x onerror=alert(1)>", "{{ 7*7 }}",
    "=SUM(A1)", "'=x", "-1", "+1", "@x", "\x1b[31mred\x1b]0;title\x07", "two\nlines", "tab\there",
    "x" * 500, "';DROP TABLE line;--",
)  # fmt: skip
HOSTILE_TAGS = ("<script>alert", "<img src=x")


def said(desk: Desk, *words: str) -> str:
    """What a command prints on either stream; none of it may steer a terminal."""
    result = CliRunner().invoke(main, list(words), obj=desk)
    assert result.exit_code == 0, result.output
    if words[0] != "export":
        assert all(printable(line) == line for line in result.output.split("\n"))
    return result.stdout


def sheets(folder: Path) -> tuple[str, str]:
    """A roster and an evening sheet of them, written by the csv module of the standard library."""
    for name, header, rows in (
        ("roster.csv", ("unit", "models", "army", "note"), [(n, 3, "host", n) for n in NAMES]),
        (
            "evenings.csv",
            ("date", "army", "unit", "step", "models", "minutes", "note"),
            [("2026-03-03", "host", n, "cleaning", 2, 6, n) for n in NAMES],
        ),
    ):
        out = io.StringIO(newline="")
        csv.writer(out).writerows([header, *rows])
        (folder / name).write_text(out.getvalue(), encoding="utf-8", newline="")
    return str(folder / "roster.csv"), str(folder / "evenings.csv")


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Desk:
    folder = tmp_path_factory.mktemp("hostile")
    desk = a_desk(folder)
    roster, evenings = sheets(folder)
    said(desk, "import", "roster", roster)
    said(desk, "import", "evenings", evenings)
    return desk


def unescaped(name: str) -> str:
    """A sheet's leading quote before a formula sign is how a spreadsheet is told that it is text."""
    return name[1:] if name[:1] == "'" and name[1:2] in "'=+-@" else name


def test_they_are_stored_as_they_were_typed(desk: Desk) -> None:
    known = desk.records()
    assert [unit.name for unit in known.units] == [unescaped(name) for name in NAMES]
    assert [line.note for line in known.lines] == [unescaped(name) for name in NAMES]
    assert all(len(line.model_ids) == 2 for line in known.lines)


@pytest.mark.parametrize(
    "words", [("ready",), ("forecast", "--draws", "100"), ("backlog", "--draws", "100"), ("pace",)], ids=str
)
def test_tables_are_harmless_and_json_is_exact(desk: Desk, words: tuple[str, ...]) -> None:
    assert said(desk, *words)
    document = said(desk, *words, "--json")
    assert document.isascii()
    assert json.loads(document)


def test_json_names_are_exact(desk: Desk) -> None:
    document = json.loads(said(desk, "forecast", "--draws", "100", "--json"))
    assert sorted(unit["unit"] for unit in document["units"]) == sorted(map(unescaped, NAMES))


def test_the_page_shows_them_as_text(desk: Desk, tmp_path: Path) -> None:
    said(desk, "report", str(tmp_path / "page.html"), "--draws", "100")
    page = (tmp_path / "page.html").read_text(encoding="utf-8")
    reader = Tags()
    reader.feed(page)
    assert not any(tag in page for tag in HOSTILE_TAGS)
    assert not reader.handlers
    assert {"\x1b", "\x07", "\u202e"}.isdisjoint(page)
    assert "[bold red]x[/]" in page
    assert "{{ 7*7 }}" in page


class Tags(HTMLParser):
    """Collects attributes that would run a script."""

    def __init__(self) -> None:
        super().__init__()
        self.handlers: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """One tag."""
        self.handlers += [f"{tag} {name}" for name, _ in attrs if name.startswith("on")]


@pytest.mark.parametrize("what", ["roster", "evenings"])
def test_a_sheet_goes_out_without_a_formula_and_comes_in_again(desk: Desk, tmp_path: Path, what: str) -> None:
    both = [str(tmp_path / f"{name}.csv") for name in ("roster", "evenings")]
    for name, file in zip(("roster", "evenings"), both, strict=True):
        said(desk, "export", name, file)
    with (tmp_path / f"{what}.csv").open(encoding="utf-8", newline="") as sheet:
        cells = [cell for row in list(csv.reader(sheet))[1:] for cell in row]
    # OWASP, "CSV Injection": a cell must not begin with one of these signs.
    assert not [cell for cell in cells if cell[:1] in tuple("=+-@\t\r")]
    other = a_desk(tmp_path)
    for name, file in zip(("roster", "evenings"), both, strict=True):
        said(other, "import", name, file)
    assert said(other, "export", what, "-") == said(desk, "export", what, "-")


def test_the_whole_document_comes_in_again_to_the_byte(desk: Desk, tmp_path: Path) -> None:
    one, two = tmp_path / "one.json", tmp_path / "two.json"
    said(desk, "export", "all", str(one))
    other = a_desk(tmp_path)
    said(other, "import", "all", str(one))
    said(other, "export", "all", str(two))
    assert one.read_bytes() == two.read_bytes()
