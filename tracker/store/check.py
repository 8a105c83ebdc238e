"""A look over the file itself: SQLite's own tests, the shape of the tables, seals, the journal."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from itertools import groupby
from math import isfinite
from typing import Any

from tracker.domain.answers_check import Found
from tracker.store.document import TABLES
from tracker.store.journal import Store
from tracker.store.numbers import NEWEST_SCHEMA
from tracker.store.seals import broken_seals

SAVE = "Save what can be read: lastcoat check --salvage FILE.json"
RESTORE = f"Go back to a backup, or: {SAVE[0].lower()}{SAVE[1:]}"
_SHOWN = 5
_INDEX_WORDS = ("missing from index", "wrong # of entries in index")


@contextmanager
def any_text(store: Store) -> Iterator[None]:
    """Read texts that are no UTF-8 all the same, each wrong byte as a lone surrogate (PEP 383)."""
    store.connection.text_factory = lambda text: text.decode("utf-8", "surrogateescape")
    try:
        yield
    finally:
        store.connection.text_factory = str


def look_at_file(store: Store) -> tuple[list[Found], bool]:
    """What is wrong with the file, and whether it is damaged so that nothing should be written to it."""
    found, damaged = _integrity(store)
    if not damaged:
        found += [*_references(store), *_shape(store), *_journal(store)]
        found += [*_values(store), *_seals(store)]
    return found, damaged


def damage(refusal: Exception) -> Found:
    """The file cannot be read through."""
    return Found("file", "the file", f"it is damaged ({refusal})", RESTORE)


def _integrity(store: Store) -> tuple[list[Found], bool]:
    said = [str(row[0]) for row in store.rows("PRAGMA integrity_check")]
    if said == ["ok"]:
        return [], False
    if all(any(words in one for words in _INDEX_WORDS) for one in said):
        what = f"it does not go with its table ({_some(said)})"
        return [Found("index", "an index", what, "lastcoat check --mend makes it anew", safe=True)], False
    return [Found("file", "the file", f"it is damaged ({_some(said)})", RESTORE)], True


def _some(said: list[str]) -> str:
    more = f"; and {len(said) - _SHOWN} more" if len(said) > _SHOWN else ""
    return "; ".join(" ".join(one.split()) for one in said[:_SHOWN]) + more


def _references(store: Store) -> Iterator[Found]:
    rows = sorted((str(row[0]), str(row[2])) for row in store.rows("PRAGMA foreign_key_check"))
    for (table, parent), alike in groupby(rows):
        count = len(list(alike))
        what = f"{count} of its rows refer to a row of {parent} that is not there"
        yield Found("reference", f"table {table}", what, RESTORE)


def fresh_shape() -> dict[tuple[str, str], str]:
    """(type, name) -> the statement of everything in a log that was just made."""
    from tracker.store.migrations import migrate

    fresh = sqlite3.connect(":memory:", isolation_level=None)
    try:
        migrate(fresh, ":memory:", NEWEST_SCHEMA)
        return _shape_of(fresh)
    finally:
        fresh.close()


def _shape_of(log: sqlite3.Connection) -> dict[tuple[str, str], str]:
    sql = "SELECT type, name, sql FROM sqlite_master WHERE name NOT LIKE 'sqlite%' AND name <> ?"
    rows = log.execute(sql, ("_sqlite_migrations",))
    return {(str(kind), str(name)): " ".join(str(text).split()) for kind, name, text in rows}


def _shape(store: Store) -> Iterator[Found]:
    wanted, there = fresh_shape(), _shape_of(store.connection)
    for (kind, name), statement in wanted.items():
        said = there.get((kind, name))
        if said == statement:
            continue
        what = "it is not there" if said is None else "it is not as Lastcoat makes it"
        if kind == "table":
            yield Found("shape", f"table {name}", what, RESTORE)
        else:
            yield Found("shape", f"{kind} {name}", what, "lastcoat check --mend makes it anew", safe=True)
    for kind, name in there.keys() - wanted.keys():
        if kind == "trigger":
            what = "it is none of Lastcoat's, and may change what is stored"
            yield Found("shape", f"trigger {name}", what, RESTORE)
    done = {str(name) for (name,) in store.rows("SELECT name FROM _sqlite_migrations")}
    if done != {f"schema {number}" for number in range(1, NEWEST_SCHEMA + 1)}:
        what = "it does not tell the migrations this log went through"
        yield Found("shape", "table _sqlite_migrations", what, RESTORE)


def _journal(store: Store) -> Iterator[Found]:
    heads = store.rows("SELECT open_change FROM journal_head")
    if len(heads) != 1 or heads[0][0] is not None:
        what = "it says that a change is still open" if heads else "its head is not there"
        yield Found("journal", "the journal", what, "lastcoat check --mend closes it", safe=True)
    for number, at in store.rows("SELECT id, at FROM change ORDER BY id"):
        try:
            datetime.fromisoformat(at)
        except ValueError:
            yield _bad_change(number, "its moment cannot be read")
    for number, table in store.rows("SELECT DISTINCT change_id, table_name FROM change_row"):
        if table not in TABLES:
            yield _bad_change(number, "it speaks of a table that is not there")


def _bad_change(number: int, what: str) -> Found:
    mend = "lastcoat check --mend forgets how to take it back; what it changed stays"
    return Found("undo", f"change {number}", what, mend, safe=True, rows=(number,))


def _values(store: Store) -> Iterator[Found]:
    for table in (*TABLES, "change", "change_row", "draft"):
        wrong = _unreadable(store.connection.execute(f"SELECT * FROM {table}"))  # noqa: S608 - our own names
        for what, rows in wrong.items():
            some = ", ".join(map(str, rows[:_SHOWN])) + (" …" if len(rows) > _SHOWN else "")
            yield Found("value", f"table {table}, row {some}", what, RESTORE, rows=tuple(rows))


def _unreadable(rows: sqlite3.Cursor) -> dict[str, list[int]]:
    """What is wrong -> keys of the rows in which it is."""
    wrong: dict[str, list[int]] = {}
    for row in rows:
        for value in row:
            if (what := _wrong(value)) and row[0] not in wrong.setdefault(what, []):
                wrong[what].append(row[0])
    return wrong


def _wrong(value: Any) -> str:
    if isinstance(value, float) and not isfinite(value):
        return "a number has no end"
    if isinstance(value, str) and not value.isascii() and any("\ud800" <= sign <= "\udfff" for sign in value):
        return "a text is no UTF-8"
    return ""


def _seals(store: Store) -> Iterator[Found]:
    for name in broken_seals(store.connection):
        if name.startswith("change "):
            yield _bad_change(int(name.split()[1]), "what is kept to take it back is not what was stored")
        elif name == "journal_head":
            what = "it is not what was stored"
            yield Found("journal", "the journal", what, "lastcoat check --mend begins it anew", safe=True)
        else:
            what = "its rows are not those that Lastcoat stored: the file was changed from outside or damaged"
            yield Found("seal", f"table {name}", what, RESTORE)
