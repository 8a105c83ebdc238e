"""Fitted numbers that are kept so that they need not be learned anew while nothing changed."""

from __future__ import annotations

from zlib import crc32

from tracker.store.journal import Store

_SUM_BYTES = 4


def keep_fit(store: Store, name: str, log_state: str, version: str, blob: bytes) -> None:
    """Keep a fit under a name, in place of the one before; it is no change and cannot be undone."""
    store.connection.execute(
        "INSERT INTO kept_fit (name, log_state, version, blob) VALUES (?1, ?2, ?3, ?4)"
        " ON CONFLICT (name) DO UPDATE SET log_state = ?2, version = ?3, blob = ?4",
        (name, log_state, version, blob + _sum(name, log_state, version, blob)),
    )


def kept_fit(store: Store, name: str, log_state: str, version: str) -> bytes | None:
    """The fit kept under that name, if it was made from this very log by this very version, and is whole."""
    rows = store.rows(
        "SELECT blob FROM kept_fit WHERE name = ? AND log_state = ? AND version = ?",
        (name, log_state, version),
    )
    return _whole(name, log_state, version, bytes(rows[0][0])) if rows else None


def count_lines(store: Store) -> int:
    """How many lines the log has."""
    return int(store.rows("SELECT count(*) FROM line")[0][0])


def last_fit(store: Store, name: str, version: str) -> tuple[str, bytes] | None:
    """(log state, fit) kept last under that name by this version, whatever became of the log since."""
    rows = store.rows("SELECT log_state, blob FROM kept_fit WHERE name = ? AND version = ?", (name, version))
    blob = _whole(name, str(rows[0][0]), version, bytes(rows[0][1])) if rows else None
    return None if blob is None else (str(rows[0][0]), blob)


def _whole(name: str, log_state: str, version: str, kept: bytes) -> bytes | None:
    """What was kept; None where it, or what it is kept for, is not as it was."""
    blob = kept[:-_SUM_BYTES]
    return blob if kept[-_SUM_BYTES:] == _sum(name, log_state, version, blob) else None


def _sum(name: str, log_state: str, version: str, blob: bytes) -> bytes:
    """CRC-32 over all of it, so that damage in the file is learned anew and not believed."""
    said = "\n".join((name, log_state, version)).encode("utf-8", "replace")
    return crc32(blob, crc32(said)).to_bytes(_SUM_BYTES)
