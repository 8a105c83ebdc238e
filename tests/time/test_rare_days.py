"""Leap days, week 53, the ends of years and of the calendar, and a log that is ahead of its clock.

ISO 8601: weeks begin on Monday, 2026 has 53 of them (1 January is a Thursday); 2028 is a leap year, 2100
is none (Gregorian calendar). RFC 5545, 3.3.10: a rule for a day that a year lacks leaves that year out.
"""

from __future__ import annotations

import asyncio
import json
import os
import re
import shlex
import subprocess
import sys
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
import vobject
from click.testing import CliRunner

from tests.desks import a_desk
from tests.time.clocks import BERLIN, NEW_YORK, at, living_in
from tests.tui.driving import a_small_log, opened
from tracker.cli.main import main
from tracker.domain.answers_curing import ends
from tracker.domain.cures import Cure
from tracker.domain.elapsed import hours_between, later
from tracker.domain.rows import RosterRow
from tracker.forecast.evenings import declared_days
from tracker.report.calendar_entries import moment_of
from tracker.workbench.adding import add_unit
from tracker.workbench.curing import begin, curing, done
from tracker.workbench.desk import Desk
from tracker.workbench.lines import Entry, log_line

QUESTIONS = (
    "army", "ready", "tonight", "forecast --draws 100", "backlog --draws 100", "pace", "goal show",
    "plan show", "source months", "source costs", "points", "curing", "unit show Spears",
    "forecast --track-record", "caution",
)  # fmt: skip


def said(desk: Desk, line: str, status: int = 0) -> str:
    done = CliRunner().invoke(main, shlex.split(line), obj=desk)
    assert done.exit_code == status, (line, done.output, done.exception)
    assert "Traceback" not in done.output
    return done.output


def asked_everything(desk: Desk, folder: Path) -> None:
    for line in QUESTIONS:
        said(desk, line)
    said(desk, f"report {folder / 'page.html'} --plain --draws 100")
    said(desk, f"calendar {folder / 'desk.ics'} --draws 100")


@pytest.mark.parametrize(
    "today", [date(2028, 2, 29), date(2026, 12, 31), date(2027, 1, 1), date(2027, 1, 3), date(2099, 12, 31)]
)
def test_every_answer_on_a_rare_day(tmp_path: Path, today: date) -> None:
    desk = a_desk(tmp_path, datetime.combine(today, datetime.min.time().replace(hour=21)))
    add_unit(desk, RosterRow("Spears", 10, added=today - timedelta(days=40)))
    for back in (35, 28, 21, 14, 7, 1, 0):
        log_line(desk, Entry("Spears", "cleaning", models=1, minutes=30, day=today - timedelta(days=back)))
    said(desk, f"plan away {today} {today + timedelta(days=2)}")
    said(desk, 'plan evenings "every Tuesday"')
    said(desk, f'goal add "Muster" {today + timedelta(days=60)} --unit Spears')
    asked_everything(desk, tmp_path)


def test_a_leap_day_can_be_a_goal_a_day_away_and_an_evening(tmp_path: Path) -> None:
    desk = a_desk(tmp_path, datetime(2028, 2, 20, 21))
    add_unit(desk, RosterRow("Spears", 4, added=date(2028, 2, 1)))
    assert "29 Feb" in said(desk, 'goal add "Leap" 2028-02-29 --unit Spears')
    said(desk, "plan away 2028-02-28 2028-03-01")
    said(desk, "plan away 2027-02-29", status=2)
    file = tmp_path / "desk.ics"
    said(desk, f"calendar {file} --draws 100")
    events = list(vobject.readOne(file.read_text()).vevent_list)
    spans = {(one.dtstart.value, one.dtend.value) for one in events if "dtend" in one.contents}
    # RFC 5545, 3.6.1: DTEND is the day after the last one.
    assert (date(2028, 2, 28), date(2028, 3, 2)) in spans
    (goal,) = [one for one in events if one.summary.value == "Goal: Leap"]
    assert goal.dtstart.value == date(2028, 2, 29)


@pytest.mark.parametrize(
    ("rule", "start", "until", "days"),
    [
        ("FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=29", date(2024, 2, 29), date(2033, 1, 1),
         [date(2024, 2, 29), date(2028, 2, 29), date(2032, 2, 29)]),
        ("FREQ=YEARLY;BYWEEKNO=53;BYDAY=MO", date(2020, 1, 1), date(2033, 1, 1),
         [date(2020, 12, 28), date(2026, 12, 28), date(2032, 12, 27)]),
        ("FREQ=MONTHLY;BYMONTHDAY=31", date(2026, 1, 31), date(2026, 6, 1),
         [date(2026, 1, 31), date(2026, 3, 31), date(2026, 5, 31)]),
        ("FREQ=WEEKLY;BYDAY=SU", date(2026, 3, 22), date(2026, 4, 6),
         [date(2026, 3, 22), date(2026, 3, 29), date(2026, 4, 5)]),
    ],
)  # fmt: skip
@pytest.mark.parametrize("zone", [BERLIN, NEW_YORK])
def test_rules_over_rare_days_and_changes_of_the_clocks(
    zone: str, rule: str, start: date, until: date, days: list[date]
) -> None:
    with living_in(zone):
        assert list(declared_days(rule, start, until)) == days


def test_evenings_of_the_calendar_keep_their_hour_over_a_change(tmp_path: Path) -> None:
    # RFC 5545, 3.3.5: a time without a zone is that of the wall's clock on every day that it comes back.
    with living_in(BERLIN):
        desk = a_desk(tmp_path, datetime(2026, 3, 20, 21))
        add_unit(desk, RosterRow("Spears", 4, added=date(2026, 3, 1)))
        said(desk, 'plan evenings "every Sunday"')
        file = tmp_path / "desk.ics"
        said(desk, f"calendar {file} --at 20:00 --draws 100")
    text = file.read_text()
    (event,) = [one for one in vobject.readOne(text).vevent_list if "rrule" in one.contents]
    assert (event.dtstart.value.time().isoformat(), event.dtstart.value.tzinfo) == ("20:00:00", None)
    assert "VTIMEZONE" not in text
    assert "TZID" not in text


