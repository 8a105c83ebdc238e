"""The lamp counts minutes that went by, whatever the clock on the wall did meanwhile.

When clocks are changed: tz database (europe, northamerica, australasia) by zoneinfo, moments said in UTC.
"""

from __future__ import annotations

import random
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from tests.desks import a_desk, with_spears
from tests.time.clocks import BERLIN, LORD_HOWE, NEW_YORK, at, living_in, shown
from tracker.domain.problems import DataError, Problem
from tracker.report.lamp import lamp_json, lamp_text
from tracker.report.screens.chrome import lamp_line
from tracker.workbench.desk import Desk
from tracker.workbench.lamp import lamp_off, lamp_on, lamp_pause, lamp_resume, lamp_state, lamp_take_back
from tracker.workbench.lines import Entry, log_line
from tracker.workbench.moments import read_moment
from tracker.workbench.past import undo

EVENING = datetime(2026, 3, 10, 20, 0)


def refusal(act: object) -> str:
    assert callable(act)
    with pytest.raises(DataError) as refused:
        act()
    assert "\n" not in str(refused.value)
    return str(refused.value)


@pytest.mark.parametrize(
    ("zone", "begin", "end"),
    [
        (BERLIN, "2026-03-28T23:30", "2026-03-29T01:45"),
        (BERLIN, "2026-10-24T22:10", "2026-10-25T01:20"),
        (NEW_YORK, "2026-03-08T05:30", "2026-03-08T07:30"),
        (NEW_YORK, "2026-11-01T04:00", "2026-11-01T06:59"),
        (LORD_HOWE, "2026-04-04T13:30", "2026-04-04T15:15"),
        (LORD_HOWE, "2026-10-03T14:00", "2026-10-03T16:10"),
    ],
)
def test_minutes_over_a_change_of_the_clocks_are_those_that_went_by(
    tmp_path: Path, zone: str, begin: str, end: str
) -> None:
    went_by = (datetime.fromisoformat(end) - datetime.fromisoformat(begin)).total_seconds() / 60
    by_the_wall = (shown(end, zone) - shown(begin, zone)).total_seconds() / 60
    assert went_by != by_the_wall, "the clocks were not changed in between: the test would show nothing"
    with living_in(zone):
        desk = with_spears(tmp_path)
        lamp_on(at(desk, shown(begin, zone)))
        assert lamp_state(at(desk, shown(end, zone))).minutes == went_by
        assert lamp_off(at(desk, shown(end, zone))).minutes == went_by


def test_a_rest_over_a_change_is_as_long_as_it_was(tmp_path: Path) -> None:
    with living_in(BERLIN):
        desk = with_spears(tmp_path)
        for act, utc in (
            (lamp_on, "2026-10-24T22:00"), (lamp_pause, "2026-10-24T22:40"),
            (lamp_resume, "2026-10-25T01:10"), (lamp_off, "2026-10-25T01:30"),
        ):  # fmt: skip
            done = act(at(desk, shown(utc, BERLIN)))
        assert done.minutes == 40 + 20


def test_any_evening_in_any_of_a_years_hours(tmp_path: Path) -> None:
    random.seed(8)
    for number in range(60):
        zone = random.choice((BERLIN, NEW_YORK, LORD_HOWE, "UTC", "Asia/Kathmandu", "Pacific/Apia"))
        begin = datetime(2026, 1, 1) + timedelta(minutes=random.randrange(365 * 24 * 60))
        minutes = random.randrange(1, 7 * 60)
        folder = tmp_path / str(number)
        folder.mkdir()
        with living_in(zone):
            desk = a_desk(folder)
            lamp_on(at(desk, shown(begin.isoformat(), zone)))
            end = shown((begin + timedelta(minutes=minutes)).isoformat(), zone)
            state = lamp_state(at(desk, end))
            assert state.minutes == minutes, (zone, begin)
            assert lamp_off(at(desk, end), at=end if state.forgotten else None).minutes == minutes


def test_carried_to_another_zone_while_it_burns(tmp_path: Path) -> None:
    with living_in(BERLIN):
        desk = with_spears(tmp_path)
        lamp_on(at(desk, shown("2026-06-01T18:00", BERLIN)))
    with living_in(NEW_YORK):
        late = at(desk, shown("2026-06-01T19:10", NEW_YORK))
        assert lamp_state(late).minutes == 70
        assert not lamp_state(late).ahead
        log_line(late, Entry("Spears", "cleaning", models=1))
        done = lamp_off(late)
    assert (done.day, done.minutes) == (date(2026, 6, 1), 70)
    (evening,) = desk.records().sessions
    # The evening began when the clock where the lamp was lit said so.
    assert (evening.date, evening.start) == (date(2026, 6, 1), "20:00")


@pytest.mark.parametrize(
    ("zone", "day"), [(BERLIN, date(2026, 6, 1)), ("Asia/Tokyo", date(2026, 6, 2)), ("UTC", date(2026, 6, 1))]
)
def test_the_day_of_an_evening_is_that_of_the_clock_where_one_is(
    tmp_path: Path, zone: str, day: date
) -> None:
    # 20:30 UTC on 1 June: 22:30 in Berlin, 05:30 on 2 June in Tokyo.
    with living_in(zone):
        desk = with_spears(tmp_path)
        now = at(desk, shown("2026-06-01T20:30", zone))
        log_line(now, Entry("Spears", "cleaning", models=1))
        assert [one.date for one in desk.records().sessions] == [day]


