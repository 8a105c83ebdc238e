"""The evening that is going on: the lamp's while it burns, else the one of this hour."""

from __future__ import annotations

from datetime import date, datetime

from tracker.domain.lamp import Lamp, was_forgotten
from tracker.store.journal import Store
from tracker.store.lamp import read_lamp, words_since
from tracker.workbench.desk import NIGHT_ENDS_HOUR, Desk, evening_of


def moment(desk: Desk) -> datetime:
    """Now, to the second, with the offset of the place from UTC."""
    return with_offset(desk.now())


def with_offset(said: datetime) -> datetime:
    """A moment of the wall's clock, to the second, with its offset from UTC."""
    return (said if said.tzinfo else said.astimezone()).replace(microsecond=0)


def left_on(store: Store, lamp: Lamp, now: datetime) -> bool:
    """Whether the lamp was probably forgotten: nothing was said for too long."""
    words = [with_offset(at) for at in words_since(store, lamp.began.date())]
    return was_forgotten(lamp, words, now, NIGHT_ENDS_HOUR)


def evening_now(store: Store, desk: Desk) -> date:
    """The day that a line belongs to when nobody says one: a lamp that burns keeps its evening.

    One that was forgotten, or lit by a clock that was wrong, does not.
    """
    lamp = read_lamp(store)
    now = moment(desk)
    if lamp is None or lamp.is_ahead(now) or left_on(store, lamp, now):
        return desk.evening_day()
    return evening_of(lamp.began)


def lamp_counts(store: Store, day: date) -> bool:
    """Whether the lamp is still adding to the evening of that day."""
    lamp = read_lamp(store)
    return lamp is not None and evening_of(lamp.began) == day
