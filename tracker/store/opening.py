"""Opening a log: ours and readable, or a clear refusal; durable from the first line on."""

from __future__ import annotations

import errno
import os
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import datetime

from tracker.domain.problems import DataError, Problem
from tracker.store.folders import make_own_folder
from tracker.store.journal import Store
from tracker.store.numbers import APPLICATION_ID, BUSY_SECONDS, NEWEST_SCHEMA

__all__ = ["Store", "open_store", "refusals"]

BEGIN_MEND = 'Begin one: lastcoat add --unit "Spears" --models 20'
DAMAGED = (
    "the file is damaged",
    "Go back to a backup, or save what can be read: lastcoat check --salvage FILE.json",
)
_SQLITE_SAYS = {
    "SQLITE_FULL": ("the disk is full, so nothing was stored", "Make room and do it again"),
    "SQLITE_NOTADB": ("this is not a Lastcoat log", "Give another file with --db"),
    "SQLITE_CORRUPT": DAMAGED,
    "SQLITE_READONLY": ("the file or its folder cannot be written", "Allow writing, or give another --db"),
    "SQLITE_CANTOPEN": ("the file cannot be opened", "Check the path and that you may read and write it"),
    "SQLITE_BUSY": ("another program is writing to it", "Wait until it is done and do it again"),
    "SQLITE_IOERR": (
        "the disk refused to read or write, so nothing was stored",
        "Check its space and health",
    ),
    "SQLITE_TOOBIG": ("a text is too long to store", "Shorten it"),
}
_NO_FOLDER = ("a part of its path is a file, not a folder", "Check the path")
_SYSTEM_SAYS = {
    errno.EEXIST: _NO_FOLDER,
    errno.ENOTDIR: _NO_FOLDER,
    errno.ENOSPC: _SQLITE_SAYS["SQLITE_FULL"],
    errno.EFBIG: _SQLITE_SAYS["SQLITE_IOERR"],
    errno.EACCES: _SQLITE_SAYS["SQLITE_READONLY"],
    errno.EPERM: _SQLITE_SAYS["SQLITE_READONLY"],
    errno.EROFS: _SQLITE_SAYS["SQLITE_READONLY"],
}


@contextmanager
def refusals(path: str) -> Iterator[None]:
    """What SQLite or the system refuse inside the block becomes one clear `DataError`."""
    try:
        yield
    except sqlite3.Error as refusal:
        name = str(getattr(refusal, "sqlite_errorname", ""))
        family = "_".join(name.split("_")[:2])
        what, mend = _SQLITE_SAYS.get(family, (f"the log refused it ({refusal})", "Nothing was stored"))
        no_text = "Could not decode to UTF-8" in str(refusal)  # sqlite3 gives this refusal no name
        if no_text or (family == "SQLITE_NOTADB" and _is_ours_damaged(path)):
            what, mend = DAMAGED
        raise DataError(Problem(path, what, mend)) from refusal
    except UnicodeDecodeError as refusal:
        # What SQLite says of a damaged file can quote it, and so be no text at all.
        raise DataError(Problem(path, *DAMAGED)) from refusal
    except OSError as refusal:
        what, mend = _SYSTEM_SAYS.get(
            refusal.errno or 0, (f"the system says: {refusal.strerror or refusal}", "Check the path")
        )
        raise DataError(Problem(path, what, mend)) from refusal


def _is_ours_damaged(path: str) -> bool:
    """Whether a file that SQLite does not know carries our mark all the same."""
    from tracker.store.header import HEADER_BYTES, carries_our_mark

    with open(path, "rb") as file:  # noqa: PTH123
        return carries_our_mark(file.read(HEADER_BYTES))


