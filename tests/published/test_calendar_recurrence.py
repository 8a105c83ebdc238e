"""Declared evenings against the examples of RFC 5545, section 3.8.5.3.

The lists are those the RFC prints, as quoted in public test files; our evenings are local days, so
only the dates are compared. Rules without an end are read up to the last date listed.
"""

from __future__ import annotations

from datetime import date

import pytest

from tracker.forecast.evenings import declared_days

EXAMPLES = [
    ("19970902", "FREQ=DAILY;COUNT=10", "1997: 9/2-11"),
    ("19970902", "FREQ=DAILY;INTERVAL=10;COUNT=5", "1997: 9/2,12,22 10/2,12"),
    ("19970902", "FREQ=WEEKLY;COUNT=10", "1997: 9/2,9,16,23,30 10/7,14,21,28 11/4"),
    (
        "19970902",
        "FREQ=WEEKLY;UNTIL=19971224T000000Z",
        "1997: 9/2,9,16,23,30 10/7,14,21,28 11/4,11,18,25 12/2,9,16,23",
    ),
    (
        "19970902",
        "FREQ=WEEKLY;INTERVAL=2;WKST=SU",
        "1997: 9/2,16,30 10/14,28 11/11,25 12/9,23 1998: 1/6,20 2/3,17",
    ),
    (
        "19970902",
        "FREQ=WEEKLY;COUNT=10;WKST=SU;BYDAY=TU,TH",
        "1997: 9/2,4,9,11,16,18,23,25,30 10/2",
    ),
    (
        "19970901",
        "FREQ=WEEKLY;INTERVAL=2;UNTIL=19971224T000000Z;WKST=SU;BYDAY=MO,WE,FR",
        "1997: 9/1,3,5,15,17,19,29 10/1,3,13,15,17,27,29,31 11/10,12,14,24,26,28 12/8,10,12,22",
    ),
    (
        "19970902",
        "FREQ=WEEKLY;INTERVAL=2;COUNT=8;WKST=SU;BYDAY=TU,TH",
        "1997: 9/2,4,16,18,30 10/2,14,16",
    ),
    (
        "19970905",
        "FREQ=MONTHLY;COUNT=10;BYDAY=1FR",
        "1997: 9/5 10/3 11/7 12/5 1998: 1/2 2/6 3/6 4/3 5/1 6/5",
    ),
    (
        "19970907",
        "FREQ=MONTHLY;INTERVAL=2;COUNT=10;BYDAY=1SU,-1SU",
        "1997: 9/7,28 11/2,30 1998: 1/4,25 3/1,29 5/3,31",
    ),
    ("19970922", "FREQ=MONTHLY;COUNT=6;BYDAY=-2MO", "1997: 9/22 10/20 11/17 12/22 1998: 1/19 2/16"),
    (
        "19970930",
        "FREQ=MONTHLY;COUNT=10;BYMONTHDAY=1,-1",
        "1997: 9/30 10/1,31 11/1,30 12/1,31 1998: 1/1,31 2/1",
    ),
    ("19970904", "FREQ=MONTHLY;COUNT=3;BYDAY=TU,WE,TH;BYSETPOS=3", "1997: 9/4 10/7 11/6"),
    (
        "19970929",
        "FREQ=MONTHLY;BYDAY=MO,TU,WE,TH,FR;BYSETPOS=-2",
        "1997: 9/29 10/30 11/27 12/30 1998: 1/29 2/26 3/30",
    ),
    ("19970805", "FREQ=WEEKLY;INTERVAL=2;COUNT=4;BYDAY=TU,SU;WKST=MO", "1997: 8/5,10,19,24"),
    ("19970805", "FREQ=WEEKLY;INTERVAL=2;COUNT=4;BYDAY=TU,SU;WKST=SU", "1997: 8/5,17,19,31"),
    ("20070115", "FREQ=MONTHLY;BYMONTHDAY=15,30;COUNT=5", "2007: 1/15,30 2/15 3/15,30"),
]


def day(compact: str) -> date:
    return date(int(compact[:4]), int(compact[4:6]), int(compact[6:]))


def listed(text: str) -> list[date]:
    """Dates of a list such as "1997: 9/2,4 10/2 1998: 1/1-3"."""
    found: list[date] = []
    year = 0
    for word in text.split():
        if word.endswith(":"):
            year = int(word[:-1])
            continue
        month, days = word.split("/")
        for part in days.split(","):
            first, _, last = part.partition("-")
            found += [date(year, int(month), n) for n in range(int(first), int(last or first) + 1)]
    return found


@pytest.mark.parametrize(("start", "rule", "dates"), EXAMPLES)
def test_declared_evenings_are_the_printed_ones(start: str, rule: str, dates: str) -> None:
    wanted = listed(dates)
    # One more year, where the rule itself ends; rules without an end are read to the last date listed.
    ends = "COUNT" in rule or "UNTIL" in rule
    until = wanted[-1].replace(year=wanted[-1].year + 1) if ends else wanted[-1]
    assert list(declared_days(rule, day(start), until)) == wanted


def test_until_of_a_daily_rule_ends_before_that_evening() -> None:
    # RFC 5545: DAILY;UNTIL=19971224T000000Z from Sep 2 is 113 dates, the last Dec 23.
    found = declared_days("RRULE:FREQ=DAILY;UNTIL=19971224T000000Z", day("19970902"), date(1998, 1, 31))
    assert (len(found), found[-1]) == (113, date(1997, 12, 23))
    # An UNTIL that is a date holds that day too (RFC 5545, 3.3.10).
    assert declared_days("FREQ=DAILY;UNTIL=19970904", day("19970902"), date(1998, 1, 31))[-1] == day(
        "19970904"
    )


def test_days_left_out() -> None:
    # RFC 5545: every Friday the 13th with the start left out (EXDATE).
    found = declared_days("FREQ=MONTHLY;BYDAY=FR;BYMONTHDAY=13", day("19970902"), date(2000, 10, 31),
                          without=[day("19970902")])  # fmt: skip
    assert list(found) == listed("1998: 2/13 3/13 11/13 1999: 8/13 2000: 10/13")
    tuesdays = declared_days("FREQ=WEEKLY;COUNT=3", day("19970902"), date(1998, 1, 1), [day("19970909")])
    assert list(tuesdays) == listed("1997: 9/2,16")
