"""The calendar file against RFC 5545, read back by a library that did not write it."""

from __future__ import annotations

import os
import time as clock
from collections.abc import Iterator
from datetime import UTC, date, datetime, time, timedelta
from typing import Any

import pytest
import vobject
from dateutil.rrule import rrulestr  # type: ignore[import-untyped]
from icalendar import Calendar

from tests.report import samples
from tracker.domain.ready import ReadyLine
from tracker.domain.records import Declared, Goal, Session
from tracker.report.calendar_entries import UnitOfGoal, drying_entries, goal_entries, ready_entries
from tracker.report.calendar_evenings import UsualEvening, evening_entries, planned_days, usual_evening
from tracker.report.calendar_file import Entry, calendar_bytes

STAMP = datetime(2026, 3, 10, 20, 30, 15, tzinfo=UTC)
AT_EIGHT = UsualEvening(time(20), 90)
UIDS = {1: "a", 2: "b", 3: "c"}


def written(*entries: Entry, stamp: datetime = STAMP) -> bytes:
    return calendar_bytes(entries, stamp, "9.9")


def read(data: bytes) -> list[Any]:
    """The events, by the second library."""
    return list(vobject.readOne(data.decode()).vevent_list)


def entry(summary: str = "At the desk", text: str = "words", **more: Any) -> Entry:
    return Entry(more.pop("uid", "a-ready@lastcoat"), summary, text, date(2026, 4, 1), **more)


def evenings(rule: str, first: date, today: date | None = None, **more: Any) -> list[Entry]:
    usual = more.pop("usual", AT_EIGHT)
    return evening_entries([Declared(1, "evenings", first, rule=rule, **more)], UIDS, usual, today or first)


def dates_of(event: Any, most: int = 200) -> list[date]:
    """The days of an event that comes back, expanded from the file's own words."""
    start = event.dtstart.value
    rule = rrulestr(event.rrule.value, dtstart=start)
    left_out = {day for line in event.contents.get("exdate", []) for day in line.value}
    found = [day for day in rule[:most] if day not in left_out and day.date() not in left_out]
    return [day.date() for day in found]


# --- the frame of the file


def test_it_is_a_calendar_without_a_method() -> None:
    # RFC 5545, 3.4 and 3.7: VERSION 2.0, a PRODID; METHOD only where things are scheduled with others.
    said = Calendar.from_ical(written(entry()))
    assert said["version"] == "2.0"
    assert said["prodid"] == "-//Lastcoat//Lastcoat 9.9//EN"
    assert "method" not in said
    assert "valarm" not in {str(part.name).lower() for part in said.walk()}


def test_every_line_ends_and_folds_as_it_must() -> None:
    # RFC 5545, 3.1: CRLF; at most 75 octets without it; never within a UTF-8 character.
    data = written(entry("é" * 100, "a" * 200 + "🐉" * 30))
    lines = data.split(b"\r\n")
    assert lines[-1] == b""
    assert not any(b"\n" in line or b"\r" in line for line in lines)
    assert max(map(len, lines)) <= 75
    for line in lines:
        line.decode("utf-8")
    unfolded = data.replace(b"\r\n ", b"").decode()
    assert "SUMMARY:" + "é" * 100 in unfolded
    assert "DESCRIPTION:" + "a" * 200 + "🐉" * 30 in unfolded


def test_text_is_escaped() -> None:
    # RFC 5545, 3.3.11: backslash, semicolon, comma and line break; never colon and quotes.
    data = written(entry('a,b;c\\d e:f "q"', 'a,b;c\\d\ne:f "q"'))
    unfolded = data.replace(b"\r\n ", b"").decode()
    assert 'SUMMARY:a\\,b\\;c\\\\d e:f "q"\r\n' in unfolded
    assert 'DESCRIPTION:a\\,b\\;c\\\\d\\ne:f "q"\r\n' in unfolded
    (event,) = read(data)
    assert event.summary.value == 'a,b;c\\d e:f "q"'
    assert event.description.value == 'a,b;c\\d\ne:f "q"'


