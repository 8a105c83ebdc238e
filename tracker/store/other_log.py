"""Another log, read without touching it: a snapshot of a database or a document, in a store of its own."""

from __future__ import annotations

import os
import sqlite3
import tempfile
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager, suppress
from datetime import datetime
from typing import Any
from urllib.parse import quote

from tracker.domain.problems import DataError, Problem
from tracker.store.document import restore
from tracker.store.journal import Store
from tracker.store.numbers import APPLICATION_ID, NEWEST_SCHEMA
from tracker.store.opening import open_store, refusals

SQLITE_HEAD = b"SQLite format 3\x00"
"""The first 16 bytes of every SQLite database (sqlite.org, Database File Format, section 1.3)."""


def is_database(path: str) -> bool:
    """Whether the file begins as an SQLite database does; a file that cannot be read does not."""
    if not os.path.isfile(path):  # noqa: PTH113 - a pipe would be waited for until somebody writes into it
        return False
    with suppress(OSError, ValueError), open(path, "rb") as file:  # noqa: PTH123 - a text path
        return file.read(len(SQLITE_HEAD)) == SQLITE_HEAD
    return False


@contextmanager
def from_database(path: str, now: Callable[[], datetime], new_uid: Callable[[], str]) -> Iterator[Store]:
    """A snapshot of the log at `path`, brought to the newest schema; the file itself stays as it is."""
    with tempfile.TemporaryDirectory(prefix="lastcoat-") as folder:
        copy = os.path.join(folder, "other.db")  # noqa: PTH118 - a text path, as everywhere in this room
        with refusals(path):
            _snapshot(path, copy)
            _to_newest(copy, path)
            store = open_store(copy, now=now, new_uid=new_uid)
            try:
                _check(store, path)
                yield store
            finally:
                store.close()


@contextmanager
def from_document(
    document: dict[str, Any], where: str, now: Callable[[], datetime], new_uid: Callable[[], str]
) -> Iterator[Store]:
    """A document of the whole log as a store of its own; `DataError` where it is not one."""
    with tempfile.TemporaryDirectory(prefix="lastcoat-") as folder:
        copy = os.path.join(folder, "other.db")  # noqa: PTH118
        with refusals(where):
            store = open_store(copy, now=now, new_uid=new_uid, create=True)
            try:
                with store.change("import all"):
                    restore(store, document)
                # It came in one go, so the journal knows nothing of how the rows became what they are.
                store.connection.execute("DELETE FROM change")
                yield store
            finally:
                store.close()


def _snapshot(path: str, copy: str) -> None:
    """Copy by SQLite's backup interface, reading only.

    A log on a medium that cannot be written has no place for the files that readers share. Without a
    write-ahead log beside it nothing is missing in the file, and it is read as one that nobody changes.
    """
    try:
        _copy(path, copy, "mode=ro")
    except sqlite3.OperationalError:
        if any(os.path.exists(f"{path}{more}") for more in ("-wal", "-journal")):  # noqa: PTH110
            raise
        _copy(path, copy, "mode=ro&immutable=1")


def _copy(path: str, copy: str, how: str) -> None:
    source = sqlite3.connect(f"file:{quote(os.path.abspath(path))}?{how}", uri=True)  # noqa: PTH100
    with closing(source), closing(sqlite3.connect(copy)) as target:
        source.backup(target)


def _to_newest(copy: str, path: str) -> None:
    """An older schema becomes the newest in the copy, which needs no backup."""
    with closing(sqlite3.connect(copy, isolation_level=None)) as connection:
        mark: int = connection.execute("PRAGMA application_id").fetchone()[0]
        version: int = connection.execute("PRAGMA user_version").fetchone()[0]
        if mark != APPLICATION_ID or not version:
            raise DataError(Problem(path, "this is not a Lastcoat log", "Name the other log, or its export"))
        if version > NEWEST_SCHEMA:
            raise DataError(
                Problem(path, "this log was written by a newer version of Lastcoat", "Install that version")
            )
        if version < NEWEST_SCHEMA:
            from sqlite_utils import Database

            from tracker.store.migrations import MIGRATIONS

            MIGRATIONS.apply(Database(connection))
            connection.execute(f"PRAGMA user_version = {NEWEST_SCHEMA:d}")


def _check(store: Store, path: str) -> None:
    """A damaged log is not joined: what is wrong in it would be wrong in both."""
    said = store.rows("PRAGMA integrity_check(1)")[0][0]
    if said != "ok" or store.rows("PRAGMA foreign_key_check"):
        raise DataError(Problem(path, "the file is damaged", f"Look at it first: lastcoat check --db {path}"))
