"""Seals: digests of every row, kept up with each change, so that damage cannot pass for data.

    digest of a row   = CRC-32 of its values written in ASCII
    digest of a table = the sum of its rows' digests, modulo 2^62

A sum can be kept up by the rows a change touched alone: what they were stands in the journal, what they
are in the table. CRC-32 tells every damage within 32 bits of a row's text for sure; any other goes unseen
with a chance of about one in four billion. It guards against accidents, not against someone who means it.
Source: ISO/IEC/IEEE 8802-3 (the polynomial); W. W. Peterson, D. T. Brown, "Cyclic Codes for Error
Detection", 1961 (bursts), both from memory.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable
from typing import Any, NamedTuple
from zlib import crc32

_MODULUS = 1 << 62
_HEAD = "journal_head"
"""Its row of `seal` holds the log's state number."""
_UNSEALED = frozenset({"draft", "kept_fit", "change", "change_row", _HEAD, "seal", "change_seal"})
"""Tables without a row in `seal`: the journal has seals of its own, kept fits and the draft are no facts."""
_FIRST_VALUE = 4
"""Where the kept values begin in a row of `change_row`."""


class Sum(NamedTuple):
    """How many rows, and the sum of their digests."""

    rows: int = 0
    digest: int = 0

    def plus(self, other: Sum) -> Sum:
        """Both together."""
        return Sum(self.rows + other.rows, (self.digest + other.digest) % _MODULUS)

    def minus(self, other: Sum) -> Sum:
        """This without the other."""
        return Sum(self.rows - other.rows, (self.digest - other.digest) % _MODULUS)


def digest(row: tuple[Any, ...]) -> int:
    """CRC-32 of a row, its values in ASCII: the same on every Python, floats to the last bit."""
    return crc32(ascii(row).encode())


def sum_of(rows: Iterable[tuple[Any, ...]]) -> Sum:
    """The digests of some rows."""
    count = total = 0
    for row in rows:
        count += 1
        total += digest(row)
    return Sum(count, total % _MODULUS)


def sealed_tables(log: sqlite3.Connection) -> list[str]:
    """Every table that holds facts, in the order they were made."""
    names = [
        row[0] for row in log.execute("SELECT name FROM sqlite_master WHERE type = 'table' ORDER BY rowid")
    ]
    return [name for name in names if name not in _UNSEALED and not name.startswith(("sqlite_", "_"))]


def seal_all(log: sqlite3.Connection) -> None:
    """Seal the whole log as it stands, inside an open transaction."""
    log.execute("DELETE FROM seal")
    log.execute("DELETE FROM change_seal")
    for table in sealed_tables(log):
        log.execute("INSERT INTO seal VALUES (?, ?, ?)", (table, *_table_sum(log, table)))
    for (number,) in log.execute("SELECT id FROM change").fetchall():
        _seal_journal(log, number)
    _seal_head(log)


def seal_change(log: sqlite3.Connection, number: int) -> None:
    """Keep the seals up with one change, at its end and inside its transaction."""
    before, after = _touched(log, number)
    log.executemany(
        f"UPDATE seal SET row_count = row_count + ?, digest = (digest + ?) % {_MODULUS} WHERE table_name = ?",  # noqa: S608
        ((*after[table].minus(before[table]), table) for table in before),
    )
    _seal_journal(log, number)
    _seal_head(log)


def broken_seals(log: sqlite3.Connection) -> list[str]:
    """Tables whose rows are not those that were stored, and "change N" of what is kept to take back."""
    kept = {name: Sum(*rest) for name, *rest in log.execute("SELECT * FROM seal")}
    wrong = [table for table in sealed_tables(log) if kept.pop(table, None) != _table_sum(log, table)]
    wrong += [_HEAD] if kept.pop(_HEAD, None) != _state_sum(log) else []
    wrong += sorted(kept)
    numbers = {number for (number,) in log.execute("SELECT id FROM change")}
    of_changes = {number: Sum(*rest) for number, *rest in log.execute("SELECT * FROM change_seal")}
    numbers |= of_changes.keys()
    numbers |= {number for (number,) in log.execute("SELECT DISTINCT change_id FROM change_row")}
    return wrong + [
        f"change {number}"
        for number in sorted(numbers)
        if of_changes.get(number) != _journal_sum(log, number)
    ]


def _touched(log: sqlite3.Connection, number: int) -> tuple[dict[str, Sum], dict[str, Sum]]:
    """Per table what the rows that a change touched were before it, and what they are now.

    The first word of the journal on a row tells what it was; an inserted row was not there.
    """
    widths: dict[str, tuple[int, list[str]]] = {}
    first: dict[str, dict[tuple[Any, ...], tuple[Any, ...] | None]] = {}
    for row in log.execute("SELECT * FROM change_row WHERE change_id = ? ORDER BY id", (number,)):
        table, act = row[2], row[3]
        if table not in widths:
            info = log.execute(f"PRAGMA table_info({table})").fetchall()
            widths[table] = len(info), [column[1] for column in info if column[5]]
            first[table] = {}
        width, keys = widths[table]
        was = row[_FIRST_VALUE : _FIRST_VALUE + width]
        first[table].setdefault(was[: len(keys)], None if act == "insert" else was)
    before = {table: sum_of(row for row in rows.values() if row) for table, rows in first.items()}
    after = {table: _now(log, table, widths[table][1], rows) for table, rows in first.items()}
    return before, after


def _now(log: sqlite3.Connection, table: str, keys: list[str], wanted: Iterable[tuple[Any, ...]]) -> Sum:
    where = " AND ".join(f"{key} = ?" for key in keys)
    sql = f"SELECT * FROM {table} WHERE {where}"  # noqa: S608 - our own names
    return sum_of(row for key in wanted for row in log.execute(sql, key))


def _table_sum(log: sqlite3.Connection, table: str) -> Sum:
    return sum_of(log.execute(f"SELECT * FROM {table}"))  # noqa: S608 - our own names


def _seal_journal(log: sqlite3.Connection, number: int) -> None:
    log.execute("INSERT OR REPLACE INTO change_seal VALUES (?, ?, ?)", (number, *_journal_sum(log, number)))


def _journal_sum(log: sqlite3.Connection, number: int) -> Sum:
    """Of the change in words and of every row kept to take it back."""
    said = sum_of(log.execute("SELECT * FROM change WHERE id = ?", (number,)))
    return said.plus(sum_of(log.execute("SELECT * FROM change_row WHERE change_id = ?", (number,))))


def seal_head(log: sqlite3.Connection) -> None:
    """Seal the number that tells one state of the log from another; a log from before seals has none."""
    if log.execute("SELECT 1 FROM sqlite_master WHERE name = 'seal'").fetchone():
        _seal_head(log)


def _seal_head(log: sqlite3.Connection) -> None:
    log.execute("INSERT OR REPLACE INTO seal VALUES (?, ?, ?)", (_HEAD, *_state_sum(log)))


def _state_sum(log: sqlite3.Connection) -> Sum:
    return sum_of(log.execute("SELECT * FROM journal_head"))
