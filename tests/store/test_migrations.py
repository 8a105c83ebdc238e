"""Every shipped schema, with rows in it, becomes the newest one and loses nothing."""

from __future__ import annotations

import sqlite3
from datetime import date
from pathlib import Path
from types import ModuleType

import pytest

from tests.desks import a_desk
from tracker.domain.progress import progress_of
from tracker.domain.ranks import Block, Check, Placed, RankModel, RankRules, Reach
from tracker.domain.records import Goal, Records
from tracker.store import schema1, schema2, schema3, schema4, schema5, schema6
from tracker.store.document import TABLES
from tracker.store.numbers import APPLICATION_ID, NEWEST_SCHEMA
from tracker.store.ranks import bases_before, rank_notes
from tracker.workbench.desk import Desk
from tracker.workbench.drafts import draft
from tracker.workbench.lamp import lamp_state
from tracker.workbench.lines import Entry, log_line
from tracker.workbench.past import redo, undo, would_redo, would_undo

OLD = Path(__file__).parent.parent / "old_databases"
EVERY_SCHEMA = range(1, NEWEST_SCHEMA + 1)


def an_old_log(folder: Path, number: int) -> Desk:
    folder.mkdir(exist_ok=True)
    desk = a_desk(folder)
    connection = sqlite3.connect(desk.path, isolation_level=None)
    connection.executescript((OLD / f"schema{number}.sql").read_text(encoding="utf-8"))
    connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
    connection.execute(f"PRAGMA user_version = {number}")
    connection.close()
    return desk


def shape(desk: Desk) -> list[tuple[str, ...]]:
    with desk.open(create=True) as store:
        rows = store.rows("SELECT type, name, tbl_name FROM sqlite_master WHERE name NOT LIKE 'sqlite_%'")
        columns = [
            (table, *map(str, row)) for table in TABLES for row in store.rows(f"PRAGMA table_info({table})")
        ]
    return sorted([tuple(map(str, row)) for row in rows]) + columns


@pytest.mark.parametrize("number", EVERY_SCHEMA)
def test_an_old_log_gets_the_shape_of_a_new_one(tmp_path: Path, number: int) -> None:
    (tmp_path / "new").mkdir()
    assert shape(an_old_log(tmp_path, number)) == shape(a_desk(tmp_path / "new"))


@pytest.mark.parametrize("number", EVERY_SCHEMA)
def test_its_rows_are_there_and_it_goes_on(tmp_path: Path, number: int) -> None:
    desk = an_old_log(tmp_path, number)
    known = desk.records()
    assert [unit.name for unit in known.units] == ["Spears", "🐉 'quoted'"]
    assert known.units[0].goal_date == date(2026, 5, 1)
    assert len(known.models) == 7
    assert [line.minutes for line in known.lines] == [0.1, None]
    assert progress_of(known).is_done(known.models[0].id, "cleaning")
    logged = log_line(desk, Entry("Spears", "assembly", models=2, minutes=20.0))
    assert logged.models == 2
    undo(desk)
    assert desk.records() == known


@pytest.mark.parametrize("number", EVERY_SCHEMA)
def test_what_was_changed_before_can_still_be_taken_back(tmp_path: Path, number: int) -> None:
    desk = an_old_log(tmp_path, number)
    while would_undo(desk):
        undo(desk)
    assert desk.records() == Records()
    while would_redo(desk):
        redo(desk)
    assert desk.records() == an_old_log(tmp_path / "again", number).records()


def test_the_lamp_and_the_draft_of_schema_2_are_there(tmp_path: Path) -> None:
    desk = an_old_log(tmp_path, 2)
    lamp = lamp_state(desk)
    assert lamp.state == "paused"
    assert lamp.minutes == 50  # 20:00 to 21:00, ten minutes of it at rest
    assert draft(desk) == "primed 2 spears, 'half"
    assert desk.records().models[1].part == "rider"


def test_the_plans_and_goals_of_schema_3_are_there(tmp_path: Path) -> None:
    known = an_old_log(tmp_path, 3).records()
    assert [(said.kind, said.first, said.last) for said in known.declared] == [
        ("evenings", date(2026, 3, 10), None), ("away", date(2026, 4, 1), date(2026, 4, 5)),
    ]  # fmt: skip
    assert known.declared[0].without == (date(2026, 4, 2),)
    assert known.goals == (
        Goal(1, "Club day", date(2026, 5, 1), (1,), 4, None, 3, date(2026, 3, 10)),
    )  # fmt: skip


def test_the_ranks_of_schema_4_are_there(tmp_path: Path) -> None:
    desk = an_old_log(tmp_path, 4)
    with desk.open() as store:
        notes, bases = rank_notes(store, 1), bases_before(store, 1)
    assert bases == (("20x20", date(2026, 3, 10)),)
    assert notes.rules == RankRules(gap_mm=0.5, turns="half", front_most_mm=6, least_models=3)
    assert notes.models == (
        RankModel(
            1, Reach((6, 2, None), (-4, -4, -1), (0, 0, 0), (2, None, None)), "25x25", (14, 26), "any",
            (0, 15), "A1", date(2026, 3, 11),
        ),
    )  # fmt: skip
    assert notes.blocks == (Block(1, "filler", 1, 2, 2, 1, name="a well's rim"),)
    assert notes.placed == (Placed(1, 1, 1), Placed(2, 2, 1, 180, 15))
    assert notes.checks == (Check(1, "right", 2, "left", 1.5, 0, 0, date(2026, 3, 11), "25x25"),)


@pytest.mark.parametrize(
    ("number", "schema"), [(1, schema1), (2, schema2), (3, schema3), (4, schema4), (5, schema5), (6, schema6)]
)
def test_a_shipped_schema_is_frozen(number: int, schema: ModuleType) -> None:
    # Each dump was made once, from the statements as they were shipped.
    dump = (OLD / f"schema{number}.sql").read_text(encoding="utf-8")
    for statement in schema.statements():
        if statement.lstrip().startswith("CREATE"):
            assert statement.strip() in dump
