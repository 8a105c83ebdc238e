"""Schema 6, frozen: seals, by which `lastcoat check` sees a value that was altered behind the log's back.

SQLite keeps no checksums of its pages. `seal` holds, per table, how many rows it has and the sum of their
digests (`tracker.store.seals`); `change_seal` the same of what is kept to take one change back.
"""

from __future__ import annotations

_TABLES = (
    """
    CREATE TABLE seal (
        table_name TEXT PRIMARY KEY,
        row_count INTEGER NOT NULL,
        digest INTEGER NOT NULL
    ) STRICT, WITHOUT ROWID
    """,
    """
    CREATE TABLE change_seal (
        change_id INTEGER PRIMARY KEY REFERENCES change (id) ON DELETE CASCADE,
        row_count INTEGER NOT NULL,
        digest INTEGER NOT NULL
    ) STRICT
    """,
)


def statements() -> tuple[str, ...]:
    """Every statement that makes a log of schema 5 one of schema 6, in order; the seals are set after."""
    return _TABLES
