"""Opening a log: durable, ours, and clear refusals."""

from __future__ import annotations

import shutil
import sqlite3
import stat
import subprocess
import sys
import threading
from pathlib import Path

import pytest

from tests.desks import a_desk, with_spears
from tracker.domain.problems import DataError
from tracker.store import opening
from tracker.store.migrations import MIGRATIONS, back_up, migrate
from tracker.store.numbers import APPLICATION_ID, NEWEST_SCHEMA
from tracker.store.units import insert_army
from tracker.workbench.desk import Desk

READ = "import sqlite3, sys; print(sqlite3.connect(sys.argv[1]).execute('SELECT name FROM army').fetchall())"


def refusal(desk: Desk, *, create: bool = False) -> str:
    with pytest.raises(DataError) as refused, desk.open(create=create):
        pass
    (problem,) = refused.value.problems
    assert "\n" not in str(problem)
    return str(problem)


def test_a_new_log_is_durable_and_private(tmp_path: Path) -> None:
    desk = Desk(str(tmp_path / "deep" / "er" / "log.db"))
    with desk.open(create=True) as store:
        # sqlite.org/pragma.html: synchronous 2 = FULL.
        assert store.rows("PRAGMA synchronous") == [(2,)]
        assert store.rows("PRAGMA journal_mode") == [("wal",)]
        assert store.rows("PRAGMA foreign_keys") == [(1,)]
        assert store.rows("PRAGMA application_id") == [(APPLICATION_ID,)]
        assert store.rows("PRAGMA integrity_check") == [("ok",)]
    assert stat.S_IMODE(Path(desk.path).stat().st_mode) == 0o600


def test_another_process_sees_a_change_at_once(tmp_path: Path) -> None:
    desk = a_desk(tmp_path)
    with desk.open(create=True) as store:
        with store.change("one"):
            insert_army(store, "here")
        done = subprocess.run(
            [sys.executable, "-c", READ, desk.path], capture_output=True, text=True, check=True
        )
    assert "here" in done.stdout


def test_a_missing_log_is_told_how_to_begin(tmp_path: Path) -> None:
    assert "there is no log here yet. Begin one: lastcoat add" in refusal(a_desk(tmp_path))
    assert not list(tmp_path.iterdir())


def test_an_empty_file_holds_no_log_yet(tmp_path: Path) -> None:
    desk = a_desk(tmp_path)
    Path(desk.path).touch()
    assert "holds no log yet" in refusal(desk)
    with desk.open(create=True) as store:
        assert store.rows("PRAGMA user_version") == [(NEWEST_SCHEMA,)]


@pytest.mark.parametrize("create", [False, True])
def test_files_that_are_not_ours_are_refused_and_left_alone(tmp_path: Path, create: bool) -> None:
    text = tmp_path / "log.db"
    text.write_text("date,unit,step\n" * 100)
    assert "this is not a Lastcoat log" in refusal(a_desk(tmp_path), create=create)
    assert text.read_text() == "date,unit,step\n" * 100
    text.unlink()
    with sqlite3.connect(text) as other:
        other.execute("CREATE TABLE theirs (x)")
    other.close()
    before = text.read_bytes()
    assert "this is not a Lastcoat log" in refusal(a_desk(tmp_path), create=create)
    assert text.read_bytes() == before


