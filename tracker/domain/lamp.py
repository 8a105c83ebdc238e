"""The lamp: a session while it runs. Its minutes are told apart from the rests in between."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime
from itertools import pairwise
from typing import Literal, NamedTuple

FORGOTTEN_HOURS = 8
"""A lamp that is on for longer without a word was probably left on."""
AHEAD_SECONDS = 60
"""A clock that is corrected goes back by moments; by more than this it was set back, or was wrong before."""


class Rest(NamedTuple):
    """A time in which the lamp was paused; one that has no end goes on."""

    began: datetime
    ended: datetime | None = None


class Lamp(NamedTuple):
    """A session that is running: when it began and its rests, in order; moments know their offset."""

    began: datetime
    rests: tuple[Rest, ...] = ()

    @property
    def paused_since(self) -> datetime | None:
        """Since when it rests; None while it burns."""
        return self.rests[-1].began if self.rests and self.rests[-1].ended is None else None

    @property
    def last_heard(self) -> datetime:
        """The latest moment that it knows of: of its beginning and of its rests."""
        ends = (moment for rest in self.rests for moment in rest if moment is not None)
        return max((self.began, *ends))

    def is_ahead(self, now: datetime) -> bool:
        """Whether it was lit, paused or resumed at a time that is still to come: a clock was wrong."""
        return (self.last_heard - now).total_seconds() > AHEAD_SECONDS

    def minutes_until(self, end: datetime) -> float:
        """Minutes it burned from its beginning to `end`, the rests left out; 0 if it ends before it began.

        Offsets count, so an hour that is struck twice or left out does not bend them (RFC 3339, 4.2).
        """
        seconds = (end - self.began).total_seconds()
        for rest in self.rests:
            stopped = min(rest.ended or end, end)
            seconds -= max((stopped - rest.began).total_seconds(), 0.0)
        return max(seconds, 0.0) / 60.0


class LampState(NamedTuple):
    """How the lamp stands."""

    state: Literal["off", "on", "paused"]
    now: datetime
    began: datetime | None = None
    paused_since: datetime | None = None
    minutes: float = 0.0
    """Minutes so far, rests left out."""
    day: date | None = None
    """The day of its evening: the one it began on, up to 4 in the morning."""
    forgotten: bool = False
    """It was probably left on: ask when the person really stopped."""
    ahead: bool = False
    """It knows of a time that is still to come: the clock was set back, or was wrong before."""


def was_forgotten(lamp: Lamp, words: Iterable[datetime], now: datetime, night_ends_hour: int) -> bool:
    """Whether the lamp was probably left on: too long, or past a morning, without a word.

    `words` are the moments at which the person said anything to the log. A silence that was too long stays
    so, whatever is said afterwards; while it rests a lamp may be silent.
    """
    if lamp.paused_since is not None:
        return False
    said = sorted(words)
    return any(
        _too_silent([begin, *(word for word in said if begin < word < end), end], night_ends_hour)
        for begin, end in _burning(lamp, now)
    )


def _burning(lamp: Lamp, now: datetime) -> list[tuple[datetime, datetime]]:
    """The times between the rests."""
    begins = [lamp.began, *(rest.ended or now for rest in lamp.rests)]
    return list(zip(begins, [*(rest.began for rest in lamp.rests), now], strict=True))


def _too_silent(moments: list[datetime], night_ends_hour: int) -> bool:
    for heard, then in pairwise(moments):
        morning = then.replace(hour=night_ends_hour, minute=0, second=0, microsecond=0)
        if (then - heard).total_seconds() > FORGOTTEN_HOURS * 3600 or heard < morning <= then:
            return True
    return False
