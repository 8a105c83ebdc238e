"""When backups are made, and restoring one under whoever has the log open."""

from __future__ import annotations

import os
import sqlite3
import stat
import subprocess
import sys
import threading
from contextlib import closing
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from tests.desks import NOW, a_desk, with_spears
from tests.store.test_backups import damage
from tests.store.test_migrations import an_old_log
from tracker.domain.backups import Backup
from tracker.domain.problems import DataError, Problem
from tracker.domain.rows import EveningRow
from tracker.store.numbers import NEWEST_SCHEMA
from tracker.workbench.backups import (
    back_up_now,
    backup_folder,
    backups,
    before,
    daily,
    restore,
)
from tracker.workbench.check import check
from tracker.workbench.desk import Desk
from tracker.workbench.evenings_in import import_evenings
from tracker.workbench.lines import Entry, log_line
from tracker.workbench.past import redo, undo
from tracker.workbench.whole import export_document, import_document

ONE = Entry("Spears", "cleaning", minutes=5.0)


@pytest.fixture(autouse=True)
def no_settings(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("LASTCOAT_CONFIG", str(tmp_path / "config.toml"))
    monkeypatch.delenv("LASTCOAT_BACKUPS", raising=False)


def later(desk: Desk, **more: float) -> Desk:
    moment = desk.now() + timedelta(**more)
    return desk._replace(now=lambda: moment)


def whys(desk: Desk) -> list[str]:
    return [one.why for one in backups(desk).backups]


def lines(desk: Desk) -> int:
    return len(desk.records().lines)


def test_the_first_change_of_an_evening_backs_up_the_one_before(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    log_line(desk, ONE)
    assert not (tmp_path / "log-backups").exists()
    next_day = later(desk, days=1)
    log_line(next_day, ONE)
    log_line(next_day, ONE)
    (one,) = backups(next_day).backups
    assert (one.why, one.units, one.lines, one.schema) == ("daily", 1, 1, NEWEST_SCHEMA)
    assert stat.S_IMODE(Path(one.path).stat().st_mode) == 0o600


def test_an_evening_goes_on_after_midnight(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)  # 21:30
    log_line(later(desk, hours=4), ONE)  # 01:30
    assert whys(desk) == []
    log_line(later(desk, hours=12), ONE)  # 09:30
    assert whys(desk) == ["daily"]


def test_undo_and_redo_are_changes_and_one_backup_is_enough(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    log_line(desk, ONE)
    log_line(desk, ONE)
    next_day = later(desk, days=1)
    undo(next_day)
    undo(next_day)
    redo(next_day)
    assert whys(next_day) == ["daily"]


def test_what_stores_nothing_backs_up_nothing(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    next_day = later(desk, days=1)
    with pytest.raises(DataError):
        log_line(next_day, Entry("Nobody", "cleaning"))
    row = EveningRow(NOW.date(), "Spears", "cleaning", models=1)
    import_evenings(next_day, [row], dry_run=True)
    next_day.records()
    assert not (tmp_path / "log-backups").exists()


def test_a_daily_backup_that_fails_is_told_and_the_line_is_stored(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    (tmp_path / "log-backups").touch()
    told: list[Problem] = []
    next_day = later(desk, days=1)._replace(tell=told.append)
    log_line(next_day, ONE)
    assert lines(desk) == 1
    (problem,) = told
    assert "the backup cannot be made" in problem.what
    assert "lastcoat config set backup_folder" in problem.mend


def test_it_is_told_on_standard_error_and_the_answer_is_clean(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    (tmp_path / "log-backups").touch()
    start = "from tracker.cli.main import main; main(['log', 'cleaned 2 spears'], prog_name='lastcoat')"
    done = subprocess.run(
        [sys.executable, "-c", start], env=os.environ | {"LASTCOAT_DB": desk.path},
        capture_output=True, text=True, check=True,
    )  # fmt: skip
    assert done.stdout.startswith("Logged: cleaning, 2 of 20 Spears")
    assert len(done.stderr.splitlines()) == 1
    assert "the backup cannot be made" in done.stderr


def test_an_import_backs_up_before_and_without_a_backup_it_is_refused(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    row = EveningRow(NOW.date(), "Spears", "cleaning", models=1)
    import_evenings(desk, [row])
    assert [(one.why, one.lines) for one in backups(desk).backups] == [("before-import", 0)]
    import_evenings(desk, [row])  # changes nothing
    assert len(whys(desk)) == 1
    (tmp_path / "blocked").mkdir()
    blocked = with_spears(tmp_path / "blocked")
    (tmp_path / "blocked" / "log-backups").touch()
    with pytest.raises(DataError, match="the backup cannot be made"):
        import_evenings(blocked, [row])
    assert lines(blocked) == 0


def test_an_import_into_a_new_log_has_nothing_to_lose(tmp_path: Path) -> None:
    document = export_document(with_spears(tmp_path))
    (tmp_path / "new").mkdir()
    desk = a_desk(tmp_path / "new")
    import_document(desk, document)
    assert sorted(path.name for path in (tmp_path / "new").iterdir()) == ["log.db"]
    assert before(a_desk(tmp_path / "none"), "merge") is None


@pytest.mark.parametrize("schema", range(1, NEWEST_SCHEMA))
def test_a_migration_backs_up_the_schema_it_was(tmp_path: Path, schema: int) -> None:
    desk = an_old_log(tmp_path, schema)
    desk.records()
    (one,) = backups(desk).backups
    assert (one.why, one.schema, one.units, one.lines) == (f"schema-{schema}", schema, 2, 2)


def test_a_migration_without_a_backup_is_refused(tmp_path: Path) -> None:
    desk = an_old_log(tmp_path, 3)
    (tmp_path / "log-backups").touch()
    with pytest.raises(DataError, match="the backup cannot be made"):
        desk.records()
    with closing(sqlite3.connect(desk.path)) as log:
        assert log.execute("PRAGMA user_version").fetchone() == (3,)


def test_where_backups_lie(tmp_path: Path) -> None:
    log, config = str(tmp_path / "log.db"), tmp_path / "config.toml"
    environment = {"LASTCOAT_CONFIG": str(config)}
    assert backup_folder(log, environment) == str(tmp_path / "log-backups")
    config.write_text('backup_folder = "~/kept"', encoding="utf-8")
    assert backup_folder(log, environment) == os.path.expanduser("~/kept")  # noqa: PTH111
    assert backup_folder(log, environment | {"LASTCOAT_BACKUPS": "/else"}) == "/else"
    for broken in ('backup_folder = "not/whole"', "backup_folder = 7", "backup_folder = ", '"'):
        config.write_text(broken, encoding="utf-8")
        assert backup_folder(log, environment) == str(tmp_path / "log-backups")


def test_by_hand(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    assert "by-hand" in back_up_now(desk).sentence()
    copy = tmp_path / "copy.db"
    assert back_up_now(desk, str(copy)).path == str(copy)
    assert len(Desk(str(copy)).records().models) == 20
    with pytest.raises(DataError, match="a file of that name already"):
        back_up_now(desk, str(copy))
    with pytest.raises(DataError, match="there is no log here yet"):
        back_up_now(a_desk(tmp_path / "none"))
    (tmp_path / "text.db").write_text("no log\n" * 99)
    with pytest.raises(DataError, match="this is not a Lastcoat log"):
        back_up_now(Desk(str(tmp_path / "text.db")), str(tmp_path / "other.db"))
    assert not (tmp_path / "other.db").exists()


def test_a_restore_and_the_way_back(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    old = export_document(desk)
    back_up_now(desk)
    log_line(desk, ONE)
    new = export_document(desk)
    tried = restore(desk, dry_run=True)
    assert "Would restore" in tried.sentence()
    assert export_document(desk) == new
    done = restore(desk)
    assert (done.then, done.now, done.sealed) == ((1, 0), (1, 1), True)
    assert f"To go back: lastcoat restore {done.kept}" in done.sentence()
    assert export_document(desk) == old
    assert check(desk).found == ()
    restore(desk, done.kept)
    assert export_document(desk) == new
    restore(desk, "by-hand")
    assert export_document(desk) == old
    undo(desk)  # what the backup could take back: the unit that was added
    assert desk.records().units == ()


def test_no_kept_answer_is_taken_for_one_of_the_restored_log(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    states = set()
    back_up_now(desk)
    for _ in range(3):
        with desk.open() as store:
            assert store.log_state() not in states
            states.add(store.log_state())
        log_line(desk, ONE)
        with desk.open() as store:
            states.add(store.log_state())
        restore(desk, "by-hand")


def test_a_restore_under_an_open_reader_and_a_stale_write_ahead_log(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    back_up_now(desk)
    with desk.open() as reader:
        log_line(desk, ONE)
        with reader.snapshot():
            assert reader.rows("SELECT count(*) FROM line") == [(1,)]
            restore(desk)
            # One moment inside a snapshot, the new log after it. sqlite.org/isolation.html.
            assert reader.rows("SELECT count(*) FROM line") == [(1,)]
        assert reader.rows("SELECT count(*) FROM line") == [(0,)]
        with reader.change("one"):
            reader.update("unit", 1, note="after")
    assert desk.records().units[0].note == "after"
    assert check(desk).found == ()


def test_nothing_stored_by_another_program_meanwhile_is_lost(tmp_path: Path) -> None:
    # Every line that was acknowledged is in the restored log (stored after) or in what was kept of the
    # replaced ones (stored before): none falls between the backup and the restore.
    desk = with_spears(tmp_path, models=500)
    back_up_now(desk)
    acknowledged: list[str] = []
    enough = threading.Event()
    failed: list[BaseException] = []

    def write() -> None:
        try:
            number = 0
            while not enough.is_set():
                log_line(desk, ONE._replace(note=f"note {number}"))
                acknowledged.append(f"note {number}")
                number += 1
        except BaseException as error:
            failed.append(error)

    writer = threading.Thread(target=write)
    writer.start()
    kept: list[str] = []
    try:
        kept += [restore(desk, "by-hand").kept for _ in range(6)]
    finally:
        enough.set()
        writer.join()
    assert failed == []
    found = {line.note for line in desk.records().lines}
    for name in kept:
        found |= {line.note for line in Desk(str(tmp_path / "log-backups" / name)).records().lines}
    assert set(acknowledged) <= found
    assert check(desk).found == ()


def test_without_what_it_replaces_nothing_is_restored(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    copy = back_up_now(desk, str(tmp_path / "copy.db")).path
    log_line(desk, ONE)
    before_it = export_document(desk)

    def full(*_: object, **__: object) -> None:
        raise DataError(Problem("kept", "the backup cannot be made: the disk is full", "Make room"))

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("tracker.store.restoring.make", full)
        with pytest.raises(DataError, match="the disk is full"):
            restore(desk, copy)
    assert export_document(desk) == before_it
    assert check(desk).found == ()


@pytest.mark.parametrize("schema", range(1, NEWEST_SCHEMA))
def test_a_backup_of_an_older_schema_comes_back_as_the_newest(tmp_path: Path, schema: int) -> None:
    (tmp_path / "old").mkdir()
    old = an_old_log(tmp_path / "old", schema)
    with closing(sqlite3.connect(old.path)) as log, closing(sqlite3.connect(tmp_path / "copy.db")) as copy:
        log.backup(copy)
    desk = with_spears(tmp_path)
    assert restore(desk, str(tmp_path / "copy.db")).then == (2, 2)
    assert desk.records() == old.records()
    # The old log of schema 5 speaks of a photo whose file never was.
    assert [one for one in check(desk).found if one.code != "photo"] == []


def test_a_log_with_pages_of_another_size(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    copy = back_up_now(desk, str(tmp_path / "copy.db")).path
    with closing(sqlite3.connect(copy, isolation_level=None)) as log:
        log.execute("PRAGMA page_size = 16384")
        log.execute("VACUUM")
    log_line(desk, ONE)
    restore(desk, copy)
    assert lines(desk) == 0
    assert check(desk).found == ()


def test_a_log_that_is_gone_comes_back_whatever_lies_beside(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    back_up_now(desk)
    with desk.open():
        log_line(desk, ONE)
        stale = Path(f"{desk.path}-wal").read_bytes()
    Path(desk.path).unlink()
    Path(f"{desk.path}-wal").write_bytes(stale)
    done = restore(desk)
    assert (done.now, done.kept) == ((0, 0), "")
    assert lines(desk) == 0
    assert len(desk.records().models) == 20
    assert check(desk).found == ()


@pytest.mark.parametrize("how", ["pages", "first page", "cut", "magic"])
def test_a_damaged_log_is_replaced_and_kept(tmp_path: Path, how: str) -> None:
    desk = with_spears(tmp_path)
    whole = export_document(desk)
    back_up_now(desk)
    damage(desk.path) if how == "pages" else harm(desk.path, how)
    done = restore(desk)
    assert "-damaged" in done.kept
    assert (tmp_path / "log-backups" / done.kept).exists()
    assert export_document(desk) == whole
    assert check(desk).found == ()
    assert backups(desk).backups[0].why in ("damaged", "by-hand")
    assert restore(desk).name.endswith(("by-hand.db", "before-restore.db"))


def harm(path: str, how: str) -> None:
    with closing(sqlite3.connect(path)) as log:
        log.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    data = bytearray(Path(path).read_bytes())
    if how == "first page":
        data[100:4096] = b"\xa5" * 3996
    elif how == "magic":
        data[:16] = b"\xa5" * 16
    Path(path).write_bytes(data[: 4096 * 5] if how == "cut" else data)


def test_a_file_that_is_no_log_is_not_replaced(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    copy = back_up_now(desk, str(tmp_path / "copy.db")).path
    text = tmp_path / "text.db"
    text.write_text("letters\n" * 999)
    with pytest.raises(DataError, match="this is not a Lastcoat log"):
        restore(desk._replace(path=str(text)), copy)
    assert text.read_text() == "letters\n" * 999


@pytest.mark.parametrize("how", ["pages", "first page", "cut", "magic", "text", "newer", "empty"])
def test_a_backup_that_is_damaged_or_not_ours_is_refused(tmp_path: Path, how: str) -> None:
    desk = with_spears(tmp_path)
    copy = back_up_now(desk, str(tmp_path / "copy.db")).path
    log_line(desk, ONE)
    if how == "pages":
        damage(copy)
    elif how in ("text", "empty"):
        Path(copy).write_text("letters\n" * 999 if how == "text" else "")
    elif how == "newer":
        with closing(sqlite3.connect(copy)) as log:
            log.execute(f"PRAGMA user_version = {NEWEST_SCHEMA + 1}")
    else:
        harm(copy, how)
    with pytest.raises(DataError, match=r"damaged|not a Lastcoat log|newer version|no log") as refused:
        restore(desk, copy)
    assert len(str(refused.value).splitlines()) == 1
    assert lines(desk) == 1
    assert check(desk).found == ()
    assert not list((tmp_path / "log-backups").iterdir())


def test_backups_that_are_not_there(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    with pytest.raises(DataError, match="there is no backup here"):
        restore(desk)
    back_up_now(desk)
    with pytest.raises(DataError, match="there is no such backup"):
        restore(desk, "by-hnd")


def test_one_damaged_backup_does_not_hide_the_others(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    back_up_now(desk)
    damage(back_up_now(desk).path)
    newest, other = backups(desk).backups
    assert isinstance(newest, Backup)
    assert (newest.units, other.units) == (None, 1)


def test_a_second_daily_backup_is_not_made(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    daily(desk)
    daily(desk)
    assert whys(desk) == ["daily"]
    assert datetime(2026, 3, 10, 21, 30) == backups(desk).backups[0].when