@pytest.mark.parametrize(
    "name",
    [*samples.HOSTILE, "x\r\nEND:VEVENT\r\nBEGIN:VALARM", "x\nATTENDEE:mailto:a@example.invalid",
     "\\n\\,", "a\x00b", "\x85\u2028", "UID:1;X=1:2"],
)  # fmt: skip
def test_a_name_is_text_and_nothing_else(name: str) -> None:
    data = written(*ready_entries([("u1", samples.forecast((name, "Riders")).units[0])]))
    for one in (read(data)[0], vobject.readOne(data.decode()).vevent):
        assert set(one.contents) == {
            "uid",
            "dtstamp",
            "sequence",
            "summary",
            "description",
            "dtstart",
            "transp",
        }
        assert one.uid.value == "u1-ready@lastcoat"
    assert [line for line in data.split(b"\r\n") if line.startswith(b"BEGIN:")] == [
        b"BEGIN:VCALENDAR", b"BEGIN:VEVENT",
    ]  # fmt: skip
    said = data.decode()
    assert not any(sign < " " and sign not in "\r\n" for sign in said)


def test_a_later_file_is_the_newer_word_on_the_same_things() -> None:
    # RFC 5545, 3.8.4.7 and 3.8.7.4: the same UID, a SEQUENCE that grows, DTSTAMP in UTC.
    (before,), (after,) = (
        read(written(entry(), stamp=stamp)) for stamp in (STAMP, STAMP + timedelta(seconds=1))
    )
    assert before.uid.value == after.uid.value
    assert int(after.sequence.value) == int(before.sequence.value) + 1 < 2**31
    assert before.dtstamp.value == STAMP
    assert b"DTSTAMP:20260310T203015Z" in written(entry(), stamp=STAMP.astimezone())


def test_the_same_things_make_the_same_file() -> None:
    assert written(entry(), entry(uid="b")) == written(entry(), entry(uid="b"))


# --- planned evenings

PUBLISHED = [
    # RFC 5545, 3.8.5.3; the lists as they are printed there.
    ("19970902", "FREQ=WEEKLY;COUNT=10", "0902 0909 0916 0923 0930 1007 1014 1021 1028 1104"),
    ("19970902", "FREQ=WEEKLY;COUNT=10;WKST=SU;BYDAY=TU,TH",
     "0902 0904 0909 0911 0916 0918 0923 0925 0930 1002"),
    ("19970902", "FREQ=WEEKLY;INTERVAL=2;COUNT=8;WKST=SU;BYDAY=TU,TH",
     "0902 0904 0916 0918 0930 1002 1014 1016"),
    ("19970805", "FREQ=WEEKLY;INTERVAL=2;COUNT=4;BYDAY=TU,SU;WKST=MO", "0805 0810 0819 0824"),
    ("19970805", "FREQ=WEEKLY;INTERVAL=2;COUNT=4;BYDAY=TU,SU;WKST=SU", "0805 0817 0819 0831"),
    ("19970902", "FREQ=DAILY;INTERVAL=10;COUNT=5", "0902 0912 0922 1002 1012"),
    ("19970904", "FREQ=MONTHLY;COUNT=3;BYDAY=TU,WE,TH;BYSETPOS=3", "0904 1007 1106"),
    ("19970902", "FREQ=WEEKLY;UNTIL=19971224T000000Z",
     "0902 0909 0916 0923 0930 1007 1014 1021 1028 1104 1111 1118 1125 1202 1209 1216 1223"),
    ("19970901", "FREQ=WEEKLY;INTERVAL=2;UNTIL=19971224T000000Z;WKST=SU;BYDAY=MO,WE,FR",
     ("0901 0903 0905 0915 0917 0919 0929 1001 1003 1013 1015 1017 1027 1029 1031 1110 1112 1114 1124 1126"
     " 1128 1208 1210 1212 1222")),
]  # fmt: skip


@pytest.mark.parametrize("usual", [AT_EIGHT, UsualEvening()], ids=["timed", "whole days"])
@pytest.mark.parametrize(("start", "rule", "days"), PUBLISHED)
def test_rules_come_back_on_the_published_days(start: str, rule: str, days: str, usual: UsualEvening) -> None:
    (event,) = read(written(*evenings(rule, datetime.strptime(start, "%Y%m%d").date(), usual=usual)))
    assert [f"{day:%m%d}" for day in dates_of(event)] == days.split()


