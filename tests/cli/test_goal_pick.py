"""`lastcoat goal pick` for a goal by its name: its day, and its units where it names some."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from tests.workbench.answering import small_desk
from tracker.cli.main import main
from tracker.domain.rows import RosterRow
from tracker.workbench.adding import add_unit
from tracker.workbench.desk import Desk


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    """Units with points, and a goal that names two of them."""
    desk = small_desk(tmp_path)
    add_unit(desk, RosterRow("Captain", 1, "Host", kind="character", points=90.0))
    add_unit(desk, RosterRow("Axes", 12, "Host", points=120.0))
    add_unit(desk, RosterRow("Bows", 2, "Host", points=30.0))
    run(desk, "add", "Fair", "2027-10-01", "--unit", "Captain", "--unit", "Axes", "--unit", "Riders")
    run(desk, "add", "2028-01-01", "2027-10-01", "--points", "100")
    return desk


def run(desk: Desk, *words: str) -> Result:
    return CliRunner().invoke(main, ["goal", *words], obj=desk)


def picked(desk: Desk, said: str) -> dict[str, Any]:
    done = run(desk, "pick", said, "--json", "--draws", "200")
    assert done.exit_code == 0, done.output
    found: dict[str, Any] = json.loads(done.stdout)
    return found


def weighed(answer: dict[str, Any]) -> set[str]:
    return {one["unit"] for part in ("picked", "for_later", "ready") for one in answer[part]}


def test_a_goal_s_name_stands_for_its_day_and_units(desk: Desk) -> None:
    fair, day = picked(desk, "fair"), picked(desk, "2027-10-01")
    assert fair["date"] == day["date"] == "2027-10-01"
    assert weighed(fair) == {"Captain", "Axes"}
    assert weighed(day) == {"Captain", "Axes", "Bows"}
    assert fair["without_points"] == ["Riders"]
    assert day["points"] >= fair["points"] > 0


def test_what_looks_like_a_date_is_one(desk: Desk) -> None:
    assert picked(desk, "2028-01-01")["date"] == "2028-01-01"


@pytest.mark.parametrize(
    ("said", "line", "status"),
    [
        ("2027-02-30", '"2027-02-30" is no date', 2),
        ("2027-3-1", '"2027-3-1" is no date', 2),
        ("fare", 'there is no goal "fare". Did you mean "Fair"?', 1),
        ("2020-01-01", "is past", 1),
    ],
)
def test_one_clear_line(desk: Desk, said: str, line: str, status: int) -> None:
    done = run(desk, "pick", said)
    assert (done.exit_code, done.stdout) == (status, "")
    assert line in str(done.stderr or done.exception)
    assert done.stderr.count("\n") <= 1
