"""The lamp: switched on when a session begins, and off when it ends; every change is on disk at once.

Its minutes become the evening's total when it goes off. Whole minutes count.
"""

from __future__ import annotations

import os
from datetime import date, datetime, timedelta
from typing import NamedTuple

from tracker.domain.lamp import Lamp, LampState
from tracker.domain.problems import DataError, Problem
from tracker.domain.records import MINUTES_A_DAY
from tracker.store.evenings import find_session, insert_session, minutes_of_lines
from tracker.store.journal import Store
from tracker.store.lamp import begin_rest, end_rest, light, put_out, read_lamp
from tracker.workbench.desk import Desk, evening_of
from tracker.workbench.evening_now import left_on, moment, with_offset
from tracker.workbench.words import count_words, day_words, minutes_words

__all__ = [
    "LampOff", "LampState", "lamp_off", "lamp_on", "lamp_pause", "lamp_resume", "lamp_state",
    "lamp_take_back",
]  # fmt: skip


class LampOff(NamedTuple):
    """A session that ended."""

    day: date
    today: date
    minutes: int
    evening_minutes: float
    """The evening's total, this session in it; 0 = nothing was counted."""
    lines: int
    """Lines of that evening; none = ask what was done."""

    def words(self) -> str:
        """As in "off after 43 min (Tue 10 Mar)"."""
        return f"off after {minutes_words(self.minutes)} ({day_words(self.day, self.today)})"

    def sentence(self) -> str:
        """What was stored."""
        if not self.minutes:
            return "The lamp is off. It burned for less than a minute, so nothing is counted."
        evening = (
            f"The evening of {day_words(self.day, self.today)} has {minutes_words(self.evening_minutes)}"
        )
        lines = f" and {count_words(self.lines, 'line')}" if self.lines else ""
        ask = "" if self.lines else ' What was done? lastcoat log "…"'
        return f"The lamp is off after {minutes_words(self.minutes)}. {evening}{lines}.{ask}"


def lamp_state(desk: Desk) -> LampState:
    """How the lamp stands at this moment; off where there is no log yet."""
    if not os.path.lexists(desk.path):
        return LampState("off", moment(desk))
    with desk.open() as store:
        return _state(store, moment(desk))


def lamp_on(desk: Desk, *, since: datetime | None = None) -> LampState:
    """Begin a session now, or `since` a moment within the last day."""
    now = moment(desk)
    began = with_offset(since) if since else now
    if not now - timedelta(days=1) < began <= now:
        when = "lies in the future" if began > now else "is more than a day ago"
        raise DataError(Problem("--since", f"{began:%Y-%m-%d %H:%M} {when}", "Say a moment of the last day"))
    with desk.open(create=True) as store, store.change("lamp", f"on since {_clock(began, now)}"):
        lamp = read_lamp(store)
        if lamp is not None:
            what = f"it is on already, since {_clock(lamp.began, now)}"
            raise DataError(Problem("the lamp", what, "Switch it off first: lastcoat lamp off"))
        light(store, began)
    return lamp_state(desk)


def lamp_pause(desk: Desk) -> LampState:
    """Let the session rest; nothing is counted until it goes on."""
    with desk.open() as store, store.change("lamp", "paused"):
        lamp, now = _lit(store), moment(desk)
        _refuse_ahead(lamp, now)
        if lamp.paused_since is None:
            _refuse_forgotten(store, lamp, now, "Switch it off")
            begin_rest(store, max(now, lamp.last_heard))
    return lamp_state(desk)


def lamp_resume(desk: Desk) -> LampState:
    """Go on after a rest."""
    with desk.open() as store, store.change("lamp", "gone on after a rest"):
        lamp, now = _lit(store), moment(desk)
        _refuse_ahead(lamp, now)
        if lamp.paused_since is not None:
            end_rest(store, max(now, lamp.last_heard))
    return lamp_state(desk)