def test_an_evening_is_a_local_time_wherever_it_is_read() -> None:
    # RFC 5545, 3.3.5, form 1: no zone, no Z; UNTIL likewise (3.3.10).
    data = written(*evenings("FREQ=WEEKLY;BYDAY=TU", date(2026, 3, 3), last=date(2026, 6, 30)))
    assert b"DTSTART:20260303T200000\r\n" in data
    assert b"DTEND:20260303T213000\r\n" in data
    assert b"RRULE:FREQ=WEEKLY;UNTIL=20260630T200000;BYDAY=TU\r\n" in data
    assert b"VTIMEZONE" not in data
    (event,) = read(data)
    assert event.transp.value == "OPAQUE"
    # Over the change of the clocks it stays at eight.
    assert {day.hour for day in rrulestr(event.rrule.value, dtstart=event.dtstart.value)} == {20}


def test_where_no_hour_is_usual_an_evening_is_a_whole_day() -> None:
    # RFC 5545, 3.3.10: UNTIL of the kind of DTSTART; no hours in a rule of days.
    rule = "FREQ=WEEKLY;BYDAY=TU;BYHOUR=20;UNTIL=20260630T235959Z"
    data = written(*evenings(rule, date(2026, 3, 3), usual=UsualEvening(), without=(date(2026, 3, 10),)))
    assert b"DTSTART;VALUE=DATE:20260303\r\n" in data
    assert b"RRULE:FREQ=WEEKLY;UNTIL=20260630;BYDAY=TU\r\n" in data
    assert b"EXDATE;VALUE=DATE:20260310\r\n" in data
    assert b"DTEND" not in data


def test_a_start_that_the_rule_does_not_give_is_no_evening() -> None:
    # RFC 5545, 3.8.5.3: DTSTART always counts as the first instance, so it has to fit.
    (event,) = read(written(*evenings("FREQ=WEEKLY;COUNT=3;BYDAY=TH", date(1997, 9, 2))))
    assert dates_of(event) == [date(1997, 9, 4), date(1997, 9, 11), date(1997, 9, 18)]


def test_days_left_out_and_days_away_are_no_evenings() -> None:
    said = [
        Declared(
            1, "evenings", date(2026, 3, 3), date(2026, 4, 7), "FREQ=WEEKLY;BYDAY=TU", (date(2026, 3, 10),)
        ),
        Declared(2, "away", date(2026, 3, 20), date(2026, 3, 25), note="sea"),
        Declared(3, "once", date(2026, 3, 28), minutes=240, note="paint day"),
    ]
    data = written(*evening_entries(said, UIDS, AT_EIGHT, date(2026, 3, 1)))
    weekly, away, once = read(data)
    wanted = [date(2026, 3, 3), date(2026, 3, 17), date(2026, 3, 31), date(2026, 4, 7)]
    assert dates_of(weekly) == wanted
    assert (away.dtstart.value, away.dtend.value) == (
        date(2026, 3, 20),
        date(2026, 3, 26),
    )  # DTEND: not part of it
    assert away.transp.value == "TRANSPARENT"
    assert once.dtend.value - once.dtstart.value == timedelta(hours=4)
    assert once.summary.value == "At the desk: paint day"
    assert planned_days(said, date(2026, 3, 1), date(2026, 4, 30)) == (
        *wanted[:2],
        date(2026, 3, 28),
        *wanted[2:],
    )


def test_what_is_over_is_left_out() -> None:
    said = [
        Declared(1, "evenings", date(2026, 1, 6), date(2026, 2, 24), "FREQ=WEEKLY;BYDAY=TU"),
        Declared(2, "away", date(2026, 2, 1), date(2026, 2, 28)),
        Declared(3, "once", date(2026, 2, 28)),
    ]
    assert evening_entries(said, UIDS, AT_EIGHT, date(2026, 3, 1)) == []
    assert len(evening_entries(said, UIDS, AT_EIGHT, date(2026, 2, 24))) == 3


def test_a_rule_that_calendars_do_not_know_is_told_day_by_day() -> None:
    # Easter Monday is no rule of RFC 5545. Easter: 5 April 2026, 28 March 2027 (published tables).
    entries = evenings("FREQ=YEARLY;BYEASTER=1;COUNT=2", date(2026, 1, 1))
    assert [one.start for one in entries] == [datetime(2026, 4, 6, 20), datetime(2027, 3, 29, 20)]
    assert len({one.uid for one in entries}) == 2
    assert not any(one.rule for one in entries)


