"""Everything of a damaged log that can still be read, put into a fresh one. The damaged file stays untouched.

It is read from a private copy, table by table; where a range of keys cannot be read it is halved until only
the rows are left out that the damage hit.
"""

from __future__ import annotations

import os
import shutil
import sqlite3
import tempfile
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from datetime import datetime
from math import isfinite
from pathlib import Path
from typing import Any, NamedTuple

from tracker.domain.answers_check import SalvageAnswer, SavedTable
from tracker.domain.problems import DataError, Problem
from tracker.store.book import unreadable
from tracker.store.document import TABLES, dump
from tracker.store.header import with_good_header
from tracker.store.journal import Store
from tracker.store.opening import open_store
from tracker.store.ranks import unreadable_rank
from tracker.store.seals import Sum, sum_of
from tracker.store.wal import look_at_wal

Row = tuple[Any, ...]
_REFUSALS = (sqlite3.Error, UnicodeDecodeError)
"""What reading can raise; a refusal that quotes damaged bytes is no text itself."""
_TRIES_MOST = 20_000
"""Ranges of one table that may fail before the rest of it is given up."""
_TWO_KEYS = ("route_step", "line_model", "goal_unit")
_KEYS_BEYOND = 10_000
_NEVER = -(2**63)


class _Read(NamedTuple):
    """What was read of a table."""

    columns: tuple[str, ...]
    rows: tuple[Row, ...]
    failed: bool
    """A part of it could not be read."""


def save_what_can_be_read(
    path: str, saved: str, *, now: Callable[[], datetime], new_uid: Callable[[], str]
) -> tuple[dict[str, Any], SalvageAnswer]:
    """Make a fresh log at `saved` of what can be read at `path`; its document, and what was lost.

    A `DataError` where no table can be read at all.
    """
    with _copy_of(path) as copy:
        frames_lost = look_at_wal(copy).bad
        with closing(_open_copy(copy)) as log:
            seals = _seals(log)
            read = {table: _read(log, table, seals.get(table)) for table in TABLES}
    if not any(one.columns for one in read.values()):
        what = "none of its tables can be read"
        raise DataError(Problem(path, what, "Go back to a backup: lastcoat restore"))
    unready = f"{saved}.unready"
    Path(unready).unlink(missing_ok=True)
    try:
        with closing(open_store(unready, now=now, new_uid=new_uid, create=True)) as store:
            tables = _put(store, read, seals)
            document = dump(store)
        os.replace(unready, saved)  # noqa: PTH105 - a text path, as everywhere in this room
    finally:
        for end in ("", "-wal", "-shm"):
            Path(f"{unready}{end}").unlink(missing_ok=True)
    return document, SalvageAnswer(path, "", saved, tables, frames_lost)


@contextmanager
def _copy_of(path: str) -> Iterator[str]:
    """A copy in a folder for its owner only, with what stands in the write-ahead log."""
    with tempfile.TemporaryDirectory(prefix="lastcoat-") as folder:
        copy = os.path.join(folder, "log.db")  # noqa: PTH118 - a text path
        Path(copy).write_bytes(with_good_header(Path(path).read_bytes()))
        if os.path.exists(f"{path}-wal"):  # noqa: PTH110
            shutil.copyfile(f"{path}-wal", f"{copy}-wal")
        yield copy


def _open_copy(copy: str) -> sqlite3.Connection:
    """The copy with its write-ahead log where that can be read, else without it."""
    for address in (f"file:{copy}?mode=rw", f"file:{copy}?mode=ro&immutable=1"):
        log = sqlite3.connect(address, uri=True, isolation_level=None)
        log.text_factory = lambda text: text.decode("utf-8", "surrogateescape")
        try:
            log.execute("PRAGMA query_only = ON")
            log.execute("SELECT count(*) FROM sqlite_master").fetchone()
        except _REFUSALS:
            log.close()
        else:
            return log
    return sqlite3.connect(":memory:")


def _seals(log: sqlite3.Connection) -> dict[str, Sum]:
    """How many rows each table had, and their digests; as far as that can be read."""
    try:
        return {
            name: Sum(*rest) for name, *rest in log.execute("SELECT table_name, row_count, digest FROM seal")
        }
    except (*_REFUSALS, TypeError):
        return {}


