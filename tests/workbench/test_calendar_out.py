"""The calendar file of a log: lasting identities, whole or not at all, never over something else."""

from __future__ import annotations

from datetime import date, datetime, time
from pathlib import Path
from typing import Any

import pytest
import vobject

from tests.desks import NOW, a_desk
from tracker.domain.problems import UsageError
from tracker.domain.records import Declared, Goal
from tracker.domain.rows import RosterRow
from tracker.store.declared import insert_declared
from tracker.store.goals import insert_goal
from tracker.workbench.adding import add_unit
from tracker.workbench.calendar_out import CalendarWritten, write_calendar
from tracker.workbench.desk import Desk
from tracker.workbench.lines import Entry, log_line
from tracker.workbench.units_plan import rename

FIRST = date(2026, 2, 1)


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    """Spears begun weeks ago, riders with a goal date, one goal that was set, evenings declared."""
    desk = a_desk(tmp_path)
    add_unit(desk, RosterRow("Spears", 8, standard="quick", added=FIRST))
    add_unit(desk, RosterRow("Riders", 1, added=FIRST, goal_date=date(2026, 6, 1), goal="club day"))
    for day in (3, 10, 17, 24):
        log_line(desk, Entry("Spears", "cleaning", models=2, minutes=60, day=date(2026, 2, day)))
    with desk.open() as store, store.change("plan", "said"):
        insert_declared(store, Declared(0, "evenings", date(2026, 3, 3), rule="FREQ=WEEKLY;BYDAY=TU"))
        insert_goal(store, Goal(0, "harvest", date(2026, 9, 1), (1,)))
    return desk


def written(desk: Desk, file: Path, **more: Any) -> tuple[CalendarWritten, dict[str, Any]]:
    """What was said of it, and its events by UID as another library reads them."""
    said = write_calendar(desk, str(file), draws=200, **more)
    return said, {event.uid.value: event for event in vobject.readOne(file.read_text()).vevent_list}


def test_all_that_lies_ahead_is_in_it(desk: Desk, tmp_path: Path) -> None:
    said, events = written(desk, tmp_path / "desk.ics", at=time(20))
    assert (
        said.words() == f"Wrote {tmp_path / 'desk.ics'}: 2 goals, 1 plan, 2 ready dates, no ends of drying."
    )
    assert len(events) == 5
    assert {event.summary.value for event in events.values()} >= {
        "Goal: club day",
        "Goal: harvest",
        "At the desk",
    }
    (evening,) = [event for event in events.values() if "rrule" in event.contents]
    assert evening.dtstart.value == datetime(2026, 3, 3, 20)
    assert evening.dtend.value == datetime(2026, 3, 3, 21)  # an hour, as most of the logged ones


def test_a_second_file_updates_the_first(desk: Desk, tmp_path: Path) -> None:
    _, before = written(desk, tmp_path / "one.ics")
    rename(desk, "Spears", "Spears of the old guard")
    later = desk._replace(now=lambda: NOW.replace(minute=31))
    _, after = written(later, tmp_path / "two.ics")
    assert before.keys() == after.keys()
    assert all(int(after[uid].sequence.value) > int(before[uid].sequence.value) for uid in before)
    changed = {uid for uid in before if before[uid].summary.value != after[uid].summary.value}
    assert {after[uid].summary.value for uid in changed} == {"Spears of the old guard table-ready?"}


def test_at_one_moment_it_is_the_same_file(desk: Desk, tmp_path: Path) -> None:
    for name in ("one.ics", "two.ics"):
        write_calendar(desk, str(tmp_path / name), draws=200)
    assert (tmp_path / "one.ics").read_bytes() == (tmp_path / "two.ics").read_bytes()


def test_below_two_weeks_no_ready_date_is_named(tmp_path: Path) -> None:
    desk = a_desk(tmp_path)
    add_unit(desk, RosterRow("Spears", 10, added=FIRST))
    log_line(desk, Entry("Spears", "cleaning", models=2, minutes=60, day=date(2026, 3, 3)))
    said = write_calendar(desk, str(tmp_path / "desk.ics"), draws=200)
    assert said.words().endswith("Ready dates wait for two weeks of evenings.")
    assert b"VEVENT" not in (tmp_path / "desk.ics").read_bytes()


def test_it_is_written_over_a_calendar_and_over_nothing_else(desk: Desk, tmp_path: Path) -> None:
    notes = tmp_path / "notes.txt"
    notes.write_text("my recipes", encoding="utf-8")
    for path in (str(notes), str(tmp_path), desk.path, "/dev/null", str(tmp_path / "a\0b")):
        with pytest.raises(UsageError):
            write_calendar(desk, path, draws=200)
    assert notes.read_text(encoding="utf-8") == "my recipes"
    old = tmp_path / "old.ics"
    old.write_bytes(b"\xef\xbb\xbfBEGIN:VCALENDAR\r\nEND:VCALENDAR\r\n")
    write_calendar(desk, str(old), draws=200)
    assert b"VEVENT" in old.read_bytes()


def test_where_it_cannot_be_written_the_old_one_stays(
    desk: Desk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "desk.ics"
    write_calendar(desk, str(file), draws=200)
    before = file.read_bytes()

    def full(*_said: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "replace", full)
    with pytest.raises(OSError, match="No space"):
        write_calendar(desk, str(file), draws=200)
    assert file.read_bytes() == before
    assert {path.name for path in tmp_path.iterdir()} == {"desk.ics", "log.db"}


def test_without_a_log_there_is_a_calendar_without_entries(tmp_path: Path) -> None:
    file = tmp_path / "desk.ics"
    said = write_calendar(a_desk(tmp_path), str(file), draws=200)
    assert said.words().endswith("no goals, no plans, no ready dates, no ends of drying.")
    assert file.read_bytes().startswith(b"BEGIN:VCALENDAR\r\n")
    assert not (tmp_path / "log.db").exists()