def a_lamp_of_a_wrong_clock(folder: Path) -> tuple[Desk, Desk]:
    """Lit by a clock that was two days fast; the clock as it is now."""
    desk = with_spears(folder)
    lamp_on(at(desk, EVENING + timedelta(days=2)))
    return desk, at(desk, EVENING)


def test_a_clock_that_was_set_back_loses_no_minutes_without_a_word(tmp_path: Path) -> None:
    desk, now = a_lamp_of_a_wrong_clock(tmp_path)
    for act in (lamp_off, lamp_pause, lamp_resume):
        said = refusal(lambda act=act: act(now))
        assert all(word in said for word in ("20:00 on Thu 12 Mar", "the clock says", "lamp back", "evening"))
    state = lamp_state(now)
    assert (state.state, state.ahead, state.minutes) == ("on", True, 0)
    assert "was the clock set back?" in lamp_text(state)
    assert lamp_json(state)["ahead"] is True
    assert "is the clock right?" in lamp_line(state, EVENING)
    # A clock that is right again goes on as if nothing had been.
    assert lamp_off(at(desk, EVENING + timedelta(days=2, minutes=30))).minutes == 30


def test_the_mend_that_is_told_works(tmp_path: Path) -> None:
    _, now = a_lamp_of_a_wrong_clock(tmp_path)
    assert lamp_take_back(now).state == "off"
    assert lamp_on(now).state == "on"
    assert lamp_off(now._replace(now=lambda: EVENING + timedelta(minutes=5))).minutes == 5


def test_what_is_logged_meanwhile_belongs_to_the_evening_of_the_clock(tmp_path: Path) -> None:
    _, now = a_lamp_of_a_wrong_clock(tmp_path)
    log_line(now, Entry("Spears", "cleaning", models=1))
    assert [one.date for one in now.records().sessions] == [EVENING.date()]


def test_a_clock_that_is_corrected_by_seconds_is_not_worth_a_word(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    lamp_on(at(desk, EVENING))
    before = at(desk, EVENING - timedelta(seconds=20))
    assert not lamp_state(before).ahead
    lamp_pause(before)
    lamp_resume(before)
    assert lamp_off(at(desk, EVENING + timedelta(minutes=10))).minutes == 10


def test_a_rest_that_began_ahead_is_noticed_too(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    lamp_on(at(desk, EVENING))
    lamp_pause(at(desk, EVENING + timedelta(hours=3)))
    now = at(desk, EVENING + timedelta(hours=1))
    assert lamp_state(now).ahead
    assert "23:00" in refusal(lambda: lamp_resume(now))
    undo(now)
    assert lamp_off(now).minutes == 60


@pytest.mark.parametrize(
    ("now", "said", "meant"),
    [
        # 25 October 2026 in Berlin: 00:30 UTC is 02:30 for the first time, 01:30 UTC for the second.
        ("2026-10-25T01:10", "02:30", "2026-10-25T00:30"),
        ("2026-10-25T01:45", "02:30", "2026-10-25T01:30"),
        ("2026-10-25T00:45", "02:30", "2026-10-25T00:30"),
        ("2026-10-25T00:10", "02:30", "2026-10-24T00:30"),
        ("2026-10-25T05:00", "02:30", "2026-10-25T01:30"),
        ("2026-10-25T05:00", "90 min ago", "2026-10-25T03:30"),
        ("2026-03-29T01:10", "01:30", "2026-03-29T00:30"),
        ("2026-03-29T01:10", "30 min ago", "2026-03-29T00:40"),
    ],
)
def test_an_hour_that_is_struck_twice_means_the_last_one_that_was(now: str, said: str, meant: str) -> None:
    with living_in(BERLIN):
        moment = read_moment(said, shown(now, BERLIN))
        assert isinstance(moment, datetime)
        assert moment.astimezone(UTC).replace(tzinfo=None) == datetime.fromisoformat(meant)


def test_an_hour_that_never_was_is_told(tmp_path: Path) -> None:
    with living_in(BERLIN):
        found = read_moment("02:30", shown("2026-03-29T02:00", BERLIN))
        assert isinstance(found, Problem)
        assert "put forward" in found.what
        desk = with_spears(tmp_path)
        lamp_on(at(desk, shown("2026-03-28T23:00", BERLIN)))
        end = read_moment("03:10", shown("2026-03-29T02:00", BERLIN))
        assert isinstance(end, datetime)
        assert lamp_off(at(desk, shown("2026-03-29T02:00", BERLIN)), at=end).minutes == 130


@pytest.mark.parametrize("zone", ["UTC", BERLIN, NEW_YORK, "Pacific/Kiritimati", "Pacific/Pago_Pago"])
@pytest.mark.parametrize("said", ["0001-01-01 00:00", "9999-12-31 23:59", "0026-03-10 20:00"])
def test_a_year_that_was_mistyped_is_a_line(zone: str, said: str) -> None:
    with living_in(zone):
        found = read_moment(said, EVENING)
    assert isinstance(found, Problem)
    assert found.mend == "Check the year"


def test_an_offset_with_seconds_can_be_kept(tmp_path: Path) -> None:
    # A zone may differ from UTC by seconds (POSIX, TZ: hh[:mm[:ss]]); RFC 3339 knows only minutes.
    with living_in("<LMT>-1:23:45"):
        desk = with_spears(tmp_path)
        lamp_on(at(desk, EVENING))
        assert lamp_off(at(desk, EVENING + timedelta(minutes=25))).minutes == 25
