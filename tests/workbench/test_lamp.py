"""The lamp: minutes that no crash, midnight or change of the clocks bends.

Hours that are struck twice or left out: tz database, Europe/Berlin, 25 October and 29 March 2026
(POSIX.1 TZ string CET-1CEST,M3.5.0,M10.5.0/3). Elapsed time with offsets: RFC 3339, 4.2.
"""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from datetime import date, datetime, timedelta
from pathlib import Path

import pytest

from tests.desks import a_desk, with_spears
from tracker.domain.problems import DataError, Problem
from tracker.workbench.desk import Desk
from tracker.workbench.evening import set_evening_minutes
from tracker.workbench.lamp import (
    lamp_off,
    lamp_on,
    lamp_pause,
    lamp_resume,
    lamp_state,
    lamp_take_back,
)
from tracker.workbench.lines import Entry, log_line
from tracker.workbench.moments import read_moment
from tracker.workbench.past import redo, undo, would_redo, would_undo

EVENING = datetime(2026, 3, 10, 20, 0)


@pytest.fixture(autouse=True)
def _berlin(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    monkeypatch.setenv("TZ", "CET-1CEST,M3.5.0,M10.5.0/3")
    time.tzset()
    yield
    monkeypatch.undo()
    time.tzset()


def at(desk: Desk, moment: datetime) -> Desk:
    return desk._replace(now=lambda: moment)


def after(desk: Desk, minutes: float, start: datetime = EVENING) -> Desk:
    return at(desk, start + timedelta(minutes=minutes))


def refused(act: object, *words: str) -> None:
    assert callable(act)
    with pytest.raises(DataError) as refusal:
        act()
    assert all(word in str(refusal.value) for word in words), refusal.value
    assert "\n" not in str(refusal.value)


def test_on_and_off_is_the_evening(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    assert lamp_state(desk).state == "off"
    assert lamp_on(after(desk, 0)).state == "on"
    assert lamp_state(after(desk, 43)).minutes == 43
    done = lamp_off(after(desk, 43))
    assert (done.day, done.minutes, done.evening_minutes, done.lines) == (EVENING.date(), 43, 43, 0)
    (evening,) = desk.records().sessions
    assert (evening.date, evening.start, evening.minutes) == (date(2026, 3, 10), "20:00", 43)
    assert 'What was done? lastcoat log "…"' in done.sentence()


def test_twice_in_an_evening_adds_up(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    for start, end in ((0, 30), (60, 75)):
        lamp_on(after(desk, start))
        done = lamp_off(after(desk, end))
    assert (done.minutes, done.evening_minutes) == (15, 45)


def test_a_rest_is_not_counted_and_rests_may_be_many(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    lamp_on(after(desk, 0))
    lamp_pause(after(desk, 10))
    assert lamp_pause(after(desk, 15)).state == "paused"
    assert lamp_state(after(desk, 60)).minutes == 10
    lamp_resume(after(desk, 20))
    lamp_resume(after(desk, 25))
    lamp_pause(after(desk, 30))
    assert lamp_off(after(desk, 90)).minutes == 20


def test_a_session_past_midnight_belongs_to_the_day_it_began(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    lamp_on(at(desk, datetime(2026, 3, 10, 23, 30)))
    late = at(desk, datetime(2026, 3, 11, 4, 20))
    log_line(at(desk, datetime(2026, 3, 11, 3, 50)), Entry("Spears", "cleaning", models=1))
    assert {session.date for session in desk.records().sessions} == {date(2026, 3, 10)}
    assert lamp_off(late, at=datetime(2026, 3, 11, 4, 10)).day == date(2026, 3, 10)
    lamp_on(at(desk, datetime(2026, 3, 11, 1, 0)))
    assert lamp_off(at(desk, datetime(2026, 3, 11, 1, 30))).day == date(2026, 3, 10)


@pytest.mark.parametrize(
    ("start", "end", "minutes"),
    [
        # 02:00 to 03:00 is left out on 29 March 2026, struck twice on 25 October.
        (datetime(2026, 3, 29, 1, 30), datetime(2026, 3, 29, 3, 30), 60),
        (datetime(2026, 10, 25, 1, 30), datetime(2026, 10, 25, 3, 30), 180),
        (datetime(2026, 10, 25, 2, 30), datetime(2026, 10, 25, 2, 30, fold=1), 60),
    ],
)
def test_a_change_of_the_clocks_does_not_bend_the_minutes(
    tmp_path: Path, start: datetime, end: datetime, minutes: int
) -> None:
    desk = with_spears(tmp_path)
    lamp_on(at(desk, start))
    assert lamp_state(at(desk, end)).minutes == minutes
    assert lamp_off(at(desk, end)).minutes == minutes


def test_a_lamp_that_was_left_on_asks_when_it_really_ended(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    lamp_on(after(desk, 0))
    assert not lamp_state(after(desk, 7 * 60)).forgotten
    morning = at(desk, datetime(2026, 3, 11, 9, 0))
    assert lamp_state(morning).forgotten
    refused(lambda: lamp_off(morning), "20:00 on Tue 10 Mar", "lastcoat lamp off --at")
    refused(lambda: lamp_pause(morning), "when you really stopped")
    refused(lambda: lamp_off(morning, at=datetime(2026, 3, 10, 19, 0)), "before it went on")
    refused(lambda: lamp_off(morning, at=datetime(2026, 3, 11, 10, 0)), "future")
    done = lamp_off(morning, at=datetime(2026, 3, 10, 22, 15))
    assert (done.day, done.minutes) == (date(2026, 3, 10), 135)


def test_a_word_to_the_log_says_that_it_was_not_left_on(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    lamp_on(at(desk, datetime(2026, 3, 10, 13, 0)))
    late = at(desk, datetime(2026, 3, 10, 21, 30))
    assert lamp_state(late).forgotten
    log_line(at(desk, datetime(2026, 3, 10, 19, 0)), Entry("Spears", "cleaning", models=1))
    assert not lamp_state(late).forgotten


def test_a_silence_that_was_too_long_stays_so(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    lamp_on(after(desk, 0))
    next_evening = at(desk, EVENING + timedelta(days=1))
    log_line(next_evening, Entry("Spears", "cleaning", models=1))
    log_line(next_evening, Entry("Spears", "cleaning", models=1))
    assert {session.date for session in desk.records().sessions} == {date(2026, 3, 11)}
    assert lamp_state(next_evening).forgotten
    assert lamp_off(next_evening, at=EVENING + timedelta(minutes=50)).day == EVENING.date()


def test_a_lamp_that_rests_is_never_left_on(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    lamp_on(after(desk, 0))
    lamp_pause(after(desk, 30))
    week = at(desk, EVENING + timedelta(days=7))
    assert not lamp_state(week).forgotten
    lamp_resume(week)
    assert not lamp_state(week).forgotten
    assert lamp_off(week).minutes == 30


def test_back_dated_within_the_last_day(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    refused(lambda: lamp_on(after(desk, 0), since=EVENING + timedelta(minutes=1)), "future")
    refused(lambda: lamp_on(after(desk, 0), since=EVENING - timedelta(days=1)), "more than a day ago")
    assert lamp_on(after(desk, 0), since=EVENING - timedelta(minutes=25)).minutes == 25
    refused(lambda: lamp_on(after(desk, 1)), "on already, since 19:35")


def test_off_needs_a_lamp(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    for act in (lamp_off, lamp_pause, lamp_resume, lamp_take_back):
        refused(lambda act=act: act(desk), "it is off. Switch it on")


def test_taken_back_counts_nothing(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    lamp_on(after(desk, 0))
    lamp_pause(after(desk, 5))
    assert lamp_take_back(after(desk, 30)).state == "off"
    assert desk.records().sessions == ()
    undo(after(desk, 31))
    assert lamp_state(after(desk, 31)).minutes == 5


def test_less_than_a_minute_is_no_evening(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    lamp_on(after(desk, 0))
    assert "nothing is counted" in lamp_off(after(desk, 0.4)).sentence()
    assert desk.records().sessions == ()


def test_undo_lights_it_again_and_redo_puts_it_out(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    lamp_on(after(desk, 0))
    lamp_pause(after(desk, 10))
    lamp_resume(after(desk, 20))
    before = desk.records()
    lamp_off(after(desk, 50))
    later = after(desk, 55)
    said = would_undo(later)
    assert said is not None
    assert said.sentence("Would take back") == "Would take back: lamp: off after 40 min (Tue 10 Mar)."
    assert undo(later) == said
    assert desk.records() == before
    assert lamp_state(after(desk, 60)).minutes == 50
    said = would_redo(later)
    assert redo(later) == said
    assert desk.records().sessions[0].minutes == 40
    assert lamp_state(later).state == "off"


def test_the_lamp_alone_leaves_kept_answers_right(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)

    def state() -> str:
        with desk.open() as store:
            return store.log_state()

    before = state()
    lamp_on(after(desk, 0))
    lamp_pause(after(desk, 5))
    undo(after(desk, 6))
    redo(after(desk, 6))
    assert state() == before
    lamp_off(after(desk, 40))
    assert state() != before


def test_lines_under_the_lamp_may_outgrow_the_total_so_far(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    lamp_on(after(desk, 0))
    lamp_off(after(desk, 30))
    lamp_on(after(desk, 40))
    log_line(after(desk, 70), Entry("Spears", "cleaning", models=2, minutes=70.0))
    refused(lambda: set_evening_minutes(after(desk, 70), 90.0), "the lamp is still counting")
    # 30 + 31 minutes of lamp, but the line says 70.
    assert lamp_off(after(desk, 71)).evening_minutes == 70


def test_an_evening_has_no_more_minutes_than_a_day(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    set_evening_minutes(after(desk, 0), 1430.0)
    lamp_on(after(desk, 1))
    refused(lambda: lamp_off(after(desk, 30)), "a day has 1440")
    assert lamp_state(after(desk, 30)).state == "on"


def test_it_makes_a_log_where_there_is_none(tmp_path: Path) -> None:
    desk = a_desk(tmp_path, EVENING)
    assert lamp_state(desk).state == "off"
    assert not list(tmp_path.iterdir())
    assert lamp_on(desk).state == "on"


SWITCH_AND_DIE = """
import os, signal, sys
from tracker.workbench.desk import Desk
from tracker.workbench.lamp import lamp_on
lamp_on(Desk(sys.argv[1]))
os.kill(os.getpid(), signal.SIGKILL)
"""


def test_it_survives_a_program_that_is_killed(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    died = subprocess.run([sys.executable, "-c", SWITCH_AND_DIE, desk.path], env=os.environ, check=False)
    assert died.returncode == -signal.SIGKILL
    assert lamp_state(Desk(desk.path)).state == "on"


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("19:05", datetime(2026, 3, 10, 19, 5)),
        ("20:30", datetime(2026, 3, 9, 20, 30)),
        ("2026-03-09 7.15", datetime(2026, 3, 9, 7, 15)),
        ("30 min ago", datetime(2026, 3, 10, 19, 30)),
        ("1.5 h", datetime(2026, 3, 10, 18, 30)),
        ("now", EVENING),
    ],
)
def test_moments_as_people_say_them(said: str, meant: datetime) -> None:
    moment = read_moment(said, EVENING)
    assert isinstance(moment, datetime)
    assert moment.replace(tzinfo=None) == meant


@pytest.mark.parametrize("said", ["25:00", "19:61", "soon", "", "2026-02-30 20:00", "99999 h"])
def test_what_is_no_moment_is_refused(said: str) -> None:
    assert isinstance(read_moment(said, EVENING), Problem)
