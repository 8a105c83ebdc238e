"""Mends that cannot lose anything: what the journal keeps can be taken back, the rest is made anew."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from tracker.domain.answers_check import Found
from tracker.store.check import fresh_shape
from tracker.store.journal import Store
from tracker.store.models import next_number
from tracker.store.seals import seal_head

_FILE_CODES = ("index", "shape", "journal", "undo")
"""Mends of how the log is kept, not of what it says: no change, and undo does not know them."""


def mend_file(store: Store, found: Sequence[Found]) -> None:
    """Indexes, triggers and the journal, in one transaction."""
    wrong = [one for one in found if one.safe and one.code in _FILE_CODES]
    if not wrong:
        return
    codes = {one.code for one in wrong}
    log = store.connection
    log.execute("BEGIN IMMEDIATE")
    try:
        _make_anew(store, [one.where.split(" ", 1) for one in wrong if one.code == "shape"])
        if codes & {"index", "shape"}:
            log.execute("REINDEX")
        for one in wrong:
            if one.code == "undo":
                _forget_change(store, one.rows[0])
        if "journal" in codes:
            _begin_journal_anew(store)
        log.execute("COMMIT")
    except BaseException:
        log.execute("ROLLBACK")
        raise


def _make_anew(store: Store, wrong: list[list[str]]) -> None:
    shape = fresh_shape()
    for kind, name in wrong:
        store.connection.execute(f"DROP {kind} IF EXISTS {name}")
        store.connection.execute(shape[kind, name])


def _forget_change(store: Store, number: int) -> None:
    """A change cannot be taken back over a gap: those on its far side are forgotten with it."""
    undone = store.rows("SELECT undone FROM change WHERE id = ?", (number,))
    test = "undone = 1 AND id >= ?" if undone and undone[0][0] else "undone = 0 AND id <= ?"
    store.connection.execute(f"DELETE FROM change WHERE {test}", (number,))  # noqa: S608 - our own words
    store.connection.execute("DELETE FROM change_row WHERE change_id NOT IN (SELECT id FROM change)")
    store.connection.execute("DELETE FROM change_seal WHERE change_id NOT IN (SELECT id FROM change)")


def _begin_journal_anew(store: Store) -> None:
    """No change is open; a state no answer was kept for, so that none is taken for another's."""
    log = store.connection
    state = store.rows("SELECT coalesce(max(state), 0) + 1 FROM journal_head")[0][0]
    log.execute("DELETE FROM journal_head")
    log.execute("INSERT INTO journal_head (id, open_change, state) VALUES (1, NULL, ?)", (state,))
    log.execute("DELETE FROM kept_fit")
    seal_head(log)


def mend_facts(store: Store, found: Sequence[Found]) -> None:
    """What the log says, inside an open change."""
    for one in found:
        if one.safe and one.code in _MENDS:
            for number in one.rows:
                _MENDS[one.code](store, number)


def _came_by_then(store: Store, model: int) -> None:
    store.connection.execute(
        "UPDATE model SET added_on = min(added_on, coalesce(left_on, added_on), coalesce((SELECT min(date)"
        " FROM mark WHERE model_id = model.id), added_on), coalesce((SELECT min(date) FROM session"
        " JOIN line ON session_id = session.id JOIN line_model ON line_id = line.id"
        " WHERE model_id = model.id), added_on)) WHERE id = ?",
        (model,),
    )


def _total(store: Store, session: int) -> None:
    store.connection.execute(
        "UPDATE session SET minutes = (SELECT sum(minutes) FROM line WHERE session_id = session.id)"
        " WHERE id = ?",
        (session,),
    )


def _number_on(store: Store, model: int) -> None:
    (number,) = store.rows("SELECT number FROM model WHERE id = ?", (model,))[0]
    alike = store.rows("SELECT id FROM model WHERE unit_id IS NULL AND number = ? ORDER BY id", (number,))
    for (other,) in alike[1:]:
        store.update("model", other, number=next_number(store, None))


_MENDS: dict[str, Callable[[Store, int], object]] = {
    "evening-total": _total,
    "left-first": _came_by_then,
    "worked-first": _came_by_then,
    "spare-numbers": _number_on,
    "place": lambda store, row: store.connection.execute("DELETE FROM rank_place WHERE id = ?", (row,)),
    "role": lambda store, row: store.update("role", row, model_id=None, stand_in=""),
    "cure": lambda store, row: store.connection.execute(
        "UPDATE cure SET ended_at = begun_at WHERE id = ?", (row,)
    ),
    "rest": lambda store, row: store.connection.execute("DELETE FROM lamp_rest WHERE id = ?", (row,)),
}
