"""The sheets of spares and roles: there and back, twice, and one line for each mistake."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.desks import a_desk, with_spears
from tracker.domain.problems import DataError
from tracker.domain.rows_spares import SpareRow
from tracker.workbench.book_sheets import export_book_sheet, import_book_sheet, read_book_sheet
from tracker.workbench.desk import Desk
from tracker.workbench.past import undo
from tracker.workbench.results import Imported
from tracker.workbench.roles import RoleSaid, add_roles, fill_role
from tracker.workbench.roster_in import import_roster
from tracker.workbench.spares import SpareSaid, new_spares
from tracker.workbench.spares_sheet import export_spares
from tracker.workbench.whole import export_roster


def brought(desk: Desk, what: str, text: str, *, keep_good: bool = False) -> Imported:
    read = read_book_sheet(what, text, today=desk.today())
    assert read.problems == ()
    return import_book_sheet(desk, what, read.rows, keep_good=keep_good)


def a_full_desk(folder: Path) -> Desk:
    folder.mkdir()
    desk = with_spears(folder, 2)
    new_spares(
        desk,
        2,
        SpareSaid(name="=1+1", place="-shelf", tags=("a;b", "=c\\"), note=" two\nlines", state="begun"),
    )
    new_spares(
        desk, 1, SpareSaid(kind="cavalry", base="25x50", height_mm=46.5, part="mount", material="resin")
    )
    add_roles(desk, "Spears", "captain", RoleSaid("character", "25x25", 30.5, ("=sword", "a;b")))
    add_roles(desk, "Spears", "pike", RoleSaid(), count=2)
    fill_role(desk, "captain", 2, "stand-in")
    return desk


def test_there_and_back_gives_the_same_sheets_and_twice_changes_nothing(tmp_path: Path) -> None:
    one = a_full_desk(tmp_path / "one")
    (tmp_path / "other").mkdir()
    other = a_desk(tmp_path / "other")
    import_roster(other, export_roster(one))
    for what in ("spares", "roles"):
        text = export_book_sheet(one, what)
        assert "\n=" not in text
        assert ",=" not in text
        brought(other, what, text)
        assert export_book_sheet(other, what) == text
        again = brought(other, what, text)
        assert (again.added, again.changed) == (0, 0)
        assert again.sentence().startswith("Nothing to store: nothing is new (")
    undo(other)
    assert export_book_sheet(other, "roles").count("\n") == 1


def test_a_number_says_which_spare_is_meant_and_rows_without_one_are_counted(tmp_path: Path) -> None:
    desk = a_desk(tmp_path)
    text = "name,models,place,tags\npike,3,box,spear; shield\n"
    assert brought(desk, "spares", text).sentence() == "Stored: 3 spares new."
    assert brought(desk, "spares", text).unchanged == 3
    more = "number,name,models,place,tags\n2,pike,,shelf,spear\n,pike,3,box,spear; shield\n"
    assert brought(desk, "spares", more).sentence() == (
        "Stored: 1 spare new, 1 spare changed, 2 spares known already."
    )
    assert [(row.number, row.place) for row in export_spares(desk)] == [
        (1, "box"), (2, "shelf"), (3, "box"), (4, "box"),
    ]  # fmt: skip


def test_a_dry_run_stores_nothing(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    done = import_book_sheet(desk, "spares", [SpareRow(name="pike")], dry_run=True)
    assert done.sentence() == "Would store: 1 spare new."
    assert export_spares(desk) == ()


@pytest.mark.parametrize(
    ("what", "row", "words"),
    [
        ("spares", "number,name,models\n3,x,2\n", "row 2: number 3 stands for 2 models"),
        ("spares", "number,name\n3,x\n3,y\n", "row 3: spare 3 already stands in row 2"),
        ("spares", "name,state\nx,glued\n", 'row 2: "glued" is no state. Write one of: bare, built'),
        ("spares", "name,base\nx,round\n", "row 2: .*is not a base size"),
        ("spares", "name,height_mm\nx,tall\n", "row 2: height_mm .*is not a number"),
        ("roles", "unit,role,stand_in\nSpears,x,stand-in\n", "row 2: nobody has the role"),
        ("roles", "unit,role,stand_in\nSpears,x,maybe\n", "row 2: stand_in is"),
        ("roles", "unit,role\nSpears,x\nspears,X\n", "row 3: the role .* already stands in row 2"),
        ("roles", "unit,role\nSpears,\n", "row 2: role is empty"),
    ],
)
def test_a_mistake_names_its_row(tmp_path: Path, what: str, row: str, words: str) -> None:
    read = read_book_sheet(what, row, today=a_desk(tmp_path).today())
    assert read.problems
    with pytest.raises(DataError, match=words):
        raise DataError(read.problems[0])


def test_what_the_log_cannot_take_names_its_row_and_the_good_rows_can_stay(tmp_path: Path) -> None:
    desk = with_spears(tmp_path, 2)
    add_roles(desk, "Spears", "horn", RoleSaid())
    text = "unit,role,model\nNobody,x,\nSpears,captain,9\nSpears,horn,1\nSpears,drum,1\n"
    with pytest.raises(DataError) as refusal:
        brought(desk, "roles", text)
    problems = [str(problem) for problem in refusal.value.problems]
    assert problems[0].startswith('row 2: unit: there is no unit "Nobody"')
    assert problems[1].startswith('row 3: models: "Spears" has no model 9')
    assert problems[2].startswith('row 5: model: 1 of "Spears" has the role "horn" already')
    assert brought(desk, "roles", text, keep_good=True).changed == 1
