"""Changes that can be taken back: each runs in one transaction and keeps how to undo it.

Triggers write, row by row, how to take a change back; taking it back runs those rows from the last
to the first, while the same triggers write how to bring it back again.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import datetime
from itertools import groupby
from typing import Any, NamedTuple

KEPT_CHANGES = 500
"""How many changes can be taken back."""
_TO_UNDO = "SELECT id FROM change WHERE undone = 0 ORDER BY id DESC LIMIT 1"
_TO_REDO = "SELECT id FROM change WHERE undone = 1 ORDER BY id LIMIT 1"


class Past(NamedTuple):
    """A change that was taken back or brought back: what it was, in words, and when it was made."""

    verb: str
    words: str
    at: datetime


class Change:
    """A change while it is open; its words may become known only at its end."""

    def __init__(self, number: int, words: str) -> None:
        self.number = number
        self.words = words
        self.kept = True
        """Set to False to throw the change away at its end (a dry run)."""


class Store:
    """An open log. One connection, for one thread."""

    def __init__(
        self,
        connection: sqlite3.Connection,
        path: str,
        now: Callable[[], datetime],
        new_uid: Callable[[], str],
    ) -> None:
        self.connection = connection
        self.path = path
        self.now = now
        self.new_uid = new_uid
        self.before_stored: Callable[[str, datetime | None], object] | None = None
        """Called when a change is about to be kept, with its verb and the moment of the one before it.

        Other connections still see the log as it was before. What this raises takes the change back.
        """

    def close(self) -> None:
        """Let go of the file."""
        self.connection.close()

    def rows(self, sql: str, values: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
        """All rows of a query."""
        return self.connection.execute(sql, values).fetchall()

    def insert(self, table: str, **values: Any) -> int:
        """Add a row; its id."""
        marks = ", ".join("?" * len(values))
        sql = f"INSERT INTO {table} ({', '.join(values)}) VALUES ({marks})"  # noqa: S608 - our own names
        return int(self.connection.execute(sql, tuple(values.values())).lastrowid or 0)

    def update(self, table: str, row_id: int, **values: Any) -> None:
        """Change columns of a row."""
        sets = ", ".join(f"{column} = ?" for column in values)
        sql = f"UPDATE {table} SET {sets} WHERE id = ?"  # noqa: S608 - our own names
        self.connection.execute(sql, (*values.values(), row_id))

    @contextmanager
    def change(self, verb: str, words: str = "") -> Iterator[Change]:
        """One change, whole or not at all. If nothing changed, nothing is kept of it."""
        with self._transaction():
            number = self.insert("change", verb=verb, words=words, at=self.now().isoformat())
            self._open(number)
            change = Change(number, words)
            yield change
            if change.kept and self._moved(number):
                self._about_to_store(verb, number)
                self._settle(change)
            else:
                self.connection.execute("ROLLBACK")

    @contextmanager
    def snapshot(self) -> Iterator[None]:
        """Everything read inside is of one moment, even while another process writes."""
        if self.connection.in_transaction:
            yield
            return
        self.connection.execute("BEGIN")
        try:
            yield
        finally:
            self.connection.execute("ROLLBACK")

    def undo(self) -> Past | None:
        """Take the last change back; None when there is none left."""
        return self._turn(_TO_UNDO, undone=1)

    def redo(self) -> Past | None:
        """Bring back the change that was taken back last; None when there is none."""
        return self._turn(_TO_REDO, undone=0)

    def to_undo(self) -> Past | None:
        """What `undo` would take back."""
        return self._first(_TO_UNDO)

    def to_redo(self) -> Past | None:
        """What `redo` would bring back."""
        return self._first(_TO_REDO)

    def log_state(self) -> str:
        """A token that differs after every change, undo and redo of what is known; the lamp is not known."""
        return str(self.rows("SELECT state FROM journal_head")[0][0])

    def _about_to_store(self, verb: str, number: int | None = None) -> None:
        if self.before_stored is None:
            return
        found = self.rows("SELECT at FROM change WHERE id IS NOT ? ORDER BY id DESC LIMIT 1", (number,))
        self.before_stored(verb, datetime.fromisoformat(found[0][0]) if found else None)

    @contextmanager
    def _transaction(self) -> Iterator[None]:
        self.connection.execute("BEGIN IMMEDIATE")
        try:
            yield
            if self.connection.in_transaction:
                self.connection.execute("COMMIT")
        except BaseException:
            if self.connection.in_transaction:
                self.connection.execute("ROLLBACK")
            raise

    def _open(self, number: int) -> None:
        self.connection.execute("UPDATE journal_head SET open_change = ?", (number,))

    def _shut(self, number: int) -> None:
        """End a change. One of the lamp alone leaves every kept answer right, so the state stays."""
        self.connection.execute(
            "UPDATE journal_head SET open_change = NULL, state = state + EXISTS (SELECT 1 FROM change_row"
            " WHERE change_id = ? AND table_name NOT IN ('lamp', 'lamp_rest'))",
            (number,),
        )

    def _moved(self, number: int) -> bool:
        return bool(self.rows("SELECT 1 FROM change_row WHERE change_id = ? LIMIT 1", (number,)))

    def _settle(self, change: Change) -> None:
        """A new change ends what could have been brought back, and the oldest are forgotten."""
        self.connection.execute(
            "DELETE FROM change WHERE undone = 1 OR id <= ?", (change.number - KEPT_CHANGES,)
        )
        self.update("change", change.number, words=change.words)
        self._shut(change.number)
        self._seal(change.number)

    def _seal(self, number: int) -> None:
        """So that `check` can tell a row that was stored from one that was damaged."""
        from tracker.store.seals import seal_change  # readers do without it

        seal_change(self.connection, number)

    def _first(self, which: str) -> Past | None:
        found = self.rows(which)
        return self._past(found[0][0]) if found else None

    def _past(self, number: int) -> Past:
        verb, words, at = self.rows("SELECT verb, words, at FROM change WHERE id = ?", (number,))[0]
        return Past(verb, words, datetime.fromisoformat(at))

    def _turn(self, which: str, undone: int) -> Past | None:
        with self._transaction():
            found = self.rows(which)
            if not found:
                return None
            self._about_to_store("undo" if undone else "redo")
            number = found[0][0]
            self._take_back(number)
            self.update("change", number, undone=undone)
            self._shut(number)
            self._seal(number)
            return self._past(number)

    def _take_back(self, number: int) -> None:
        steps = self.rows("SELECT * FROM change_row WHERE change_id = ? ORDER BY id DESC", (number,))
        self.connection.execute("DELETE FROM change_row WHERE change_id = ?", (number,))
        self.connection.execute("PRAGMA defer_foreign_keys = ON")
        self._open(number)
        shapes = {table: _shape(self, table) for table in {row[2] for row in steps}}
        for (table, act), run in groupby(steps, key=lambda row: (row[2], row[3])):
            sql, pick = shapes[table].way_back(act)
            self.connection.executemany(sql, (pick(row[4:]) for row in run))


class _Shape(NamedTuple):
    """What puts one row of a table back."""

    columns: tuple[str, ...]
    keys: tuple[str, ...]
    """Columns of the primary key; they stand first in every table."""
    table: str

    def way_back(self, act: str) -> tuple[str, Callable[[tuple[Any, ...]], tuple[Any, ...]]]:
        """The statement that takes an act back, and what it needs of the values kept of the row."""
        width, keyed = len(self.columns), len(self.keys)
        where = " AND ".join(f"{key} = ?" for key in self.keys)
        if act == "insert":
            return f"DELETE FROM {self.table} WHERE {where}", lambda kept: kept[:keyed]  # noqa: S608
        if act == "delete":
            marks = ", ".join("?" * width)
            return f"INSERT INTO {self.table} VALUES ({marks})", lambda kept: kept[:width]  # noqa: S608
        sets = ", ".join(f"{column} = ?" for column in self.columns)
        return (
            f"UPDATE {self.table} SET {sets} WHERE {where}",  # noqa: S608 - our own names
            lambda kept: kept[:width] + kept[:keyed],
        )


def _shape(store: Store, table: str) -> _Shape:
    info = store.rows(f"PRAGMA table_info({table})")
    return _Shape(tuple(row[1] for row in info), tuple(row[1] for row in info if row[5]), table)