def _read(log: sqlite3.Connection, table: str, seal: Sum | None) -> _Read:
    """All rows of a table that can be read. Its first column is a whole number, and leads its key."""
    try:
        columns = tuple(str(row[1]) for row in log.execute(f"PRAGMA table_info({table})"))
    except _REFUSALS:
        columns = ()
    if not columns or not all(name.isascii() and name.isidentifier() for name in columns):
        # A name that was damaged itself cannot be asked for.
        return _Read((), (), failed=True)
    sql = f"SELECT * FROM {table} WHERE {columns[0]} BETWEEN ? AND ? ORDER BY {columns[0]}"  # noqa: S608
    rows: dict[Row, None] = {}
    ranges, tries, failed = [(_NEVER, 2**63 - 1)], 0, False
    while ranges and tries < _TRIES_MOST:
        low, high = ranges.pop()
        try:
            for row in log.execute(sql, (low, high)):
                rows[row] = None
        except (*_REFUSALS, OverflowError):
            failed, tries = True, tries + 1
            if (low, high) == (_NEVER, 2**63 - 1):
                low, high = 0, _last_key(log, table, columns[0], seal)
                ranges = [(high + 1, 2**63 - 1)] if low == high else []
            if low < high:
                middle = (low + high) // 2
                ranges += [(middle + 1, high), (low, middle)]
    return _Read(columns, tuple(rows), failed or bool(ranges))


def _last_key(log: sqlite3.Connection, table: str, key: str, seal: Sum | None) -> int:
    """No key is behind it, as far as can be told."""
    known = _KEYS_BEYOND + (2 * max(seal.rows, 0) if seal else 0)
    try:
        found = log.execute(f"SELECT max({key}) FROM {table}").fetchone()[0]  # noqa: S608 - our own names
    except _REFUSALS:
        return min(known, 10_000_000)
    return min(int(found or 0), 10_000_000)


def _put(store: Store, read: dict[str, _Read], seals: dict[str, Sum]) -> tuple[SavedTable, ...]:
    """Put the rows in, each that fits; in an order in which every row finds what it refers to."""
    unfit: dict[str, int] = {}
    with store.change("salvage", "what could be read of a damaged log"):
        for table, one in read.items():
            unfit[table] = sum(not _fits(store, table, one.columns, row) for row in one.rows)
        for table in _drop_unreadable(store):
            unfit[table] += 1
    saved = {table: _count(store, table) for table in read}
    return tuple(_saved(table, one, saved[table], unfit[table], seals) for table, one in read.items())


def _saved(table: str, one: _Read, saved: int, unfit: int, seals: dict[str, Sum]) -> SavedTable:
    seal = seals.get(table)
    altered = sum(row != _plain(row) for row in one.rows)
    whole = seal is not None and seal == sum_of(one.rows)
    expected = None if seal is None else max(seal.rows, 0)
    return SavedTable(table, saved, unfit, altered, expected, one.failed, sealed=whole)


def _fits(store: Store, table: str, columns: tuple[str, ...], row: Row) -> bool:
    if any(isinstance(value, float) and not isfinite(value) for value in row):
        return False
    marks = ", ".join("?" * len(columns))
    sql = f"INSERT INTO {table} ({', '.join(columns)}) VALUES ({marks})"  # noqa: S608 - our own names
    try:
        store.connection.execute(sql, _plain(row))
    except (sqlite3.Error, OverflowError, ValueError) as refusal:
        if "FULL" in str(getattr(refusal, "sqlite_errorname", "")):
            raise
        return False
    return True


def _plain(row: Row) -> Row:
    """Letters that cannot be read become the sign for that (U+FFFD)."""
    return tuple(
        value.encode("utf-8", "surrogateescape").decode("utf-8", "replace")
        if isinstance(value, str)
        else value
        for value in row
    )


def _drop_unreadable(store: Store) -> Iterator[str]:
    """Rows that fit and that nobody can read go again; their tables, one for each."""
    while (row := unreadable(store)) is not None:
        table, number = row.split()
        yield table
        _drop(store, table, int(number))
    while (wrong := unreadable_rank(store)) is not None:
        for table in ("rank_model", "rank_rule", "rank_check"):
            if store.rows(f"SELECT 1 FROM {table} WHERE id = ?", (wrong,)):  # noqa: S608 - our own names
                yield table
                _drop(store, table, wrong)


def _drop(store: Store, table: str, number: int) -> None:
    """Take a row out with the rows that refer to it."""
    for other in TABLES:
        for _, _, parent, column, *_ in store.rows(f"PRAGMA foreign_key_list({other})"):
            if parent == table:
                if other in _TWO_KEYS:
                    store.connection.execute(f"DELETE FROM {other} WHERE {column} = ?", (number,))  # noqa: S608
                    continue
                key = store.rows(f"PRAGMA table_info({other})")[0][1]
                for (child,) in store.rows(f"SELECT {key} FROM {other} WHERE {column} = ?", (number,)):  # noqa: S608
                    _drop(store, other, child)
    key = store.rows(f"PRAGMA table_info({table})")[0][1]
    store.connection.execute(f"DELETE FROM {table} WHERE {key} = ?", (number,))  # noqa: S608


def _count(store: Store, table: str) -> int:
    return int(store.rows(f"SELECT count(*) FROM {table}")[0][0])  # noqa: S608 - our own names