def test_a_newer_log_is_refused(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    with sqlite3.connect(desk.path) as connection:
        connection.execute(f"PRAGMA user_version = {NEWEST_SCHEMA + 1}")
    connection.close()
    # No migration of that number was ever done: it is the header that is damaged.
    assert "the file is damaged" in refusal(desk)
    with sqlite3.connect(desk.path) as connection:
        connection.execute("INSERT INTO _sqlite_migrations (migration_set, name) VALUES ('lastcoat', 'next')")
    connection.close()
    assert "newer version" in refusal(desk)


def test_a_folder_and_what_cannot_be_written(tmp_path: Path) -> None:
    assert "cannot be opened" in refusal(Desk(str(tmp_path)), create=True)
    (tmp_path / "file").touch()
    assert "a part of its path is a file" in refusal(Desk(str(tmp_path / "file" / "log.db")), create=True)
    assert refusal(Desk("/proc/none/log.db"), create=True)


def test_a_file_that_may_not_be_written(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)

    def denied() -> None:
        with desk.open() as store:
            store.connection.execute("PRAGMA query_only = ON")
            with store.change("one"):
                insert_army(store, "first")

    with pytest.raises(DataError, match="cannot be written"):
        denied()


def test_a_full_disk_is_one_line_and_nothing_is_stored(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)

    def fill() -> None:
        with desk.open() as store:
            pages = store.rows("PRAGMA page_count")[0][0]
            store.connection.execute(f"PRAGMA max_page_count = {pages}")
            with store.change("one"):
                for i in range(3000):
                    insert_army(store, f"army {i}")

    with pytest.raises(DataError, match="the disk is full, so nothing was stored"):
        fill()
    with desk.open() as store:
        assert store.rows("SELECT count(*) FROM army") == [(1,)]


@pytest.mark.parametrize(
    ("number", "said"), [(28, "disk is full"), (13, "cannot be written"), (5, "system says")]
)
def test_what_the_system_says_becomes_a_line(number: int, said: str) -> None:
    # errno numbers of Linux: 28 ENOSPC, 13 EACCES, 5 EIO.
    with pytest.raises(DataError, match=said), opening.refusals("log.db"):
        raise OSError(number, "x")


def test_four_openings_of_a_new_log_at_once(tmp_path: Path) -> None:
    desk = a_desk(tmp_path)
    failed: list[BaseException] = []

    def begin(number: int) -> None:
        try:
            with desk.open(create=True) as store, store.change("add"):
                insert_army(store, f"army {number}")
        except BaseException as error:
            failed.append(error)

    threads = [threading.Thread(target=begin, args=(i,)) for i in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert failed == []
    with desk.open() as store:
        assert store.rows("SELECT count(*) FROM army") == [(4,)]


def test_a_log_that_cannot_be_made_leaves_no_empty_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: object, **__: object) -> None:
        raise sqlite3.OperationalError("no")

    monkeypatch.setattr("tracker.store.migrations.migrate", broken)
    monkeypatch.setattr(opening, "_insist", broken)
    assert "refused" in refusal(a_desk(tmp_path), create=True)
    assert not list(tmp_path.iterdir())


def test_a_backup_is_whole_while_the_log_is_open(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    with desk.open() as store:
        with store.change("one"):
            insert_army(store, "in the write-ahead log")
        back_up(desk.path, str(tmp_path / "copy.db"))
        shutil.copy(desk.path, tmp_path / "torn.db")
    with Desk(str(tmp_path / "copy.db")).open() as copy:
        assert copy.rows("SELECT count(*) FROM army") == [(2,)]
    assert stat.S_IMODE((tmp_path / "copy.db").stat().st_mode) == 0o600
    assert not list(tmp_path.glob("*unready*"))


def test_a_failed_migration_changes_nothing_and_leaves_a_backup(tmp_path: Path) -> None:
    from sqlite_utils import Database, Migrations

    desk = with_spears(tmp_path)
    more = Migrations("lastcoat")
    for shipped in MIGRATIONS._migrations:
        more(name=shipped.name)(shipped.fn)

    @more(name=f"schema {NEWEST_SCHEMA + 1}")
    def to_the_next_schema(db: Database) -> None:
        db.execute("ALTER TABLE army ADD COLUMN colour TEXT")
        raise RuntimeError

    connection = sqlite3.connect(desk.path, isolation_level=None)
    with pytest.raises(RuntimeError):
        migrate(connection, desk.path, NEWEST_SCHEMA + 1, more)
    columns = [row[1] for row in connection.execute("PRAGMA table_info(army)")]
    assert "colour" not in columns
    assert connection.execute("PRAGMA user_version").fetchone() == (NEWEST_SCHEMA,)
    connection.close()
    (kept,) = (tmp_path / "log-backups").iterdir()
    assert kept.name.endswith(f"-schema-{NEWEST_SCHEMA}.db")