@pytest.mark.parametrize(
    ("begun", "hours"),
    [("2026-03-28T22:00", 4), ("2026-03-28T22:00", 24), ("2026-10-24T21:00", 6), ("2026-10-24T21:00", 4)],
)
def test_what_cures_over_a_change_is_dry_when_its_hours_went_by(begun: str, hours: float) -> None:
    begin_utc = datetime.fromisoformat(begun).replace(tzinfo=UTC)
    zone = ZoneInfo(BERLIN)
    wall = begin_utc.astimezone(zone).replace(tzinfo=None)
    dry = (begin_utc + timedelta(hours=hours)).astimezone(zone).replace(tzinfo=None)
    with living_in(BERLIN):
        assert ends(Cure(0, "putty", None, wall, hours, hours, hours)) == (dry, dry, dry)
        assert later(wall, hours) == dry
        assert hours_between(wall, dry) == hours
        assert moment_of(later(wall, hours)) in (
            begin_utc + timedelta(hours=hours), begin_utc + timedelta(hours=hours - 1),
        )  # fmt: skip


def test_a_timer_by_hand_over_a_change_tells_the_hours_that_went_by(tmp_path: Path) -> None:
    with living_in(BERLIN):
        desk = a_desk(tmp_path, datetime(2026, 3, 28, 23, 0))
        assert "dry 04:00" in begin(desk, "putty", hours=(4,)).sentence()
        morning = at(desk, datetime(2026, 3, 29, 4, 0))
        assert curing(at(desk, datetime(2026, 3, 29, 3, 30))).curing[0].usual == datetime(2026, 3, 29, 4, 0)
        assert "after 4 h" in done(morning, "putty").sentence()


@pytest.mark.parametrize("year", [1, 1899, 9999])
def test_hours_at_the_ends_of_the_calendar_do_not_fail(year: int) -> None:
    day = datetime(year, 12, 31, 23)
    with living_in(NEW_YORK):
        assert later(day, 5) >= day
        assert hours_between(day, day) == 0


def test_a_year_that_is_too_far_off_is_told(tmp_path: Path) -> None:
    desk = a_small_log(tmp_path)
    for line in ("forecast", "backlog", "pace", f"report {tmp_path / 'page.html'}"):
        for day in ("9999-12-31", "0001-01-01"):
            assert "Check the year" in said(desk, f"{line} --as-of {day}", status=2)
        said(desk, f"{line} --as-of 1901-12-13")
        said(desk, f"{line} --as-of 2036-12-31")
    for day in ("0001-01-01", "0206-03-09"):
        assert "Check the year" in said(desk, f"log --unit Spears --step cleaning --models 1 --date {day}", 1)
        (tmp_path / "old.csv").write_text(f"date,unit,step,models,minutes\n{day},Spears,cleaning,1,20\n")
        assert "Check the year" in said(desk, f"import evenings {tmp_path / 'old.csv'}", 1)


def test_screens_with_an_evening_of_long_ago(tmp_path: Path) -> None:
    desk = a_small_log(tmp_path)
    log_line(desk, Entry("Spears", "cleaning", models=1, day=date(1926, 1, 2)))

    async def look() -> None:
        async with opened(desk) as driver:
            await driver.press("a", "d", "b", "p", "t")
            assert driver.screen == "tonight"

    asyncio.run(look())


def test_a_log_that_is_ahead_of_its_clock_still_answers(tmp_path: Path) -> None:
    desk = a_small_log(tmp_path)
    said(desk, 'curing begin "putty" --hours 5')
    for now in (datetime(2026, 3, 1, 21), datetime(2026, 1, 1, 3), datetime(1970, 1, 2, 12)):
        earlier = at(desk, now)
        asked_everything(earlier, tmp_path)
        log_line(earlier, Entry("Spears", "cleaning", models=1))
        refused = said(earlier, "log --unit Spears --step cleaning --models 1 --date 2026-03-09", status=1)
        assert "lies in the future" in refused
        said(earlier, "undo")


def test_names_of_days_and_months_are_those_of_no_locale(tmp_path: Path) -> None:
    # POSIX.1 locale(1): LC_ALL goes before every other; a name no system has falls back to "C".
    desk = a_small_log(tmp_path)
    out = set()
    for locale in ("C", "C.UTF-8", "de_DE.UTF-8", "tr_TR.UTF-8", "no_SUCH"):
        env = os.environ | {"LC_ALL": locale, "LANG": locale, "LASTCOAT_DB": desk.path}
        told = subprocess.run(
            [sys.executable, "-m", "tracker.cli.main", "pace", "--as-of", "2026-03-10", "--json"],
            capture_output=True, text=True, check=True, env=env | {"PYTHONUTF8": "1"},
        ).stdout  # fmt: skip
        out.add(json.dumps(json.loads(told)))
    assert len(out) == 1


def test_nothing_asks_the_locale_for_a_name() -> None:
    import tracker

    # Python, datetime: %a %A %b %B %c %x %X %p are the locale's.
    for path in Path(tracker.__file__).parent.rglob("*.py"):
        text = path.read_text(encoding="utf-8")
        assert not re.search(r":[^\"'}]*%[aAbBcxXp][^\"']*}|strftime\([^)]*%[aAbBcxXp]", text), path
        assert "setlocale" not in text, path