def test_the_usual_evening_is_the_middle_one() -> None:
    sessions = [
        Session(i, date(2026, 3, i + 1), start=start) for i, start in enumerate(("19:30", "20:03", "00:30"))
    ]
    assert usual_evening(sessions, [50, 61, 200]) == UsualEvening(time(20, 5), 60)
    assert usual_evening(sessions[:2], [50, 61]) == UsualEvening()
    assert usual_evening([*sessions, *(s._replace(start="00:20") for s in sessions)], []).start == time(0, 20)


# --- ready dates, goals, drying


def test_a_ready_date_is_its_middle_with_the_range_beside_it() -> None:
    outlook = samples.forecast().units[0]
    (event,) = read(written(*ready_entries([("u1", outlook)])))
    assert event.dtstart.value == outlook.ready[9]  # the 50 % level of 5, 10 … 95
    low, high = outlook.ready[1], outlook.ready[17]
    assert low
    assert high
    assert (
        f"8 times in 10 between {low.day} {low:%b %Y} and {high.day} {high:%b %Y}." in event.description.value
    )


def test_what_is_ready_or_beyond_the_horizon_has_no_day() -> None:
    units = samples.forecast().units
    far = units[0]._replace(ready=samples.dates(300, 40, 9))
    assert ready_entries([("u1", units[-1]), ("u2", far)]) == []
    open_ended = ready_entries([("u3", units[0]._replace(ready=samples.dates(30, 40, 12)))])
    assert "or later" in open_ended[0].text


def test_goals_are_whole_days() -> None:
    units = {1: UnitOfGoal("u1", "Spears"), 2: UnitOfGoal("u2", "Riders")}
    goals = [
        Goal(0, "2026-06-01", date(2026, 6, 1), (1,)),
        Goal(7, "harvest, day", date(2026, 9, 1), (1, 2), models=20),
        Goal(8, "long ago", date(2025, 9, 1)),
        Goal(9, "all of it", date(2026, 10, 1)),
    ]
    chances = zip(goals, (0.42, None, None, None), strict=True)
    entries = goal_entries(chances, units, {7: "g7", 8: "g8", 9: "g9"}, date(2026, 3, 1))
    own, harvest, whole = read(written(*entries))
    assert (own.uid.value, own.summary.value) == ("u1-goal@lastcoat", "Goal: Spears")
    assert own.description.value == "To be table-ready: Spears.\n42 in 100 to be met."
    assert (harvest.uid.value, harvest.summary.value) == ("g7-goal@lastcoat", "Goal: harvest, day")
    assert harvest.description.value == "To be table-ready: 20 models of Spears, Riders."
    assert whole.description.value == "To be table-ready: every unit."
    assert own.dtstart.value == date(2026, 6, 1)


@pytest.fixture
def in_london(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    before = os.environ.get("TZ")
    monkeypatch.setenv("TZ", "Europe/London")
    clock.tzset()
    yield
    monkeypatch.undo()
    assert os.environ.get("TZ") == before
    clock.tzset()


@pytest.mark.usefixtures("in_london")
@pytest.mark.parametrize(
    ("local", "moment"),
    [
        # RFC 5545, 3.3.5: a time that is struck twice is the first one, one that is missing counts from the
        # offset before the gap. Changes of the clocks in London: 30 March and 26 October 2025.
        (datetime(2025, 3, 30, 1, 30), "20250330T013000Z"),
        (datetime(2025, 10, 26, 1, 30), "20251026T003000Z"),
        (datetime(2025, 7, 1, 20, 0), "20250701T190000Z"),
        (datetime(2025, 12, 1, 20, 0), "20251201T200000Z"),
    ],
)
def test_the_end_of_drying_is_a_moment(local: datetime, moment: str) -> None:
    line = ReadyLine("Host", "Riders", "varnish", 8, 0, until=local, unit_id=2)
    data = written(*drying_entries([line], {2: "u2"}))
    assert f"DTSTART:{moment}\r\n".encode() in data
    (event,) = read(data)
    assert event.summary.value == "Riders: dry for varnish"
    assert "label" in event.description.value


def test_each_end_of_drying_is_its_own_entry() -> None:
    line = ReadyLine("Host", "Riders", "varnish", 8, 0, until=datetime(2026, 3, 1, 23, 30), unit_id=2)
    lines = [line, line._replace(step="shade"), line._replace(until=datetime(2026, 3, 2)), line]
    assert len(drying_entries(lines, {2: "u2"})) == 3
    assert drying_entries([line._replace(until=None)], {2: "u2"}) == []
