"""Identities that last: the same in every file that is ever written of a thing, whatever it is called."""

from __future__ import annotations

from tracker.store.journal import Store


def unit_uids(store: Store) -> dict[int, str]:
    """Identity of each unit, the same for ever, by id."""
    return {int(number): str(uid) for number, uid in store.rows("SELECT id, uid FROM unit")}


def cure_uids(store: Store) -> dict[int, str]:
    """Identity of each timer that is not over, by id."""
    rows = store.rows("SELECT id, uid FROM cure WHERE ended_at IS NULL")
    return {int(number): str(uid) for number, uid in rows}
