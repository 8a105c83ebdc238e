"""The half-typed evening. It is no change: undo does not know it, and kept answers stay right."""

from __future__ import annotations

from tracker.store.journal import Store


def read_draft(store: Store) -> str:
    """What was typed and not stored; empty when there is nothing."""
    rows = store.rows("SELECT words FROM draft")
    return str(rows[0][0]) if rows else ""


def write_draft(store: Store, words: str) -> None:
    """Keep what is typed, on disk at once; nothing typed keeps nothing."""
    if words:
        store.connection.execute(
            "INSERT INTO draft (id, words) VALUES (1, ?1) ON CONFLICT (id) DO UPDATE SET words = ?1", (words,)
        )
    else:
        store.connection.execute("DELETE FROM draft")