def lamp_off(desk: Desk, *, at: datetime | None = None) -> LampOff:
    """End the session now, or `at` the moment the person really stopped.

    The minutes are added to the evening's total. Lines that take longer than the total raise it: it
    never is less than they say. A lamp that was forgotten needs `at`; one that was lit by a clock that
    was wrong is refused, since nobody knows its minutes.
    """
    with desk.open() as store, store.change("lamp") as change:
        lamp, now = _lit(store), moment(desk)
        _refuse_ahead(lamp, now)
        done = _into_evening(store, desk, lamp, round(lamp.minutes_until(_end(store, lamp, at, now))))
        put_out(store)
        change.words = done.words()
    return done


def lamp_take_back(desk: Desk) -> LampState:
    """Switch it off and count nothing, as if it had never been on."""
    with desk.open() as store, store.change("lamp") as change:
        change.words = f"not counted, on since {_clock(_lit(store).began, moment(desk))}"
        put_out(store)
    return lamp_state(desk)


def _state(store: Store, now: datetime) -> LampState:
    lamp = read_lamp(store)
    if lamp is None:
        return LampState("off", now)
    paused = lamp.paused_since
    return LampState(
        "on" if paused is None else "paused", now, lamp.began, paused, lamp.minutes_until(now),
        evening_of(lamp.began), left_on(store, lamp, now), lamp.is_ahead(now),
    )  # fmt: skip


def _lit(store: Store) -> Lamp:
    lamp = read_lamp(store)
    if lamp is None:
        raise DataError(Problem("the lamp", "it is off", "Switch it on: lastcoat lamp on"))
    return lamp


def _refuse_ahead(lamp: Lamp, now: datetime) -> None:
    if lamp.is_ahead(now):
        what = (
            f"it heard {_clock(lamp.last_heard, now)}, and the clock says {now:%H:%M}: one of them is wrong"
        )
        mend = "Set the clock right, or count nothing with lastcoat lamp back and say the minutes yourself"
        raise DataError(Problem("the lamp", what, f"{mend}: lastcoat evening --minutes 40"))


def _refuse_forgotten(store: Store, lamp: Lamp, now: datetime, mend: str) -> None:
    if left_on(store, lamp, now):
        what = f"it has been on since {_clock(lamp.began, now)}, and nothing was said for long"
        raise DataError(
            Problem("the lamp", what, f"{mend} with when you really stopped: lastcoat lamp off --at 22:30")
        )


def _end(store: Store, lamp: Lamp, at: datetime | None, now: datetime) -> datetime:
    if at is None:
        _refuse_forgotten(store, lamp, now, "Say it")
        return now
    end = with_offset(at)
    if not lamp.began <= end <= now:
        when = "lies in the future" if end > now else f"is before it went on, {_clock(lamp.began, now)}"
        raise DataError(Problem("--at", f"{end:%Y-%m-%d %H:%M} {when}", "Say a moment in between"))
    return end


def _into_evening(store: Store, desk: Desk, lamp: Lamp, minutes: int) -> LampOff:
    day, today = evening_of(lamp.began), desk.today()
    evening = find_session(store, day)
    if not minutes:
        return LampOff(day, today, 0, 0.0, 0)
    if evening is None:
        total, lines = float(minutes), 0
        insert_session(store, day, start=f"{lamp.began:%H:%M}", minutes=_fits(total))
    else:
        timed = minutes_of_lines(store, evening.id)
        total = _fits(max((evening.minutes or 0.0) + minutes, timed))
        start = evening.start or f"{lamp.began:%H:%M}"
        store.update("session", evening.id, minutes=total, start=start)
        lines = int(store.rows("SELECT count(*) FROM line WHERE session_id = ?", (evening.id,))[0][0])
    return LampOff(day, today, minutes, total, lines)


def _fits(total: float) -> float:
    if total > MINUTES_A_DAY:
        what = f"the evening would have {total:g} minutes, and a day has {MINUTES_A_DAY}"
        raise DataError(
            Problem("the lamp", what, "Say when you really stopped: lastcoat lamp off --at 22:30")
        )
    return total


def _clock(then: datetime, now: datetime) -> str:
    """As in "20:15", with its day when that is not today."""
    hour = f"{then:%H:%M}"
    return hour if then.date() == now.date() else f"{hour} on {day_words(then.date(), now.date())}"
