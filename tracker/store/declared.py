"""Rows of what a person declares of evenings to come."""

from __future__ import annotations

from datetime import date
from typing import Any

from tracker.domain.records import Declared
from tracker.store.journal import Store


def all_declared(store: Store) -> tuple[Declared, ...]:
    """Everything declared, in the order it was said."""
    return tuple(
        Declared(
            number, kind, date.fromisoformat(first), date.fromisoformat(last) if last else None, rule,
            tuple(map(date.fromisoformat, filter(None, without.split(",")))), minutes, note,
            date.fromisoformat(said_on),
        )
        for number, kind, first, last, rule, without, minutes, note, said_on in store.rows(
            "SELECT id, kind, first, last, rule, without, minutes, note, said_on FROM declared ORDER BY id"
        )
    )  # fmt: skip


def insert_declared(store: Store, said: Declared) -> int:
    """Add a declaration; its id (that of the record does not matter)."""
    return store.insert("declared", uid=store.new_uid(), **_row(said))


def update_declared(store: Store, said: Declared) -> None:
    """Put a declaration in the place of the one with its id."""
    store.update("declared", said.id, **_row(said))


def delete_declared(store: Store, declared_id: int) -> None:
    """Take a declaration back."""
    store.connection.execute("DELETE FROM declared WHERE id = ?", (declared_id,))


def declared_uids(store: Store) -> dict[int, str]:
    """Identity of each declaration, the same for ever, by id."""
    return {int(number): str(uid) for number, uid in store.rows("SELECT id, uid FROM declared")}


def _row(said: Declared) -> dict[str, Any]:
    return {
        "kind": said.kind,
        "first": said.first.isoformat(),
        "last": said.last.isoformat() if said.last else None,
        "rule": said.rule,
        "without": ",".join(day.isoformat() for day in said.without),
        "minutes": said.minutes,
        "note": said.note,
        "said_on": said.said_on.isoformat(),
    }
