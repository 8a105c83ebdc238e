"""A calendar file (RFC 5545) from entries; the library escapes and folds, what stands in it is ours.

A name may hold anything, so every text is made printable first: a typed line break or control
character is spelled out and never ends a line of the file.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, date, datetime
from typing import TYPE_CHECKING, NamedTuple

from tracker.report.plain import clip

if TYPE_CHECKING:
    from icalendar import Event

_NAME_COLUMNS_MOST = 120
_TEXT_COLUMNS_MOST = 1000
_INTEGER_MOST = 2**31 - 1
"""RFC 5545, 3.3.8."""
_SEQUENCE_FROM = datetime(2020, 1, 1, tzinfo=UTC)


class Entry(NamedTuple):
    """One thing in the calendar.

    A `start` that is a date is a whole day; a datetime without a zone is a local time wherever the
    calendar is read ("floating", RFC 5545, 3.3.5); one with a zone is a moment.
    """

    uid: str
    """The same in every file that is ever written of this thing."""
    summary: str
    text: str
    start: date | datetime
    end: date | datetime | None = None
    """The day after the last one, or the moment it is over; None = one day, or no length."""
    rule: str = ""
    """When it comes back (RFC 5545, 3.3.10); `start` fits it, and its UNTIL is written like `start`."""
    without: tuple[date | datetime, ...] = ()
    takes_time: bool = False
    """Whether a calendar shows the person as busy."""


def calendar_bytes(entries: Iterable[Entry], stamp: datetime, version: str, name: str = "Lastcoat") -> bytes:
    """The whole file: UTF-8, CRLF, lines of at most 75 octets (RFC 5545, 3.1); no METHOD.

    `stamp` is the moment of writing, with its zone. SEQUENCE is the seconds from 2020 to it: a later
    file always counts as the newer word on an entry, until it no longer fits 31 bits in 2088.
    """
    # late: only this command waits for it
    from icalendar import Calendar

    calendar = Calendar()
    calendar.add("prodid", f"-//Lastcoat//Lastcoat {version}//EN")
    calendar.add("version", "2.0")
    calendar.add("name", name)  # RFC 7986, 5.1
    for entry in entries:
        calendar.add_component(_event(entry, stamp.astimezone(UTC)))
    return bytes(calendar.to_ical())


def _event(entry: Entry, stamp: datetime) -> Event:
    from icalendar import Event, vRecur

    event = Event()
    event.add("uid", entry.uid)
    event.add("dtstamp", stamp.replace(microsecond=0))
    event.add("sequence", min(max(int((stamp - _SEQUENCE_FROM).total_seconds()), 0), _INTEGER_MOST))
    event.add("summary", clip(entry.summary, _NAME_COLUMNS_MOST))
    event.add("description", _lines(entry.text))
    event.add("dtstart", _in_utc(entry.start))
    if entry.end is not None:
        event.add("dtend", _in_utc(entry.end))
    if entry.rule:
        event.add("rrule", vRecur.from_ical(entry.rule))
    if entry.without:
        event.add("exdate", list(entry.without))
    event.add("transp", "OPAQUE" if entry.takes_time else "TRANSPARENT")
    return event


def _in_utc(when: date | datetime) -> date | datetime:
    """A moment in UTC, which needs no description of a zone (RFC 5545, 3.3.5); the rest as it is."""
    return when.astimezone(UTC) if isinstance(when, datetime) and when.tzinfo else when


def _lines(text: str) -> str:
    """Our own line breaks stay; names in the text were made printable where it was put together."""
    return "\n".join(clip(line, _TEXT_COLUMNS_MOST) for line in text.split("\n"))
