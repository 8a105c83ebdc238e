"""Fitted numbers that are kept so that they need not be learned anew while nothing changed."""

from __future__ import annotations

from tracker.store.journal import Store


def keep_fit(store: Store, name: str, log_state: str, version: str, blob: bytes) -> None:
    """Keep a fit under a name, in place of the one before; it is no change and cannot be undone."""
    store.connection.execute(
        "INSERT INTO kept_fit (name, log_state, version, blob) VALUES (?1, ?2, ?3, ?4)"
        " ON CONFLICT (name) DO UPDATE SET log_state = ?2, version = ?3, blob = ?4",
        (name, log_state, version, blob),
    )


def kept_fit(store: Store, name: str, log_state: str, version: str) -> bytes | None:
    """The fit kept under that name, if it was made from this very log by this very version."""
    rows = store.rows(
        "SELECT blob FROM kept_fit WHERE name = ? AND log_state = ? AND version = ?",
        (name, log_state, version),
    )
    return bytes(rows[0][0]) if rows else None


def count_lines(store: Store) -> int:
    """How many lines the log has."""
    return int(store.rows("SELECT count(*) FROM line")[0][0])


def last_fit(store: Store, name: str, version: str) -> tuple[str, bytes] | None:
    """(log state, fit) kept last under that name by this version, whatever became of the log since."""
    rows = store.rows("SELECT log_state, blob FROM kept_fit WHERE name = ? AND version = ?", (name, version))
    return (str(rows[0][0]), bytes(rows[0][1])) if rows else None
