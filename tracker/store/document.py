"""The whole log as one plain document and back, exact for every table but journal, draft and kept fits."""

from __future__ import annotations

import sqlite3
from typing import Any

from tracker.domain.problems import DataError, Problem
from tracker.store import schema4, schema5
from tracker.store.book import unreadable
from tracker.store.journal import Store
from tracker.store.ranks import unreadable_rank

FORMAT = "lastcoat log"
VERSION = 5
NEW_IN_3 = {
    "declared": ("id", "uid", "kind", "first", "last", "rule", "without", "minutes", "note", "said_on"),
    "goal": ("id", "uid", "name", "name_key", "date", "models", "points", "least_models", "said_on"),
    "goal_unit": ("goal_id", "unit_id"),
}
"""Tables that came with the third version."""
NEW_IN_4 = schema4.COLUMNS
"""Tables that came with the fourth."""
NEW_IN_5 = schema5.COLUMNS
"""Tables that came with the fifth."""
TABLES = (
    "army",
    "unit",
    "route_step",
    "own_step",
    "model",
    "session",
    "line",
    "line_model",
    "mark",
    "lamp",
    "lamp_rest",
    "declared",
    "goal",
    "goal_unit",
    *NEW_IN_4,
    *NEW_IN_5,
)
"""In an order in which every row finds what it refers to."""


def dump(store: Store) -> dict[str, Any]:
    """Every table as `{"columns": [...], "rows": [[...]]}`, rows by their key."""
    document: dict[str, Any] = {"format": FORMAT, "version": VERSION}
    with store.snapshot():
        for table in TABLES:
            columns = _columns(store, table)
            rows = store.rows(f"SELECT * FROM {table} ORDER BY 1, 2")  # noqa: S608 - our own names
            document[table] = {"columns": columns, "rows": [list(row) for row in rows]}
    return document


def restore(store: Store, document: dict[str, Any]) -> int:
    """Put a document into an empty log, inside an open change; how many rows. Else `DataError`."""
    if document.get("format") != FORMAT:
        raise _refused("this is not a whole Lastcoat log", "Export one with: lastcoat export all FILE")
    if document.get("version") == 1:
        document = _from_version_1(document)
    if document.get("version") == 2:
        document = _with_tables(document, 3, NEW_IN_3)
    if document.get("version") == 3:
        document = _with_tables(document, 4, NEW_IN_4)
    if document.get("version") == 4:
        document = _with_tables(document, 5, NEW_IN_5)
    if document.get("version") != VERSION:
        raise _refused("this was written by another version of Lastcoat", "Read it with that version")
    if any(store.rows(f"SELECT 1 FROM {table} LIMIT 1") for table in TABLES):  # noqa: S608
        raise DataError(
            Problem(store.path, "a whole log can only be read into an empty one", "Give a new file with --db")
        )
    rows = sum(_restore_table(store, table, document.get(table)) for table in TABLES)
    if (wrong := unreadable_rank(store)) is not None:
        raise _refused(f"what it says of ranks in row {wrong} cannot be read", "Export it again")
    if (row := unreadable(store)) is not None:
        raise _refused(f"its row {row} cannot be read", "Export it again")
    return rows


def _from_version_1(document: dict[str, Any]) -> dict[str, Any]:
    """The first version knew neither the lamp nor the part of a model."""
    lamp = {"columns": ["id", "began"], "rows": []}
    rests = {"columns": ["id", "began", "ended"], "rows": []}
    models = document.get("model")
    if isinstance(models, dict) and isinstance(models.get("rows"), list):
        rows = [[*row, ""] if isinstance(row, list) else row for row in models["rows"]]
        models = {"columns": [*models.get("columns", ()), "part"], "rows": rows}
    return {**document, "version": 2, "model": models, "lamp": lamp, "lamp_rest": rests}


def _with_tables(
    document: dict[str, Any], version: int, tables: dict[str, tuple[str, ...]]
) -> dict[str, Any]:
    """A version that only brought new tables: they are empty."""
    return {**document, "version": version} | {
        table: {"columns": list(columns), "rows": []} for table, columns in tables.items()
    }


def _restore_table(store: Store, table: str, part: Any) -> int:
    columns = _columns(store, table)
    if not isinstance(part, dict) or part.get("columns") != columns or not isinstance(part.get("rows"), list):
        raise _refused(f'its part "{table}" is not what this version writes', "Export it again")
    marks = ", ".join("?" * len(columns))
    sql = f"INSERT INTO {table} ({', '.join(columns)}) VALUES ({marks})"  # noqa: S608 - our own names
    for number, row in enumerate(part["rows"], start=1):
        if not isinstance(row, list) or len(row) != len(columns):
            raise _refused(f'row {number} of its part "{table}" has the wrong length', "Export it again")
        try:
            store.connection.execute(sql, row)
        except (
            sqlite3.IntegrityError,
            sqlite3.ProgrammingError,
            OverflowError,
            UnicodeEncodeError,
        ) as refusal:
            why = " ".join(str(refusal).split())
            raise _refused(
                f'row {number} of its part "{table}" does not fit ({why})', "Export it again"
            ) from refusal
    return len(part["rows"])


def _columns(store: Store, table: str) -> list[str]:
    return [row[1] for row in store.rows(f"PRAGMA table_info({table})")]


def _refused(what: str, mend: str) -> DataError:
    return DataError(Problem("the file", what, mend))
