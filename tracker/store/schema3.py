"""Schema 3, frozen: declared evenings and days away, goals and the units they ask for.

`rule` is an RFC 5545 recurrence rule; `without` holds ISO days with commas between them.
"""

from __future__ import annotations

from tracker.store.schema1 import undo_trigger

_DAY = "{0} GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' AND date({0}) = {0}"

_TABLES = (
    f"""
    CREATE TABLE declared (
        id INTEGER PRIMARY KEY,
        uid TEXT NOT NULL UNIQUE CHECK (uid <> ''),
        kind TEXT NOT NULL CHECK (kind IN ('evenings', 'once', 'away')),
        first TEXT NOT NULL CHECK ({_DAY.format("first")}),
        last TEXT CHECK (last IS NULL OR ({_DAY.format("last")} AND last >= first)),
        rule TEXT NOT NULL CHECK ((kind = 'evenings') = (rule <> '')),
        without TEXT NOT NULL,
        minutes REAL CHECK (minutes > 0),
        note TEXT NOT NULL,
        said_on TEXT NOT NULL CHECK ({_DAY.format("said_on")})
    ) STRICT
    """,
    f"""
    CREATE TABLE goal (
        id INTEGER PRIMARY KEY,
        uid TEXT NOT NULL UNIQUE CHECK (uid <> ''),
        name TEXT NOT NULL CHECK (name <> ''),
        name_key TEXT NOT NULL UNIQUE,
        date TEXT NOT NULL CHECK ({_DAY.format("date")}),
        models INTEGER CHECK (models >= 1),
        points REAL CHECK (points > 0),
        least_models INTEGER CHECK (least_models >= 1),
        said_on TEXT NOT NULL CHECK ({_DAY.format("said_on")})
    ) STRICT
    """,
    """
    CREATE TABLE goal_unit (
        goal_id INTEGER NOT NULL REFERENCES goal (id),
        unit_id INTEGER NOT NULL REFERENCES unit (id),
        PRIMARY KEY (goal_id, unit_id)
    ) STRICT, WITHOUT ROWID
    """,
    "CREATE INDEX goal_unit_by_unit ON goal_unit (unit_id)",
)

_COLUMNS: dict[str, tuple[str, ...]] = {
    "declared": (
        "id", "uid", "kind", "first", "last", "rule", "without", "minutes", "note", "said_on",
    ),
    "goal": ("id", "uid", "name", "name_key", "date", "models", "points", "least_models", "said_on"),
    "goal_unit": ("goal_id", "unit_id"),
}  # fmt: skip
_TWO_KEYS = ("goal_unit",)


def statements() -> tuple[str, ...]:
    """Every statement that makes a log of schema 2 one of schema 3, in order."""
    triggers = []
    for table, columns in _COLUMNS.items():
        keys = columns[:2] if table in _TWO_KEYS else columns[:1]
        triggers += [
            undo_trigger(table, "insert", "NEW", keys),
            undo_trigger(table, "update", "OLD", columns),
            undo_trigger(table, "delete", "OLD", columns),
        ]
    return (*_TABLES, *triggers)
