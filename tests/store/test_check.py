"""What `check` finds, mends and saves: every impossible state made on purpose, by way of plain SQL."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from datetime import date, datetime
from pathlib import Path

import pytest
from click.testing import CliRunner

from tests.desks import NOW, a_desk, with_spears
from tests.store.test_migrations import EVERY_SCHEMA, an_old_log
from tracker.cli.main import main
from tracker.domain.answers_check import SavedTable
from tracker.domain.problems import DataError
from tracker.domain.rows import RosterRow
from tracker.store.fits import keep_fit, kept_fit
from tracker.store.seals import Sum, broken_seals, digest, seal_all, sum_of
from tracker.workbench.adding import add_spares, add_unit
from tracker.workbench.check import check, mend, salvage
from tracker.workbench.demo import make_demo
from tracker.workbench.desk import Desk
from tracker.workbench.lamp import lamp_on
from tracker.workbench.lines import Entry, log_line
from tracker.workbench.models import mark
from tracker.workbench.past import redo, undo, would_redo, would_undo
from tracker.workbench.units_models import ModelWish, change_models
from tracker.workbench.units_shape import give_role, merge, split, to_spares
from tracker.workbench.whole import export_document, import_document

MARCH_2 = date(2026, 3, 2)


def a_used_desk(folder: Path) -> Desk:
    """Spears with three lines and a mark, and riders."""
    desk = with_spears(folder)
    add_unit(desk, RosterRow("Riders", 5, added=date(2026, 3, 1)))
    for models in (3, 4):
        log_line(desk, Entry("Spears", "cleaning", models=models, minutes=20.0, day=MARCH_2))
    log_line(desk, Entry("Spears", "assembly", models=2))
    mark(desk, "Riders", "1-2", "cleaning", "done")
    return desk


def by_force(desk: Desk, *statements: str) -> None:
    """Change the log as damage or another program would: no journal, no CHECK; sealed again."""
    connection = sqlite3.connect(desk.path, isolation_level=None)
    for pragma in ("foreign_keys = OFF", "ignore_check_constraints = ON"):
        connection.execute(f"PRAGMA {pragma}")
    connection.execute("UPDATE journal_head SET open_change = (SELECT max(id) FROM change)")
    for statement in statements:
        connection.execute(statement)
    connection.execute("DELETE FROM change_row WHERE change_id = (SELECT max(id) FROM change)")
    connection.execute("UPDATE journal_head SET open_change = NULL")
    connection.execute("BEGIN")
    connection.text_factory = lambda text: text.decode("utf-8", "surrogateescape")
    seal_all(connection)
    connection.execute("COMMIT")
    connection.close()


def codes(desk: Desk) -> list[str]:
    return [one.code for one in check(desk).found]


# --- what is whole passes ---------------------------------------------------------------------------


def test_a_used_log_is_whole_and_stays_so_through_undo_and_redo(tmp_path: Path) -> None:
    desk = a_used_desk(tmp_path)
    assert codes(desk) == []
    while would_undo(desk):
        undo(desk)
        assert codes(desk) == []
    while would_redo(desk):
        redo(desk)
    assert codes(desk) == []


def test_models_that_changed_units_are_no_strangers_in_their_old_lines(tmp_path: Path) -> None:
    desk = a_used_desk(tmp_path)
    split(desk, "Spears", "1-5", "Old spears")
    to_spares(desk, "Old spears", "1-2")
    give_role(desk, [1], "Riders")
    merge(desk, "Old spears", "Riders")
    change_models(desk, "Riders", "1", ModelWish(name="Boldric"))
    assert codes(desk) == []


def test_the_demo_is_whole(tmp_path: Path) -> None:
    desk = make_demo(tmp_path)
    answer = check(desk)
    assert answer.found == ()
    assert answer.rows > 2000


@pytest.mark.parametrize("number", EVERY_SCHEMA)
def test_logs_of_every_shipped_schema_are_whole(tmp_path: Path, number: int) -> None:
    # The dumps name a photo that never had a file; all else in them is sound.
    assert set(codes(an_old_log(tmp_path, number))) <= {"photo"}


def test_a_document_read_in_is_whole(tmp_path: Path) -> None:
    desk, other = a_used_desk(tmp_path), a_desk(tmp_path / "other")
    import_document(other, export_document(desk))
    assert codes(other) == []


# --- seals ------------------------------------------------------------------------------------------


def test_the_digest_is_the_published_crc_32() -> None:
    # The check value of CRC-32/ISO-HDLC, "123456789" -> CBF43926 (catalogue of parametrised CRC algorithms,
    # from memory), with the rest of a row's text around it taken off by the sum's own linearity in rows.
    from zlib import crc32

    assert crc32(b"123456789") == 0xCBF43926
    assert digest((1, "é", 0.1, None)) == crc32(b"(1, '\\xe9', 0.1, None)")
    assert sum_of([(1,), (2,)]) == Sum(1, digest((1,))).plus(Sum(1, digest((2,))))


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE line SET minutes = 21.0 WHERE id = 1",
        "DELETE FROM line_model WHERE line_id = 1 AND model_id = 1",
        "UPDATE unit SET note = 'x'",
        "DELETE FROM route_step WHERE place = 1",
    ],
)
def test_a_value_altered_behind_the_logs_back_is_told(tmp_path: Path, statement: str) -> None:
    desk = a_used_desk(tmp_path)
    connection = sqlite3.connect(desk.path, isolation_level=None)
    connection.execute("UPDATE journal_head SET open_change = 1")
    connection.execute(statement)
    connection.execute("UPDATE journal_head SET open_change = NULL")
    connection.close()
    assert "seal" in codes(desk)


def test_later_changes_do_not_hide_an_altered_value(tmp_path: Path) -> None:
    desk = a_used_desk(tmp_path)
    connection = sqlite3.connect(desk.path, isolation_level=None)
    connection.execute("DROP TRIGGER unit_update")
    connection.execute("UPDATE unit SET points = 999")
    connection.close()
    assert {"shape", "seal"} <= set(codes(desk))
    log_line(desk, Entry("Spears", "cleaning"))
    mend(desk)
    assert codes(desk) == ["seal"]


def test_a_damaged_way_back_is_forgotten_and_what_it_changed_stays(tmp_path: Path) -> None:
    desk = a_used_desk(tmp_path)
    before = export_document(desk)
    connection = sqlite3.connect(desk.path, isolation_level=None)
    connection.execute("UPDATE change_row SET v0 = 77 WHERE change_id = 3")
    connection.close()
    assert codes(desk) == ["undo"]
    assert [one.code for one in mend(desk).mended] == ["undo"]
    assert codes(desk) == []
    assert export_document(desk) == before
    taken_back = 0
    while would_undo(desk):
        undo(desk)
        taken_back += 1
    assert taken_back == 3  # of six changes the three after the damaged one


def test_a_damaged_fit_is_learned_anew(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    with desk.open() as store:
        keep_fit(store, "pace", "1", "2", b"abc")
        assert kept_fit(store, "pace", "1", "2") == b"abc"
        store.connection.execute("UPDATE kept_fit SET log_state = '3'")
        assert kept_fit(store, "pace", "3", "2") is None


# --- states that cannot be --------------------------------------------------------------------------

LIKE_SPEARS = (
    "INSERT INTO unit SELECT 9, 'u9', army_id, 'Bows', 'bows', kind, material, standard, base, files, ranks,"
    " points, guess_minutes, goal_date, goal, place, source, cost, note, finish_line, 1, added_on FROM unit"
    " WHERE id = 1"
)
WRONG: dict[str, tuple[str, ...]] = {
    "line-count": ("UPDATE line SET models = 30 WHERE id = 1",),
    "line-strangers": (
        "INSERT INTO line_model VALUES (3, (SELECT id FROM model WHERE unit_id = 2 AND number = 5))",
        "UPDATE line SET models = 3 WHERE id = 3",
    ),
    "evening-total": ("UPDATE session SET minutes = 30 WHERE date = '2026-03-02'",),
    "evening-day": ("UPDATE line SET minutes = 900 WHERE id IN (1, 2)",),
    "future": ("UPDATE session SET date = '2026-04-02' WHERE date = '2026-03-10'",),
    "left-first": ("UPDATE model SET left_on = '2026-02-01', left_how = 'sold' WHERE id = 20",),
    "worked-first": ("UPDATE model SET added_on = '2026-03-05' WHERE id = 1",),
    "spare-numbers": ("UPDATE model SET unit_id = NULL, number = 9 WHERE id IN (19, 20)",),
    "no-models": (LIKE_SPEARS,),
    "place": ("INSERT INTO rank_place VALUES (1, 25, 1, 1, 1, 0, 0)",),
    "block": (
        "UPDATE unit SET files = 4",
        "INSERT INTO rank_block VALUES (1, 'b1', 1, 'filler', 4, 1, 2, 1, 0, NULL, 'well')",
    ),
    "recipe-versions": ("INSERT INTO recipe VALUES (1, 'r1', 'Red', 'red', '', '2026-03-01')",),
    "role": ("INSERT INTO role VALUES (1, 'x1', 1, 'captain', '', '', NULL, '', 25, '', '2026-03-01')",),
    "cure": (
        "INSERT INTO cure VALUES (1, 'c1', 'putty', 1, '2026-03-02T20:00', 1, 2, 3, '2026-03-02T19:00')",
    ),
    "lamp": ("INSERT INTO lamp VALUES (1, '2026-03-08T20:00:00+00:00')",),
    "rest": (
        "INSERT INTO lamp VALUES (1, '2026-03-10T20:00:00+00:00')",
        "INSERT INTO lamp_rest VALUES (1, '2026-03-10T20:30:00+00:00', '2026-03-10T20:20:00+00:00')",
    ),
    "money": ("INSERT INTO deal VALUES (1, 'd1', 'bought', '', 'ten', 'EUR', NULL, '', '', '2026-03-01')",),
    "value": ("UPDATE unit SET note = CAST(X'ff41' AS TEXT) WHERE id = 1",),
    "reference": ("UPDATE mark SET model_id = 999 WHERE id = 1",),
    "photo": (f"INSERT INTO photo VALUES (1, 'p1', '{'0' * 64}.jpg', 1, NULL, '', 9, 9, '', '2026-03-01')",),
}
SAFE = {"evening-total", "left-first", "worked-first", "spare-numbers", "place", "role", "cure", "rest"}


@pytest.mark.parametrize("code", WRONG)
def test_a_state_that_cannot_be_is_told_with_a_mend(tmp_path: Path, code: str) -> None:
    desk = a_used_desk(tmp_path)
    by_force(desk, *WRONG[code])
    answer = check(desk)
    assert {one.code for one in answer.found} >= {code}
    assert all(one.what and one.mend and "\n" not in one.where for one in answer.found)
    assert code in SAFE or not any(one.safe for one in answer.found if one.code == code)


@pytest.mark.parametrize("code", sorted(SAFE))
def test_a_safe_mend_mends_after_a_backup_and_can_be_taken_back(tmp_path: Path, code: str) -> None:
    desk = a_used_desk(tmp_path)
    by_force(desk, *WRONG[code])
    before = export_document(desk)
    answer = mend(desk)
    assert code in [one.code for one in answer.mended]
    assert Path(answer.backup).is_file()
    assert answer.now.found == ()
    undo(desk)
    assert export_document(desk) == before


def test_a_number_without_end_is_told(tmp_path: Path) -> None:
    desk = a_used_desk(tmp_path)
    by_force(desk, "UPDATE unit SET points = 9e999")
    assert codes(desk) == ["value"]


def test_a_lamp_that_burns_this_evening_is_well(tmp_path: Path) -> None:
    desk = a_used_desk(tmp_path)
    lamp_on(desk, since=datetime(2026, 3, 10, 20, 0))
    assert codes(desk) == []
    later = desk._replace(now=lambda: datetime(2026, 3, 12, 9, 0))
    assert codes(later) == ["lamp"]
    assert NOW.day == 10


# --- the file itself --------------------------------------------------------------------------------


def test_triggers_and_indexes_are_made_anew(tmp_path: Path) -> None:
    desk = a_used_desk(tmp_path)
    connection = sqlite3.connect(desk.path, isolation_level=None)
    connection.execute("DROP TRIGGER line_update")
    connection.execute("DROP INDEX line_unit")
    connection.close()
    assert codes(desk) == ["shape", "shape"]
    assert len(mend(desk).mended) == 2
    assert codes(desk) == []


def test_a_damaged_index_is_made_anew(tmp_path: Path) -> None:
    desk = a_used_desk(tmp_path)
    connection = sqlite3.connect(desk.path, isolation_level=None)
    connection.execute("PRAGMA writable_schema = ON")
    connection.execute(
        "UPDATE sqlite_master SET rootpage = (SELECT rootpage FROM sqlite_master WHERE name = 'mark_model')"
        " WHERE name = 'rank_block_unit'"
    )
    connection.close()
    # An index that lies in another's pages is more than a wrong entry: nothing is written to such a file.
    assert check(desk).damaged
    with pytest.raises(DataError, match="nothing is written"):
        mend(desk)


def test_a_change_left_open_is_closed(tmp_path: Path) -> None:
    desk = a_used_desk(tmp_path)
    connection = sqlite3.connect(desk.path, isolation_level=None)
    connection.execute("UPDATE journal_head SET open_change = 2")
    connection.close()
    assert set(codes(desk)) == {"journal"}
    mend(desk)
    assert codes(desk) == []


def test_a_write_ahead_log_that_is_cut_short_by_damage_is_told(tmp_path: Path) -> None:
    desk = a_used_desk(tmp_path)
    (tmp_path / "copy").mkdir()
    copy = a_desk(tmp_path / "copy")
    with desk.open() as store:
        log_line(desk, Entry("Riders", "assembly", minutes=5.0))
        Path(copy.path).write_bytes(Path(store.path).read_bytes())
        wal = bytearray(Path(f"{store.path}-wal").read_bytes())
    Path(f"{copy.path}-wal").write_bytes(wal)
    assert codes(copy) == []
    assert len(copy.records().lines) == 4
    wal[32 + 24 + 100] ^= 1
    Path(f"{copy.path}-wal").write_bytes(wal)
    assert codes(copy) == ["wal"]


# --- damaged files ----------------------------------------------------------------------------------


def overwritten(desk: Desk, table: str) -> None:
    """Put noughts over the first page of a table."""
    connection = sqlite3.connect(desk.path)
    connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    (page,) = connection.execute("SELECT rootpage FROM sqlite_master WHERE name = ?", (table,)).fetchone()
    connection.close()
    with Path(desk.path).open("r+b") as file:
        file.seek((page - 1) * 4096)
        file.write(bytes(4096))


def of_table(tables: tuple[SavedTable, ...], name: str) -> SavedTable:
    return next(one for one in tables if one.table == name)


def test_what_can_be_read_is_saved_and_the_damaged_file_stays(tmp_path: Path) -> None:
    desk = a_used_desk(tmp_path)
    before = export_document(desk)
    overwritten(desk, "mark")
    data = Path(desk.path).read_bytes()
    answer = salvage(desk, str(tmp_path / "saved.json"))
    assert Path(desk.path).read_bytes() == data
    assert of_table(answer.tables, "mark").lost == 2
    assert of_table(answer.tables, "line").lost == 0
    saved = desk._replace(path=answer.saved_log)
    assert answer.saved_log == str(tmp_path / "log-saved.db")
    assert codes(saved) == []
    assert export_document(saved) == before | {"mark": before["mark"] | {"rows": []}}
    assert salvage(desk, str(tmp_path / "again.json")).saved_log == str(tmp_path / "log-saved2.db")


def test_rows_that_refer_to_what_is_lost_are_left_out_and_counted(tmp_path: Path) -> None:
    desk = a_used_desk(tmp_path)
    overwritten(desk, "session")
    answer = salvage(desk, str(tmp_path / "saved.json"))
    lines = of_table(answer.tables, "line")
    assert (lines.saved, lines.unfit, lines.lost) == (0, 3, 3)
    assert of_table(answer.tables, "model").lost == 0


def test_a_header_that_is_damaged_hinders_nothing(tmp_path: Path) -> None:
    desk = a_used_desk(tmp_path)
    before = export_document(desk)
    with Path(desk.path).open("r+b") as file:
        file.write(b"Scribble format 9")
    with pytest.raises(DataError, match="lastcoat check --salvage"):
        desk.records()
    assert check(desk).damaged
    answer = salvage(desk, str(tmp_path / "saved.json"))
    assert export_document(desk._replace(path=answer.saved_log)) == before


def test_a_document_saved_is_read_in_again(tmp_path: Path) -> None:
    desk = a_used_desk(tmp_path)
    add_spares(desk, 3)
    salvage(desk, str(tmp_path / "saved.json"))
    run = CliRunner().invoke
    other = a_desk(tmp_path / "other")
    assert run(main, ["import", "all", str(tmp_path / "saved.json")], obj=other).exit_code == 0
    assert export_document(other) == export_document(desk)


def test_nothing_to_save_is_one_line(tmp_path: Path) -> None:
    desk = a_desk(tmp_path)
    with pytest.raises(DataError, match="there is no log here"):
        salvage(desk, str(tmp_path / "saved.json"))
    Path(desk.path).write_bytes(b"\x00" * 9000)
    with pytest.raises(DataError, match="none of its tables can be read"):
        salvage(desk, str(tmp_path / "saved.json"))
    assert not (tmp_path / "saved.json").exists()
    with pytest.raises(DataError, match="that is the log itself"):
        salvage(desk, desk.path)


# --- the command ------------------------------------------------------------------------------------


def say(desk: Desk, *words: str) -> tuple[int, str]:
    done = CliRunner().invoke(main, ["check", *words], obj=desk)
    return done.exit_code, done.output


def test_the_command_tells_and_its_status_says_so(tmp_path: Path) -> None:
    desk = a_used_desk(tmp_path)
    status, said = say(desk)
    assert (status, said.startswith("Nothing is wrong. ")) == (0, True)
    by_force(desk, *WRONG["evening-total"])
    status, said = say(desk)
    assert status == 1
    assert said == (
        "the evening of 2026-03-02: its lines take 40 minutes and it had 30. lastcoat check --mend gives it"
        " the minutes of its lines.\nOne of these can be mended at once: lastcoat check --mend\n"
    )
    assert say(desk, "--json")[1].count('"code": "evening-total"') == 1
    status, said = say(desk, "--mend")
    assert (status, "Mended: the evening of 2026-03-02" in said, "Nothing is wrong." in said) == (
        0,
        True,
        True,
    )
    assert say(desk, "--mend", "--json")[0] == 0


def test_the_command_saves_and_says_what_was_lost(tmp_path: Path) -> None:
    desk = a_used_desk(tmp_path)
    overwritten(desk, "mark")
    status, said = say(desk, "--salvage", str(tmp_path / "saved.json"))
    assert status == 0
    assert "mark: 2 of 2 rows lost" in said
    assert '"lost": 2' in say(desk, "--salvage", str(tmp_path / "saved.json"), "--json")[1]
    assert say(desk, "--mend", "--salvage", "x")[0] == 2


def test_without_a_log_it_is_one_line(tmp_path: Path) -> None:
    make: Callable[[], object] = lambda: check(a_desk(tmp_path))  # noqa: E731
    with pytest.raises(DataError, match="there is no log here yet"):
        make()


def test_the_seals_of_a_new_log_hold(tmp_path: Path) -> None:
    with with_spears(tmp_path).open() as store:
        assert broken_seals(store.connection) == []


def test_a_day_that_cannot_be_read_is_one_line_everywhere(tmp_path: Path) -> None:
    desk = a_used_desk(tmp_path)
    by_force(desk, "UPDATE session SET date = '2026-03-0x' WHERE date = '2026-03-02'")
    with pytest.raises(DataError, match="a row of it cannot be read"):
        desk.records()
    assert check(desk).damaged
