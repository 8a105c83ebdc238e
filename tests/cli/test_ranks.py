"""Ranks on the command line: measured, planned, checked, drawn, written; every refusal one line."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from tests.desks import with_spears
from tracker.cli.main import main
from tracker.workbench.desk import Desk


def run(desk: Desk, *words: str) -> tuple[int, str, str]:
    """(status, output, complaints)."""
    done = CliRunner().invoke(main, ["ranks", *words, "--db", desk.path], obj=desk)
    return done.exit_code, done.stdout, done.stderr


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    """Three spears in a row, of which two clash as they stand."""
    desk = with_spears(tmp_path, 3)
    run(desk, "set", "Spears", "--files", "3", "--ranks", "1", "--base", "20x20", "--bands", "none")
    for number, reach in enumerate(("-5 6 -5 -3", "-5 -3 -5 2", "-5 -6 -5 -6"), start=1):
        assert run(desk, "measure", "Spears", str(number), reach)[0] == 0
    return desk


def test_the_unit_is_shown_planned_and_taken(desk: Desk) -> None:
    """The clash of 8 mm and the margin of 1 mm; one swap frees it."""
    shown = run(desk, "show", "Spears")[1]
    assert "as it stands" in shown
    assert "A1-B1: 1's right against 2's left, 9 mm" in shown
    planned = run(desk, "plan", "Spears", "--take")[1]
    assert "No clash at any of 2 joints" in planned
    assert "Stored: Spears: 3 models stand as planned." in planned
    assert "no clash" in run(desk, "show", "Spears")[1].casefold()


def test_checks_are_stored_and_planned_from(desk: Desk) -> None:
    """Both joints of the order as it stands, in one change."""
    status, said, _ = run(desk, "check", "Spears", "A1-B1", "fits", "B1-C1", "1.5", "--as-it-stands")
    assert status == 0
    assert said.startswith(
        "Stored: Spears: 1's right on 2's left fits; 2's right on 3's left clashes by 1.5 mm."
    )
    assert "Spears, the plan" in said
    answer = json.loads(run(desk, "plan", "Spears", "--json")[1])
    assert answer["status"] == "no clash"


def test_sizes_trays_and_fillers(desk: Desk) -> None:
    """In mm and inches (25.4 mm each, international yard and pound agreement 1959)."""
    assert "60 x 20" in run(desk, "size", "Spears")[1]
    assert "3.94 x 3.15" in run(desk, "size", "--files", "5", "--ranks", "4", "--base", "20x20")[1]
    assert "5 wide, 2 deep" in run(desk, "fit", "126x101", "--base", "25x50")[1]
    run(desk, "set", "Spears", "--ranks", "3")
    status, said, _ = run(desk, "saves", "Spears", "40x40", "--draws", "100")
    assert status == 0
    assert "one filler takes 4" in said


def test_blocks_come_and_go(desk: Desk) -> None:
    """Each act says what it did."""
    run(desk, "set", "Spears", "--ranks", "2")
    assert "takes A2 to B2" in run(desk, "filler", "Spears", "40x20", "--at", "A2")[1]
    assert "Stored: Spears: the filler at A2 is gone" in run(desk, "clear", "Spears", "--at", "A2")[1]
    assert "stands on 40x20 at B1" in run(desk, "large", "Spears", "1", "40x20", "--at", "B1")[1]
    assert "shared base of 40x20" in run(desk, "shared", "Spears", "40x20", "--at", "A2", "--holds", "1")[1]


def test_turns_holds_and_places(desk: Desk) -> None:
    """Each act says what it did."""
    assert "turns any" in run(desk, "turns", "Spears", "all", "any")[1]
    assert "stems 0, 15 mm" in run(desk, "turns", "Spears", "1", "", "--stems", "0,15")[1]
    assert "keeps B1" in run(desk, "hold", "Spears", "2", "B1")[1]
    assert "free to go anywhere" in run(desk, "hold", "Spears", "2", "free")[1]
    assert "stands at C1, turned by 180" in run(desk, "put", "Spears", "1", "C1", "--turn", "180")[1]


def test_the_sheet_is_written_and_nothing_else_written_over(desk: Desk, tmp_path: Path) -> None:
    """A page, a drawing, and a file that is neither."""
    page, drawing, other = tmp_path / "s.html", tmp_path / "s.svg", tmp_path / "notes.html"
    assert "Print it at 100 %" in run(desk, "sheet", "Spears", str(page), "--plan", "--paper", "letter")[1]
    assert page.read_text(encoding="utf-8").lower().startswith("<!doctype html")
    assert run(desk, "sheet", "Spears", str(drawing))[0] == 0
    assert "<svg" in drawing.read_text(encoding="utf-8")
    other.write_text("my own words")
    status, _, complaint = run(desk, "sheet", "Spears", str(other))
    assert status == 2
    assert complaint.count("\n") == 1
    assert other.read_text() == "my own words"


@pytest.mark.parametrize(
    "words",
    [
        ("show", "Bows"),
        ("plan", "Spears", "--seed", "-1"),
        ("set", "Spears", "--files", "0"),
        ("set", "Spears", "--least", "lots"),
        ("measure", "Spears", "1", "-6 wide"),
        ("check", "Spears", "A1-B1"),
        ("size", "--files", "10000", "--ranks", "10000", "--base", "20x20"),
        ("size",),
        ("fit", "wide", "--base", "20x20"),
        ("filler", "Spears", "40x40", "--at", "A1"),
        ("put", "Spears", "1", "\x1b[31mA1"),
    ],
)
def test_mistakes_are_one_line(desk: Desk, words: tuple[str, ...]) -> None:
    """On standard error, nothing on the other, status 1 or 2."""
    status, said, complaint = run(desk, *words)
    assert status in (1, 2)
    assert said == ""
    assert complaint.count("\n") == 1
    assert "\x1b" not in complaint
