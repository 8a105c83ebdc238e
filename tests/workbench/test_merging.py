"""Joining two logs, case by case; random edits on both sides are in tests/properties."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from tests.properties.two_logs import copied, desk_at
from tests.store.test_migrations import an_old_log
from tracker.domain.problems import DataError
from tracker.domain.progress import progress_of
from tracker.domain.rows import EveningRow, RosterRow
from tracker.report.merge_words import merge_json, merge_lines
from tracker.store.numbers import NEWEST_SCHEMA
from tracker.workbench.adding import add_unit
from tracker.workbench.desk import Desk
from tracker.workbench.evening import set_evening_minutes
from tracker.workbench.evenings_in import import_evenings
from tracker.workbench.goals import GoalWish, add_goal
from tracker.workbench.lamp import lamp_on, lamp_state
from tracker.workbench.lines import Entry, log_line
from tracker.workbench.merging import merge_log
from tracker.workbench.models import mark
from tracker.workbench.paints import paint_out
from tracker.workbench.past import undo
from tracker.workbench.recipes import add_recipe, change_recipe
from tracker.workbench.roles import RoleSaid, add_roles, fill_role
from tracker.workbench.routing import RouteWish, change_route
from tracker.workbench.spares import SpareSaid, new_spares
from tracker.workbench.units_plan import rename, set_plan
from tracker.workbench.units_shape import merge, split
from tracker.workbench.whole import export_document

DAY = date(2026, 3, 3)


@pytest.fixture
def pair(tmp_path: Path) -> tuple[Desk, Desk]:
    """The same log on a desktop and a laptop: 20 spears, three of them cleaned."""
    common = desk_at(tmp_path, "common")
    add_unit(common, RosterRow("Spears", 20, added=date(2026, 3, 1)))
    log_line(common, Entry("Spears", "cleaning", models=3, minutes=20.0, day=date(2026, 3, 2)))
    return copied(common, tmp_path, "desktop"), copied(common, tmp_path, "laptop")


def both(pair: tuple[Desk, Desk], edit: Callable[[Desk], Any]) -> None:
    for desk in pair:
        edit(desk)


def test_lines_of_both_are_there_once(pair: tuple[Desk, Desk]) -> None:
    here, there = pair
    log_line(here, Entry("Spears", "cleaning", models=2, minutes=15.0, day=DAY))
    log_line(there, Entry("Spears", "assembly", models=4, minutes=40.0, day=DAY))
    done = merge_log(here, there.path)
    assert (done.added["line"], done.added["session"], done.clashes) == (1, 1, ())
    assert [line.minutes for line in here.records().lines] == [20.0, 15.0, 40.0]
    assert [session.label for session in here.records().sessions] == ["", "", "2"]
    assert 'their evening of 2026-03-03 comes in as "2": there is another one here' in done.notes
    assert merge_lines(merge_log(here, there.path))[0] == "Nothing to join: nothing is new there."
    assert undo(here).words == "laptop.db: 1 line"


def test_the_same_models_on_both_are_told(pair: tuple[Desk, Desk]) -> None:
    both(pair, lambda desk: log_line(desk, Entry("Spears", "cleaning", models=2, day=DAY)))
    said = merge_log(pair[0], pair[1].path).notes[-1]
    assert said == "both logs have cleaning on Spears 4, 5: if theirs were others, lastcoat mark tells it"


def test_what_theirs_did_twice_is_not_told(pair: tuple[Desk, Desk]) -> None:
    log_line(pair[1], Entry("Spears", "cleaning", numbers=(4,), day=DAY))
    mark(pair[1], "Spears", "4", "cleaning", "not yet", day=DAY)
    log_line(pair[1], Entry("Spears", "cleaning", numbers=(4,), day=DAY))
    assert merge_log(pair[0], pair[1].path).notes == ()
    assert progress_of(pair[0].records()).is_done(4, "cleaning")


def test_what_one_side_changed_is_taken_and_what_both_changed_is_told(pair: tuple[Desk, Desk]) -> None:
    here, there = pair
    rename(there, "Spears", "Pikes")
    set_plan(here, "Spears", {"points": 120.0, "note": "red"})
    set_plan(there, "Pikes", {"note": "blue"})
    assert merge_log(here, there.path, dry_run=True).dry_run
    assert here.records().units[0].name == "Spears"
    done = merge_log(here, there.path)
    unit = here.records().units[0]
    assert (unit.name, unit.points, unit.note) == ("Pikes", 120.0, "red")
    assert [(c.field, c.ours, c.theirs, c.kept) for c in done.clashes] == [("note", "red", "blue", "ours")]
    assert 'note: yours "red", theirs "blue"' in "\n".join(merge_lines(done))
    assert merge_json(done)["conflicts"][0]["what"] == "Spears"
    merge_log(here, there.path, take_theirs=True)
    assert here.records().units[0].note == "blue"
    assert merge_log(here, there.path).clashes == ()


def test_a_document_joins_as_the_log_does_but_knows_no_past(pair: tuple[Desk, Desk], tmp_path: Path) -> None:
    from tracker.sheets.document import write_document

    here, there = pair
    rename(there, "Spears", "Pikes")
    log_line(there, Entry("Pikes", "assembly", models=4, minutes=40.0, day=DAY))
    file = tmp_path / "everything.json"
    file.write_text(write_document(export_document(there)), encoding="utf-8")
    done = merge_log(here, str(file))
    assert (done.added["line"], [clash.field for clash in done.clashes]) == (1, ["name"])
    assert here.records().units[0].name == "Spears"


def test_units_of_one_name_stand_beside_each_other(pair: tuple[Desk, Desk]) -> None:
    both(pair, lambda desk: add_unit(desk, RosterRow("Bows", 5, added=DAY)))
    done = merge_log(pair[0], pair[1].path)
    assert [unit.name for unit in pair[0].records().units] == ["Spears", "Bows", "Bows (2)"]
    assert done.notes == ('their unit "Bows" comes in as "Bows (2)": there is another one here',)
    assert not merge_log(pair[0], pair[1].path).changed
    merge_log(pair[1], pair[0].path)
    assert sorted(unit.name for unit in pair[1].records().units) == ["Bows", "Bows (2)", "Spears"]
    assert merge_log(pair[0], pair[1].path).clashes == ()


def test_numbers_that_are_taken_are_given_anew(pair: tuple[Desk, Desk]) -> None:
    both(pair, lambda desk: add_unit(desk, RosterRow("Spears", 2, added=DAY), more=True))
    done = merge_log(pair[0], pair[1].path)
    assert [model.number for model in pair[0].records().models][-4:] == [21, 22, 23, 24]
    assert done.notes == ("their models 21, 22 of Spears are 23, 24 here: the numbers were taken",)
    assert not merge_log(pair[0], pair[1].path).changed


def test_versions_of_a_recipe_are_numbered_on(pair: tuple[Desk, Desk], tmp_path: Path) -> None:
    add_recipe(pair[0], "Cloaks", "cloth: dark red")
    there = copied(pair[0], tmp_path, "tablet")
    change_recipe(pair[0], "Cloaks", "cloth: dark red, wash")
    change_recipe(there, "Cloaks", "cloth: bright red")
    merge_log(pair[0], there.path)
    with pair[0].open() as store:
        rows = store.rows(
            "SELECT number, paint FROM recipe_step JOIN recipe_version AS v ON v.id = version_id"
        )
    assert rows == [(1, "dark red"), (2, "dark red"), (2, ""), (3, "bright red")]


def test_a_mark_on_both_sides_is_a_conflict_and_one_alone_comes_in(pair: tuple[Desk, Desk]) -> None:
    here, there = pair
    mark(here, "Spears", "1", "priming", "done", day=DAY)
    mark(there, "Spears", "1", "priming", "skipped", day=DAY)
    mark(there, "Spears", "2", "priming", "done", day=DAY)
    both(pair, lambda desk: mark(desk, "Spears", "3", "priming", "in hand", day=DAY))
    done = merge_log(here, there.path)
    assert [(c.what, c.field, c.ours, c.theirs) for c in done.clashes] == [
        ("Spears 1", "mark priming", "done", "skipped")
    ]
    cells = progress_of(here.records()).cells
    states = [cells[model, "priming"].state for model in (1, 2, 3)]
    assert states == ["done", "done", "in hand"]
    assert len(here.records().marks) == 3
    merge_log(here, there.path, take_theirs=True)
    assert progress_of(here.records()).cells[1, "priming"].state == "skipped"


def test_a_route_is_one_thing(pair: tuple[Desk, Desk]) -> None:
    here, there = pair
    change_route(there, "Spears", RouteWish(steps=("cleaning", "priming")))
    assert merge_log(here, there.path).clashes == ()
    assert here.records().units[0].route == ("cleaning", "priming")
    change_route(here, "Spears", RouteWish(steps=("cleaning", "assembly")))
    change_route(there, "Spears", RouteWish(steps=("cleaning", "tufts")))
    (clash,) = merge_log(here, there.path).clashes
    assert (clash.field, clash.ours, clash.theirs) == ("route_step", "cleaning, assembly", "cleaning, tufts")
    assert here.records().units[0].route == ("cleaning", "assembly")


def test_a_unit_that_was_split_or_joined_there_is_so_here(pair: tuple[Desk, Desk]) -> None:
    here, there = pair
    split(there, "Spears", "1-5", "Old spears")
    assert merge_log(here, there.path).clashes == ()
    assert here.records().units == there.records().units
    merge(there, "Old spears", "Spears")
    merge_log(here, there.path)
    assert {model.unit_id for model in here.records().models} == {1}


def test_what_was_taken_out_on_one_side_is_there_again(pair: tuple[Desk, Desk]) -> None:
    undo(pair[0])
    done = merge_log(pair[0], pair[1].path)
    assert done.added["line"] == 1
    assert merge_lines(done)[-1].startswith("What was taken out")


def test_a_sheet_read_in_on_both_machines_is_there_once(pair: tuple[Desk, Desk]) -> None:
    rows = [EveningRow(DAY, "Spears", "cleaning", models=2, minutes=20.0, row=n) for n in (2, 3)]
    both(pair, lambda desk: import_evenings(desk, rows))
    here, there = pair
    done = merge_log(here, there.path)
    assert not done.changed
    assert (
        import_evenings(here, rows).sentence() == "Nothing to store: nothing is new (2 lines known already)."
    )
    more = [*rows, EveningRow(DAY, "Spears", "assembly", models=1, minutes=9.0, row=4)]
    import_evenings(there, more)
    merge_log(here, there.path)
    assert len(here.records().lines) == 4
    assert import_evenings(here, more).added == 0


def test_an_evening_has_the_minutes_of_its_lines(pair: tuple[Desk, Desk]) -> None:
    here, there = pair
    set_evening_minutes(here, 30.0, date(2026, 3, 2))
    log_line(there, Entry("Spears", "assembly", models=1, minutes=25.0, day=date(2026, 3, 2)))
    done = merge_log(here, there.path)
    assert here.records().sessions[0].minutes == 45.0
    assert done.notes == ("the evening of 2026-03-02 has 45 min now, as its lines do (it had 30)",)


def test_the_same_said_on_both_machines_is_one_thing(pair: tuple[Desk, Desk]) -> None:
    both(pair, lambda desk: paint_out(desk, "dark red"))
    both(pair, lambda desk: add_goal(desk, "Club day", GoalWish(day=date(2026, 6, 6), units=("Spears",))))
    assert not merge_log(pair[0], pair[1].path).changed


def test_one_spare_in_two_roles_leaves_theirs_open(pair: tuple[Desk, Desk], tmp_path: Path) -> None:
    here = pair[0]
    new_spares(here, 1, SpareSaid())
    there = copied(here, tmp_path, "tablet")
    add_roles(here, "Spears", "captain", RoleSaid())
    fill_role(here, "captain", 1)
    add_roles(there, "Spears", "banner", RoleSaid())
    fill_role(there, "banner", 1)
    done = merge_log(here, there.path)
    assert 'the role "banner" comes in open: its model is taken or elsewhere here' in done.notes
    with here.open() as store:
        assert store.rows("SELECT name, model_id IS NULL FROM role") == [("captain", 0), ("banner", 1)]


def test_the_lamp_stays_on_its_machine(pair: tuple[Desk, Desk]) -> None:
    lamp_on(pair[1])
    assert not merge_log(pair[0], pair[1].path).changed
    assert lamp_state(pair[0]).state == "off"


def test_a_log_that_is_not_there_yet_becomes_the_other(pair: tuple[Desk, Desk], tmp_path: Path) -> None:
    new = desk_at(tmp_path, "new")
    merge_log(new, pair[1].path)
    assert new.records() == pair[1].records()


@pytest.mark.parametrize("number", range(1, NEWEST_SCHEMA + 1))
def test_a_log_of_an_older_schema_joins_and_stays_as_it_is(tmp_path: Path, number: int) -> None:
    old = an_old_log(tmp_path / "old", number)
    bytes_before = Path(old.path).read_bytes()
    new = desk_at(tmp_path, "new")
    merge_log(new, old.path)
    assert len(new.records().models) == 7
    assert Path(old.path).read_bytes() == bytes_before
    assert not merge_log(new, old.path).changed
    assert sorted(file.name for file in Path(old.path).parent.iterdir()) == ["log.db"]


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"SQLite format 3\x00" + b"\x00" * 84, "not"),
        (b"{}", "not ours"),
        (b"\xff\xfe", "UTF-16"),
        (b"", "JSON"),
    ],
)
def test_what_is_no_log_is_refused(
    pair: tuple[Desk, Desk], tmp_path: Path, content: bytes, says: str
) -> None:
    file = tmp_path / "other.db"
    file.write_bytes(content)
    before = export_document(pair[0])
    with pytest.raises(DataError, match=says):
        merge_log(pair[0], str(file))
    assert export_document(pair[0]) == before


def test_another_program_s_database_is_refused(pair: tuple[Desk, Desk], tmp_path: Path) -> None:
    other = sqlite3.connect(tmp_path / "other.db")
    other.execute("CREATE TABLE line (id)")
    other.commit()
    other.close()
    with pytest.raises(DataError, match="not a Lastcoat log"):
        merge_log(pair[0], str(tmp_path / "other.db"))
