"""The total of an evening."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

from tracker.domain.problems import DataError, Problem
from tracker.domain.records import MINUTES_A_DAY, Session
from tracker.store.evenings import find_session, insert_session, minutes_of_lines
from tracker.store.journal import Store
from tracker.workbench.desk import Desk
from tracker.workbench.evening_now import evening_now, lamp_counts
from tracker.workbench.lines import ROUNDING_MINUTES, not_in_future
from tracker.workbench.naming import good_minutes
from tracker.workbench.words import day_words, minutes_words


class EveningSet(NamedTuple):
    """An evening's total as it was and as it is."""

    day: date
    today: date
    minutes: float
    minutes_before: float | None
    lines: int
    untimed_lines: int
    """Lines without minutes of their own; they share what the others leave."""
    free_minutes: float

    def words(self) -> str:
        """As in "the evening of Tue 3 Mar, 90 min"."""
        return f"the evening of {day_words(self.day, self.today)}, {minutes_words(self.minutes)}"

    def sentence(self) -> str:
        """What was stored, and who shares it."""
        said = f"Set: {self.words()}."
        if self.untimed_lines:
            free = minutes_words(self.free_minutes)
            said += f" Lines without minutes ({self.untimed_lines}) share {free}."
        return said


def set_evening_minutes(
    desk: Desk, minutes: float, day: date | None = None, label: str | None = None
) -> EveningSet:
    """Set the total of that day's evening (made if there is none); a `DataError` if it cannot be."""
    with desk.open() as store, store.change("evening") as change:
        done = put_evening_minutes(store, desk, minutes, day or evening_now(store, desk), label)
        change.words = done.words()
    return done


def put_evening_minutes(
    store: Store, desk: Desk, minutes: float, day: date, label: str | None = None
) -> EveningSet:
    """Set the total, inside an open change; not while the lamp is still counting that evening."""
    not_in_future(day, desk.today())
    good_minutes("--minutes", minutes, MINUTES_A_DAY)
    if not label and lamp_counts(store, day):
        raise DataError(
            Problem(
                "--minutes",
                "the lamp is still counting that evening",
                "Switch it off first: lastcoat lamp off",
            )
        )
    evening = _the_evening(store, day, label)
    timed = minutes_of_lines(store, evening.id)
    if timed > minutes + ROUNDING_MINUTES:
        raise DataError(
            Problem("--minutes", f"the lines of {day} already take {timed:g} minutes", "Say that or more")
        )
    if evening.minutes != minutes:
        store.update("session", evening.id, minutes=minutes)
    lines, untimed = store.rows(
        "SELECT count(*), count(*) - count(minutes) FROM line WHERE session_id = ?", (evening.id,)
    )[0]
    return EveningSet(day, desk.today(), minutes, evening.minutes, lines, untimed, minutes - timed)


def _the_evening(store: Store, day: date, label: str | None) -> Session:
    """The evening said, or the only one of that day, or a new one."""
    labels = [
        row[0]
        for row in store.rows("SELECT label FROM session WHERE date = ? ORDER BY id", (day.isoformat(),))
    ]
    if label is None and len(labels) > 1:
        names = ", ".join(f'"{name}"' for name in labels)
        raise DataError(Problem("--date", f"{day} has {len(labels)} evenings", f"Say --evening: {names}"))
    wanted = label if label is not None else labels[0] if labels else ""
    found = find_session(store, day, wanted)
    return found or Session(insert_session(store, day, wanted), day, wanted)
