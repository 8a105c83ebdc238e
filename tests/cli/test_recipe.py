"""`lastcoat recipe` and `lastcoat paint`: said, shown, printed, refused in one line."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from tests.cli.test_hostile_names import NAMES
from tests.workbench.answering import empty_desk, small_desk
from tracker.cli.main import main
from tracker.domain.text import printable
from tracker.workbench.desk import Desk
from tracker.workbench.recipes_sheet import export_recipes

CLOAKS = "cloth: dark red, wash, mid red 2:1 water, orange edge?; trim: gold"


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    """Spears and riders, and one recipe."""
    desk = small_desk(tmp_path)
    said(desk, "recipe", "add", "Red cloaks", CLOAKS, "--primer", "black", "--note", "thin coats")
    return desk


def run(desk: Desk, *words: str) -> Result:
    return CliRunner().invoke(main, list(words), obj=desk)


def said(desk: Desk, *words: str) -> str:
    done = run(desk, *words)
    assert done.exit_code == 0, done.output
    assert all(printable(line) == line for line in done.output.split("\n"))
    return done.stdout


def document(desk: Desk, *words: str) -> dict[str, Any]:
    text = said(desk, *words, "--json")
    assert text.isascii()
    found: dict[str, Any] = json.loads(text)
    assert {"as_of", "doubts"} <= set(found)
    return found


def test_a_recipe_is_shown_as_the_unit_was_painted(desk: Desk) -> None:
    said(desk, "recipe", "use", "red cloaks", "--unit", "Host: Spears")
    said(desk, "recipe", "step", "Red cloaks", "--change", "1", "--tool", "big brush", "--swatch", "#7A1F1F")
    said(desk, "recipe", "change", "Red cloaks", "cloth: bright red", "--note", "brighter")
    assert said(desk, "recipe", "show", "--unit", "Spears") == (
        "Red cloaks, version 1 of 3, 31 Oct 2026\n"
        "Primer beneath: black.\n"
        "Note: thin coats.\n"
        "cloth  1        dark red\n"
        "       2  wash\n"
        "       3        mid red 2:1 water\n"
        "       4  edge  orange?\n"
        "trim   5        gold\n"
        '"?" = probably so, "??" = a guess.\n'
        "Painted with it (version): Spears (1).\n"
    )
    assert "big brush  ██ #7a1f1f" in said(desk, "recipe", "show", "Red cloaks", "--version", "2")
    newest = document(desk, "recipe", "show", "Red cloaks")
    assert (newest["version"], newest["changed"], newest["versions"]) == (3, "brighter", [1, 2, 3])
    assert [step["paint"] for step in newest["steps"]] == ["bright red", "gold"]
    of_unit = document(desk, "recipe", "show", "--unit", "Spears")
    assert [one["version"] for one in of_unit["recipes"]] == [1]
    assert said(desk, "recipe", "use", "Red cloaks", "--unit", "Spears").startswith(
        'Stored: Spears was painted with "Red cloaks" version 1; now version 3.'
    )
    assert 'was painted with "Red cloaks" version 1; now version 3' in said(desk, "undo")
    assert document(desk, "recipe", "list")["recipes"][0]["used_by"][0]["version"] == 1


def test_paints_and_what_needs_them(desk: Desk) -> None:
    said(desk, "recipe", "use", "Red cloaks", "--unit", "Spears")
    said(desk, "recipe", "use", "Red cloaks", "--unit", "Riders")
    assert said(desk, "paint", "needs").startswith("No paint is out. Name one")
    said(desk, "paint", "out", "dark red", "--use", "mid red")
    words = said(desk, "paint", "needs")
    assert words.startswith("dark red, out since 31 Oct 2026; mid red in its place: 2 units still need it.\n")
    assert "  Spears: base colours on 4 models; " in words
    assert "All together: " in words
    assert max(map(len, words.split("\n"))) <= 80
    for nudge in ("buy", "shop", "order", "get more", "spend"):
        assert nudge not in words
    found = document(desk, "paint", "needs", "dark red")
    assert found["needs"][0]["units"][0]["steps"] == [{"step": "base colours", "models": 4}]
    assert len(found["needs"][0]["minutes"]) == 19
    said(desk, "recipe", "change", "Red cloaks", "hair: [dabbed on] straw")
    said(desk, "recipe", "use", "Red cloaks", "--unit", "Riders")
    assert "I don't know yet" in said(desk, "paint", "needs", "straw")
    assert "since 31 Oct 2026; mid red in its place" in said(desk, "paint", "list")
    assert document(desk, "paint", "list")["paints"][1]["substitute"] == "mid red"
    assert "Out: dark red; mid red since." in said(desk, "recipe", "show", "Red cloaks")


@pytest.mark.parametrize(
    ("words", "status", "line"),
    [
        (("recipe", "add", "red cloaks"), 1, 'there is a recipe "red cloaks" already'),
        (("recipe", "add", "x", "dark red"), 1, '"dark red" names no area'),
        (("recipe", "show"), 2, "what is shown?"),
        (("recipe", "show", "Red cloak"), 1, 'Did you mean "Red cloaks"'),
        (("recipe", "show", "Red cloaks", "--version", "7"), 1, "has no version 7. It has 1"),
        (("recipe", "use", "Red cloaks"), 1, "Say --unit, or --army"),
        (("recipe", "use", "Red cloaks", "--unit", "Host: Spaers"), 1, 'Did you mean "Spears"'),
        (("recipe", "unuse", "Red cloaks", "--unit", "Spears"), 1, "Spears is not painted with"),
        (("recipe", "step", "Red cloaks"), 2, "nothing is said"),
        (("recipe", "from", "Spears"), 1, "no note of"),
        (("recipe", "rename", "Red cloaks", "Red cloaks"), 1, "it is called"),
        (("recipe", "sheet", "Red cloaks", "."), 2, "it is a folder"),
        (("paint", "back", "red"), 1, '"red" is not out'),
        (("paint", "needs", "dark rad"), 1, 'Did you mean "dark red"'),
    ],
)
def test_a_mistake_is_one_line_and_stores_nothing(
    desk: Desk, words: tuple[str, ...], status: int, line: str
) -> None:
    before = export_recipes(desk)
    done = run(desk, *words)
    assert (done.exit_code, done.stdout, done.stderr.count("\n")) == (status, "", 1)
    assert line in done.stderr
    assert export_recipes(desk) == before


def test_a_recipe_that_is_used_stays_until_nothing_is_painted_with_it(desk: Desk) -> None:
    said(desk, "recipe", "use", "Red cloaks", "--army", "Host")
    assert "1 unit or army is painted with" in run(desk, "recipe", "drop", "Red cloaks").stderr
    said(desk, "recipe", "unuse", "Red cloaks", "--army", "Host")
    said(desk, "recipe", "copy", "Red cloaks", "Blue cloaks", "cloth: dark blue")
    assert '"Blue cloaks" came from' in run(desk, "recipe", "drop", "Red cloaks").stderr
    said(desk, "recipe", "rename", "Blue cloaks", "Sea cloaks")
    said(desk, "recipe", "drop", "Sea cloaks")
    said(desk, "recipe", "drop", "Red cloaks")
    assert "No recipe is written down." in said(desk, "recipe", "list")


def test_hostile_names_are_harmless_everywhere(desk: Desk, tmp_path: Path) -> None:
    for number, name in enumerate(NAMES):
        said(desk, "recipe", "add", f"{number} {name}")
        for field in ("--paint", "--technique", "--tool", "--reminder"):
            said(
                desk,
                "recipe",
                "step",
                f"{number} {name}",
                "--area",
                name,
                field,
                name,
                "--paint",
                f"p{field}",
            )
        said(desk, "recipe", "use", f"{number} {name}", "--unit", "Spears")
        said(desk, "paint", "out", f"p {name}", "--use", name)
        said(desk, "recipe", "show", f"{number} {name}")
    said(desk, "recipe", "list")
    said(desk, "recipe", "show", "--unit", "Spears")
    said(desk, "paint", "list")
    said(desk, "paint", "needs")
    said(desk, "recipe", "sheet", f"7 {NAMES[7]}", str(tmp_path / "page.html"))
    page = (tmp_path / "page.html").read_text(encoding="utf-8")
    assert "<script>alert" not in page
    assert "&lt;script&gt;alert(1)" in page


def test_a_log_that_is_not_there_yet(tmp_path: Path) -> None:
    desk = empty_desk(tmp_path)
    assert "lastcoat recipe add" in said(desk, "recipe", "list")
    assert "lastcoat recipe add" in said(desk, "paint", "list")
    assert document(desk, "paint", "needs")["needs"] == []
    assert not Path(desk.path).exists()
