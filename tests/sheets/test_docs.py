"""The page about sheets names every column and only says what is so."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path
from types import ModuleType

import pytest

from tracker.domain.problems import Problem
from tracker.domain.steps import CATALOGUE
from tracker.sheets import evenings, planned, recipes, roles, roster, sources, spares
from tracker.sheets.evenings import read_evenings
from tracker.sheets.rows import Form
from tracker.sheets.sentence import read_sentence

DOCS = Path(__file__).parents[2] / "docs"
PAGE = (DOCS / "sheets.md").read_text(encoding="utf-8")
TODAY = date(2026, 3, 10)
UNITS = [(name, "My army") for name in ("spears", "riders", "captain")]


def section(title: str) -> str:
    return PAGE.split(f"\n## {title}\n")[1].split("\n## ")[0]


@pytest.mark.parametrize(
    ("title", "form"),
    [("Evening sheet", evenings.FORM), ("Roster sheet", roster.FORM), ("Planned sheet", planned.FORM)],
)
def test_every_column_has_its_row(title: str, form: Form) -> None:
    rows = [line.split("|") for line in section(title).splitlines() if line.startswith("| `")]
    named = [(column, row[3].strip()) for row in rows for column in re.findall(r"`(\w+)`", row[1])]
    assert {column for column, _ in named} == set(form.columns)
    assert {column for column, needed in named if needed == "yes"} == set(form.needed)


@pytest.mark.parametrize("sheet", [recipes, spares, roles, sources])
def test_the_sheets_of_the_bench_book_are_listed_whole(sheet: ModuleType) -> None:
    name = sheet.__name__.rpartition(".")[2]
    said = next(part for part in section("The sheets of the bench book").split("\n- ") if f"`{name}`" in part)
    listed, _, needed = said.partition("\n\n")[0].partition("Needed:")
    assert set(re.findall(r"`(\w+)`", listed)) - {name} == set(sheet.FORM.columns)
    assert set(re.findall(r"`(\w+)`", needed)) == set(sheet.FORM.needed)


def test_the_example_sheet_is_read() -> None:
    sheet = "\n".join(re.findall(r"(?m)^    ((?:date,|2026).*)$", section("Evening sheet")))
    read = read_evenings(sheet, today=TODAY)
    assert (len(read.rows), read.problems) == (3, ())


def test_the_example_problems_are_those_that_are_said() -> None:
    sheet = "date,unit,step,minutes\n" + "2026-03-01,spears,shade,\n" * 5
    sheet += "2026-03-01,spears,shade,-5\n2026-03-01,spears,shade,\n2026-02-30,spears,shade,\n"
    said = "\n".join(f"    {problem}" for problem in read_evenings(sheet, today=TODAY).problems)
    assert said in section("Problems")


def test_the_example_sentences_are_understood() -> None:
    examples = re.findall(r"(?m)^- `(.*)`$", section("The sentence"))
    tutorial = (DOCS / "tutorial.md").read_text(encoding="utf-8")
    examples += re.findall(r'lastcoat log "(.*)"', tutorial)
    assert len(examples) >= 10
    for example in examples:
        said = read_sentence(example, UNITS, list(CATALOGUE), TODAY)
        assert not isinstance(said, Problem), str(said)
