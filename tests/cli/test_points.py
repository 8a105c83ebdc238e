"""`lastcoat points`: sums, a target set and dropped, its days, and which units reach it."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from tests.workbench.answering import empty_desk, small_desk
from tracker.cli.main import main
from tracker.domain.rows import RosterRow
from tracker.workbench.adding import add_unit
from tracker.workbench.desk import Desk
from tracker.workbench.past import undo
from tracker.workbench.units_plan import set_plan


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    """Spears in work, riders not begun, a captain; their points; bows without."""
    desk = small_desk(tmp_path)
    set_plan(desk, "Spears", {"points": 40.0})
    set_plan(desk, "Riders", {"points": 60.0})
    add_unit(desk, RosterRow("Captain", 1, "Host", kind="character", points=90.0))
    add_unit(desk, RosterRow("Bows", 3, "Host"))
    return desk


def run(desk: Desk, *words: str) -> Result:
    return CliRunner().invoke(main, ["points", *words], obj=desk)


def said(desk: Desk, *words: str) -> str:
    done = run(desk, *words)
    assert done.exit_code == 0, done.output
    return " ".join(done.stdout.split())


def the_list(desk: Desk) -> dict[str, Any]:
    done = run(desk, "--json", "--draws", "200")
    assert done.exit_code == 0, done.output
    assert done.stdout == run(desk, "--json", "--draws", "200").stdout
    answer: dict[str, Any] = json.loads(done.stdout)
    assert answer["as_of"] == "2026-10-31"
    (army,) = answer["armies"]
    return dict(army) | {"doubts": answer["doubts"]}


def test_a_target_is_set_told_and_dropped(desk: Desk) -> None:
    words = said(desk)
    assert "Host: planned 190 points, built 40, table-ready 0 in whole units." in words
    assert "Set one: lastcoat points --target 1000" in words
    assert "Without points, so in no sum: Bows." in words
    assert said(desk, "--target", "100") == "Stored: the list of Host is meant to have 100 points."
    found = the_list(desk)
    assert (found["state"], found["missing"], found["target"]) == ("open", 100.0, 100.0)
    dates = [found["reached"][str(level)] for level in range(5, 100, 5)]
    assert [day for day in dates if day] == sorted(day for day in dates if day)
    assert found["on_the_way"][0] == "Spears"
    assert found["doubts"]
    goal = found["by_goal"]  # the spears' own goal date
    assert (goal["date"], goal["goal"]) == ("2027-06-01", "2027-06-01")
    words = said(desk, "--draws", "200")
    assert "The target is 100 points; 100 are missing." in words
    assert "Reached " in words
    assert "By 1 Jun 2027, " in words
    assert said(desk, "--target", "500").startswith("Stored: ")
    assert the_list(desk)["state"] == "never"
    assert "310 short of it" in said(desk)
    assert the_list(desk)["reached"] is None
    undo(desk)
    assert the_list(desk)["target"] == 100.0
    assert said(desk, "--drop-target") == "Stored: no target for the list of Host any more."
    assert the_list(desk)["state"] == "none"


def test_what_is_on_the_table_is_met(desk: Desk) -> None:
    add_unit(desk, RosterRow("Axes", 2, "Host", points=30.0, steps=("varnish",)), already="varnish")
    run(desk, "--target", "30")
    assert "The target of 30 points is on the table." in said(desk)


@pytest.mark.parametrize(
    ("words", "status", "says"),
    [
        (["--drop-target"], 1, "has no target"),
        (["--target", "0"], 1, "0 points cannot be"),
        (["--target", "nan"], 1, "nan points cannot be"),
        (["--target", "5", "--drop-target"], 2, "Say one of them"),
        (["--target", "5", "--army", "Hst"], 1, 'Did you mean "Host"?'),
        (["--army", "Hst"], 1, 'Did you mean "Host"?'),
    ],
)
def test_a_mistake_is_one_line(desk: Desk, words: list[str], status: int, says: str) -> None:
    done = run(desk, *words)
    assert (done.exit_code, done.stdout) == (status, "")
    assert says in done.stderr
    assert done.stderr.count("\n") == 1


def test_two_armies_need_a_name_and_an_empty_desk_a_unit(desk: Desk, tmp_path: Path) -> None:
    add_unit(desk, RosterRow("Guests", 1, "Other"))
    assert 'Say --army "Host" or "Other"' in run(desk, "--target", "5").stderr
    assert "Other: none of its units has points." in said(desk)
    (tmp_path / "new").mkdir()
    assert "Put a unit on it" in said(empty_desk(tmp_path / "new"))
