"""Reasons not to lean on a date: codes for scripts, sentences for people."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from tracker.domain.answers import Doubt
from tracker.forecast.evenings import EveningMinutes, minutes_by_day
from tracker.forecast.rhythm import LONGEST_SPELL_DAYS

_LITTLE_HISTORY_DAYS = 14


def date_doubts(
    evenings: Sequence[EveningMinutes], as_of: date, *, working: bool = True, beyond: bool = False
) -> tuple[Doubt, ...]:
    """Doubts about dates of `as_of`; none when there is no work left to date.

    `beyond`: some unit is as likely as not to take more than two years.
    """
    if not working:
        return ()
    held = list(minutes_by_day(evenings))
    found = [_history_doubt(held, as_of)]
    if held and (dry := (as_of - held[-1]).days) > LONGEST_SPELL_DAYS:
        text = f"The last evening was {dry // 7} weeks ago: the dates assume that you take it up again now."
        found.append(Doubt("dry-spell", text))
    if beyond:
        found.append(Doubt("horizon", "Some dates lie more than two years ahead; those are left open."))
    found.append(Doubt("not-given-up", "The dates assume that the project is not laid down for half a year."))
    return tuple(doubt for doubt in found if doubt)


def _history_doubt(held: Sequence[date], as_of: date) -> Doubt | None:
    if not held:
        return Doubt(
            "no-evenings",
            "No evening is logged yet: the dates rest on other people's calendars, starting today.",
        )
    if (as_of - held[0]).days < _LITTLE_HISTORY_DAYS:
        return Doubt(
            "rhythm",
            "Less than two weeks of evenings are known: read the dates as a wide range, not as one day.",
        )
    return None
