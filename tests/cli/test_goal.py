"""`lastcoat goal`: set, shown, cut, picked, dropped, undone; one clear line for each mistake."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from tests.workbench.answering import empty_desk, small_desk
from tracker.cli.main import main
from tracker.domain.records import Goal
from tracker.domain.rows import RosterRow
from tracker.workbench.adding import add_unit
from tracker.workbench.answers import forecast
from tracker.workbench.desk import Desk
from tracker.workbench.past import redo, undo


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    """Spears in work, riders not begun, a captain and axes with points."""
    desk = small_desk(tmp_path)
    add_unit(desk, RosterRow("Captain", 1, "Host", kind="character", points=90.0))
    add_unit(desk, RosterRow("Axes", 12, "Host", points=120.0, files=4, ranks=3))
    return desk


def run(desk: Desk, *words: str) -> Result:
    return CliRunner().invoke(main, ["goal", *words], obj=desk)


def said(desk: Desk, *words: str) -> str:
    done = run(desk, *words)
    assert done.exit_code == 0, done.output
    assert words[0] in {"add", "set"} or max(map(len, done.stdout.splitlines())) <= 80
    return " ".join(done.stdout.split())


def document(desk: Desk, *words: str) -> dict[str, Any]:
    done = run(desk, *words, "--json", "--draws", "200")
    assert done.exit_code == 0, done.output
    assert done.stdout == run(desk, *words, "--json", "--draws", "200").stdout
    found: dict[str, Any] = json.loads(done.stdout)
    return found


def test_a_goal_is_set_changed_dropped_and_undone(desk: Desk) -> None:
    assert said(desk, "add", "Spring game", "2027-03-13", "--unit", "spears", "--unit", "Host: Riders") == (
        'Stored: goal "Spring game": Spears, Riders table-ready by Sat 13 Mar 2027.'
    )
    said(desk, "set", "spring GAME", "--date", "2027-03-20", "--name", "Summer game", "--least-models", "5")
    (goal,) = desk.records().goals
    assert (goal.name, goal.date.isoformat(), goal.unit_ids, goal.least_models) == (
        "Summer game", "2027-03-20", (1, 2), 5,
    )  # fmt: skip
    assert said(desk, "set", "Summer game", "--models", "4") == (
        'Stored: goal "Summer game": 4 models table-ready of Spears, Riders by Sat 20 Mar 2027.'
    )
    assert said(desk, "set", "Summer game", "--points", "90").startswith(
        'Stored: goal "Summer game": 90 points'
    )
    assert desk.records().goals[0].models is None
    assert said(desk, "drop", "summer game") == 'Stored: no longer the goal "Summer game".'
    assert desk.records().goals == ()
    undo(desk)
    assert len(desk.records().goals) == 1
    for _ in range(4):
        undo(desk)
    assert desk.records().goals == ()
    redo(desk)
    assert desk.records().goals[0].name == "Spring game"


def test_goals_are_shown_with_those_of_units(desk: Desk) -> None:
    run(desk, "add", "Everything", "2028-03-13")
    run(desk, "add", "Two ready", "2026-12-01", "--models", "2")
    words = said(desk, "show", "--draws", "300")
    assert "Spears, 1 Jun 2027: Spears. Chance: " in words
    assert "Two ready, 1 Dec 2026: 2 models." in words
    assert "Everything, 13 Mar 2028: every unit." in words
    for nudge in ("sleep", "late at night", "buy", "hurry", "must"):
        assert nudge not in words
    found = document(desk, "show")
    assert [goal["name"] for goal in found["goals"]] == ["Two ready", "2027-06-01", "Everything"]
    own = found["goals"][1]
    # A unit's own goal date is the forecast's: the same futures.
    spears = next(unit for unit in forecast(desk, draws=200).units if unit.unit == "Spears")
    assert own["chance"] == pytest.approx(spears.chance_by_goal, abs=1e-4)
    assert [own["met"][str(level)] for level in (5, 50, 95)] == [
        day and day.isoformat() for day in (spears.ready[0], spears.ready[9], spears.ready[18])
    ]
    assert own["begin_by"] is None or "2026-10-31" <= own["begin_by"] <= "2027-06-01"


def test_cuts_are_shown_and_nothing_is_stored(desk: Desk) -> None:
    run(desk, "add", "Club day", "2027-01-10", "--unit", "Axes", "--unit", "Spears")
    before = desk.records()
    words = said(desk, "cut", "club day", "--draws", "200")
    assert "Chance as it is:" in words
    assert "without Axes" in words
    assert "Nothing is stored." in words
    found = document(desk, "cut", "Club day")
    assert found["cuts"]
    assert all({"words", "wish"} <= set(one) for cut in found["cuts"] for one in cut["cuts"])
    assert desk.records() == before
    # A unit's own goal goes by the unit's name as well.
    assert said(desk, "cut", "spears", "--draws", "200").startswith("Spears, 1 Jun 2027: Spears.")


def test_a_pick(desk: Desk) -> None:
    words = said(desk, "pick", "2028-10-13", "--draws", "300")
    assert words.startswith("Most points by 13 Oct 2028, kept 8 times in 10")
    assert "Without points, so not weighed: Spears, Riders." in words
    found = document(desk, "pick", "2028-10-13")
    assert found["points"] == sum(one["points"] for one in found["picked"])
    assert found["best_for_sure"]
    assert "No unit with points can be counted on" in said(desk, "pick", "2026-10-31", "--draws", "200")


@pytest.mark.parametrize(
    ("words", "status", "line"),
    [
        (("add", "x", "13.3."), 2, "is no date"),
        (("add", "x", "2026-01-01"), 1, "2026-01-01 is past"),
        (("add", "x", "2099-01-01"), 1, "too far off"),
        (("add", " ", "2027-01-01"), 1, "the name is empty"),
        (("add", "x", "2027-01-01", "--unit", "spaers"), 1, 'Did you mean "Spears"'),
        (("add", "x", "2027-01-01", "--models", "0"), 1, "--models: 0 cannot be"),
        (("add", "x", "2027-01-01", "--points", "nan"), 1, "--points: nan cannot be"),
        (("add", "x", "2027-01-01", "--points", "5", "--models", "5"), 1, "for models and for points"),
        (("add", "x", "2027-01-01", "--least-models", "-1"), 1, "--least-models: -1 cannot be"),
        (("add", "GAME", "2027-01-01"), 1, 'there is a goal "GAME" already'),
        (("set", "Game"), 2, "goal set: nothing is said"),
        (("set", "Gaem", "--models", "3"), 1, 'there is no goal "Gaem". Did you mean "Game"'),
        (("drop", "Spears"), 1, 'there is no goal "Spears"'),
        (("cut", "nothing at all"), 1, "there is no goal"),
        (("pick", "2026-01-01"), 1, "is past"),
        (("pick", "2026-13-01"), 2, "is no date"),
    ],
)
def test_a_mistake_is_one_line_and_stores_nothing(
    desk: Desk, words: tuple[str, ...], status: int, line: str
) -> None:
    run(desk, "add", "Game", "2027-03-13")
    before = desk.records()
    done = run(desk, *words)
    assert done.exit_code == status
    assert done.stdout == ""
    assert line in done.stderr
    assert done.stderr.count("\n") == 1
    assert desk.records() == before


def test_a_goal_that_is_past_is_said_kindly(desk: Desk) -> None:
    run(desk, "add", "Game", "2026-11-13", "--unit", "Riders")
    later = desk._replace(now=lambda: desk.now().replace(year=2027))
    assert "Its day is past; what was open then can go on without it." in said(
        later, "show", "--draws", "200"
    )
    done = run(later, "cut", "Game")
    assert (done.exit_code, done.stdout) == (1, "")
    assert "its day, 2026-11-13, is past" in done.stderr


def test_an_empty_log(tmp_path: Path) -> None:
    desk = empty_desk(tmp_path)
    assert "lastcoat goal add" in said(desk, "show")
    assert document(desk, "show")["goals"] == []
    assert "No unit with points" in said(desk, "pick", "2027-01-01", "--draws", "200")
    assert not Path(desk.path).exists()
    assert run(desk, "add", "x", "2027-01-01").exit_code == 1
    assert Goal(0, "x", desk.today()).unit_ids == ()