def open_store(
    path: str,
    *,
    now: Callable[[], datetime],
    new_uid: Callable[[], str],
    create: bool = False,
    keep: Callable[[int], object] | None = None,
) -> Store:
    """The log at `path`, brought to the newest schema; raises `DataError`, or what `refusals` catches.

    A missing file is made (readable by its owner only) when `create` is set. `keep` makes the backup
    before a migration, told the schema it is of; without it, it lies beside the log.
    """
    made = _make_file(path) if create else False
    if not os.path.exists(path):  # noqa: PTH110 - pathlib would cost the hot path
        raise DataError(Problem(path, "there is no log here yet", BEGIN_MEND))
    connection = sqlite3.connect(path, timeout=BUSY_SECONDS, isolation_level=None)
    try:
        if _schema_of(connection, path, create=create) < NEWEST_SCHEMA:
            from tracker.store.migrations import migrate

            _insist(connection, "PRAGMA journal_mode = WAL")
            migrate(connection, path, NEWEST_SCHEMA, keep=keep)
        _insist(connection, "PRAGMA journal_mode = WAL")
        connection.execute("PRAGMA synchronous = FULL")
        connection.execute("PRAGMA foreign_keys = ON")
        connection.execute("PRAGMA cache_size = -32768")
    except BaseException:
        connection.close()
        if made:
            _drop_if_empty(path)
        raise
    return Store(connection, path, now, new_uid)


def _make_file(path: str) -> bool:
    """Make an empty file for its owner only; whether it was made here."""
    folder = os.path.dirname(path)  # noqa: PTH120
    if folder:
        make_own_folder(folder)
    try:
        os.close(os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600))
    except FileExistsError:
        return False
    return True


def _drop_if_empty(path: str) -> None:
    """A file that was made for a log that could not be made goes again."""
    if os.path.getsize(path) == 0:  # noqa: PTH202
        os.remove(path)  # noqa: PTH107


def _schema_of(connection: sqlite3.Connection, path: str, *, create: bool) -> int:
    """The file's schema number, 0 for an empty file; refuses files that are not ours or too new."""
    mark: int = connection.execute("PRAGMA application_id").fetchone()[0]
    version: int = connection.execute("PRAGMA user_version").fetchone()[0]
    if mark == APPLICATION_ID and version > NEWEST_SCHEMA and 0 < _migrated(connection) < version:
        raise DataError(Problem(path, *DAMAGED))
    if mark == APPLICATION_ID and version > NEWEST_SCHEMA:
        raise DataError(
            Problem(path, "this log was written by a newer version of Lastcoat", "Install that version")
        )
    if mark == APPLICATION_ID:
        return version
    empty = not connection.execute("SELECT count(*) FROM sqlite_master").fetchone()[0]
    if empty and not mark and not version:
        if create:
            return 0
        raise DataError(Problem(path, "this file holds no log yet", BEGIN_MEND))
    if _migrated(connection):
        raise DataError(Problem(path, *DAMAGED))
    raise DataError(Problem(path, "this is not a Lastcoat log", "Give another file with --db"))


def _migrated(connection: sqlite3.Connection) -> int:
    """How many of our schemas a file went through, whatever its header says."""
    if not connection.execute("SELECT 1 FROM sqlite_master WHERE name = 'journal_head'").fetchone():
        return 0
    sql = "SELECT count(*) FROM _sqlite_migrations WHERE migration_set = 'lastcoat'"
    return int(connection.execute(sql).fetchone()[0])


def _insist(connection: sqlite3.Connection, statement: str, tries: int = 50) -> None:
    """Run a statement that SQLite does not retry by itself while another process is busy.

    Switching to the write-ahead log ignores the busy timeout; each try waits for a writer through
    a transaction of its own, which does not ignore it.
    """
    for left in range(tries, 0, -1):
        try:
            connection.execute(statement).fetchall()
        except sqlite3.OperationalError as refusal:
            if "SQLITE_BUSY" not in str(getattr(refusal, "sqlite_errorname", "")) or left == 1:
                raise
            connection.execute("BEGIN IMMEDIATE")
            connection.execute("ROLLBACK")
        else:
            return
