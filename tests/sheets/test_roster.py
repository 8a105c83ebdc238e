"""The roster and the planned sheet."""

from __future__ import annotations

from datetime import date

import pytest

from tracker.domain.answers import PlannedLine
from tracker.domain.rows import RosterRow
from tracker.sheets.planned import read_planned
from tracker.sheets.roster import join_steps, read_roster, split_steps, write_roster

TODAY = date(2026, 3, 10)


def test_only_unit_and_models_are_needed() -> None:
    assert read_roster("unit,models\nspears,20\n", today=TODAY).rows == (RosterRow("spears", 20, row=2),)


def test_every_column() -> None:
    text = (
        "army,unit,models,points,kind,material,standard,base,files,ranks,steps,finish_line,guess_minutes,"
        "goal_date,goal,order,source,cost,added,note\n"
        "North,spears,20,120.5,Infantry,METAL,good,20x20,5,4,Cleaning; my wash ;Varnish,Varnish,600,"
        "2027-05-01,the spring game,1,swap,10,2026-01-02,old ones\n"
    )
    assert read_roster(text, today=TODAY).rows == (
        RosterRow(
            "spears", 20, "North", 120.5, "infantry", "metal", "good", "20x20", 5, 4,
            ("cleaning", "my wash", "varnish"), "varnish", 600, date(2027, 5, 1), "the spring game", 1,
            "swap", "10", "old ones", date(2026, 1, 2), 2,
        ),
    )  # fmt: skip


@pytest.mark.parametrize(
    ("column", "cell", "what", "mend"),
    [
        ("models", "", "models is empty", "how many"),
        ("models", "0", 'models is "0"', "whole number from 1"),
        ("models", "10001", "models is", "10000"),
        ("unit", "", "unit is empty", "Fill it in"),
        ("base", "big", '"big" is not a base size', "25x50"),
        ("files", "0", 'files is "0"', "from 1"),
        ("order", "first", "is not a number", "digits"),
        ("points", "-1", "points is", "0 or more"),
        ("goal_date", "spring", "is not a date", "2026-03-04"),
        ("added", "2027-01-01", "lies in the future", ""),
        ("steps", "priming;Priming", 'the step "priming" stands twice', "once"),
        ("finish_line", "varnih", "is not one of its steps", 'Did you mean "varnish"?'),
    ],
)
def test_problems(column: str, cell: str, what: str, mend: str) -> None:
    cells = {"unit": "spears", "models": "20", "steps": "priming;varnish", column: cell}
    read = read_roster(",".join(cells) + "\n" + ",".join(cells.values()) + "\n", today=TODAY)
    (problem,) = read.problems
    assert problem.where == "row 2"
    assert what in problem.what
    assert mend in problem.mend


def test_a_unit_stands_once() -> None:
    text = "army,unit,models\nNorth,spears,20\nSouth,spears,20\nnorth,Spears,5\n"
    read = read_roster(text, today=TODAY)
    assert str(read.problems[0]).startswith('row 4: the unit "Spears" already stands in row 2.')
    assert len(read.rows) == 2


@pytest.mark.parametrize("names", [(), ("a;b", "c\\"), ("\\;", "\\\\;"), ("plain", "two words")])
def test_steps_in_one_cell(names: tuple[str, ...]) -> None:
    assert split_steps(join_steps(names)) == names


def test_steps_typed_by_hand() -> None:
    assert split_steps(" Priming;;a\\b ; Shade;") == ("priming", "a\\b", "shade")


def test_written_roster_reads_the_same() -> None:
    row = RosterRow("spears", 20, steps=("=x", "y"), finish_line="=x", note="-", row=2)
    assert read_roster(write_roster([row]), today=TODAY).rows == (row,)


def test_planned() -> None:
    read = read_planned("unit,step,models,guess_minutes,kind\nspears,Shade,10,40,Monster\nriders,own,,,\n")
    assert read.rows == (
        PlannedLine("My army", "spears", "shade", 10, 40.0, "monster"),
        PlannedLine("My army", "riders", "own"),
    )
    assert "material" not in read.columns


def test_planned_problems() -> None:
    read = read_planned("unit,step,models,mood\nspears,shade,0,calm\n,shade,1,\n")
    assert [problem.where for problem in read.problems] == ["row 2", "row 3"]
    assert read.notes == ('the column "mood" is not known; it is left out',)
