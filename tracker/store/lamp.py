"""The lamp's rows: at most one session that is running, and its rests."""

from __future__ import annotations

from datetime import date, datetime, timedelta, timezone

from tracker.domain.lamp import Lamp, Rest
from tracker.store.journal import Store

_MINUTE = timedelta(minutes=1)


def read_lamp(store: Store) -> Lamp | None:
    """The session that is running; None when the lamp is off."""
    lit = store.rows("SELECT began FROM lamp")
    if not lit:
        return None
    rests = store.rows("SELECT began, ended FROM lamp_rest ORDER BY id")
    return Lamp(
        datetime.fromisoformat(lit[0][0]),
        tuple(
            Rest(datetime.fromisoformat(began), datetime.fromisoformat(ended) if ended else None)
            for began, ended in rests
        ),
    )


def light(store: Store, began: datetime) -> None:
    """Begin a session."""
    store.insert("lamp", id=1, began=_moment(began))


def put_out(store: Store) -> None:
    """Forget the session that is running."""
    store.connection.execute("DELETE FROM lamp_rest")
    store.connection.execute("DELETE FROM lamp")


def begin_rest(store: Store, began: datetime) -> None:
    """Pause."""
    store.insert("lamp_rest", began=_moment(began), ended=None)


def end_rest(store: Store, ended: datetime) -> None:
    """Go on."""
    store.connection.execute("UPDATE lamp_rest SET ended = ? WHERE ended IS NULL", (_moment(ended),))


def words_since(store: Store, day: date) -> list[datetime]:
    """When changes that stand were made from that day on, as the clock on the wall said it.

    The change that is just being made is none of them.
    """
    rows = store.rows(
        "SELECT at FROM change WHERE undone = 0 AND at >= ?"
        " AND id IS NOT (SELECT open_change FROM journal_head)",
        (day.isoformat(),),
    )
    return [datetime.fromisoformat(at) for (at,) in rows]


def _moment(moment: datetime) -> str:
    """With its offset in whole minutes, as RFC 3339 (5.6) writes it; the moment stays the same."""
    offset = moment.utcoffset()
    if offset and offset % _MINUTE:
        moment = moment.astimezone(timezone(offset - offset % _MINUTE))
    return moment.isoformat(timespec="seconds")
