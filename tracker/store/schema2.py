"""Schema 2, frozen: the lamp, the half-typed evening, and the part of a model.

Moments are ISO 8601 local times with their offset from UTC, so that an hour that is struck twice in
autumn is told apart. The draft is not journaled: typing is no change of the log.
"""

from __future__ import annotations

from tracker.store.schema1 import undo_trigger

_MOMENT = "{0} GLOB '????-??-??T??:??:??[+-]??:??'"

_TABLES = (
    "ALTER TABLE model ADD COLUMN part TEXT NOT NULL DEFAULT ''",
    f"""
    CREATE TABLE lamp (
        id INTEGER PRIMARY KEY CHECK (id = 1),
        began TEXT NOT NULL CHECK ({_MOMENT.format("began")})
    ) STRICT
    """,
    f"""
    CREATE TABLE lamp_rest (
        id INTEGER PRIMARY KEY,
        began TEXT NOT NULL CHECK ({_MOMENT.format("began")}),
        ended TEXT CHECK (ended IS NULL OR {_MOMENT.format("ended")})
    ) STRICT
    """,
    """
    CREATE TABLE draft (
        id INTEGER PRIMARY KEY CHECK (id = 1),
        words TEXT NOT NULL
    ) STRICT
    """,
)

_COLUMNS: dict[str, tuple[str, ...]] = {
    "model": (
        "id", "uid", "unit_id", "number", "name", "kind", "note", "added_on", "left_on", "left_how", "part",
    ),
    "lamp": ("id", "began"),
    "lamp_rest": ("id", "began", "ended"),
}  # fmt: skip

_KEPT_FOR_UNDO = (
    "UPDATE change_row SET v10 = '' WHERE table_name = 'model' AND act IN ('update', 'delete')",
    "DROP TRIGGER model_insert",
    "DROP TRIGGER model_update",
    "DROP TRIGGER model_delete",
)


def statements() -> tuple[str, ...]:
    """Every statement that makes a log of schema 1 one of schema 2, in order."""
    triggers = []
    for table, columns in _COLUMNS.items():
        triggers += [
            undo_trigger(table, "insert", "NEW", columns[:1]),
            undo_trigger(table, "update", "OLD", columns),
            undo_trigger(table, "delete", "OLD", columns),
        ]
    return (*_TABLES, *_KEPT_FOR_UNDO, *triggers)
