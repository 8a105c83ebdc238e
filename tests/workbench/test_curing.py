"""Timers and waits through the verbs: begun, ended, said to be dry, undone; in tonight and the calendar."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from pathlib import Path

import pytest
import vobject

from tests.desks import NOW, with_spears
from tracker.domain.problems import DataError
from tracker.domain.rows import RosterRow
from tracker.report.curing_words import curing_json, curing_text
from tracker.report.tonight_answer import tonight_json, tonight_text
from tracker.workbench.adding import add_unit
from tracker.workbench.answers import forecast
from tracker.workbench.calendar_out import write_calendar
from tracker.workbench.curing import begin, curing, done, read_hours, read_wait, set_own_wait
from tracker.workbench.desk import Desk
from tracker.workbench.lines import Entry, log_line
from tracker.workbench.past import undo
from tracker.workbench.tonight import tonight


def later(desk: Desk, hours: float) -> Desk:
    """The same desk, hours on."""
    return desk._replace(now=lambda: NOW + timedelta(hours=hours))


def refused(verb: object, *said: object, **more: object) -> str:
    with pytest.raises(DataError) as refusal:
        verb(*said, **more)  # type: ignore[operator] # a verb
    return str(refusal.value.problems[0])


def test_a_timer_runs_over_midnight_and_is_ended(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    said = begin(desk, "putty on the captain", unit="spears", at="30 min ago")
    assert said.sentence() == (
        "Stored: timer for putty on the captain (Spears) since 21:00: dry from 01:00 on Wed 11 Mar, usually "
        "13:00 on Wed 11 Mar, latest 21:00 on Wed 11 Mar. The range is common practice; the label beats it."
    )
    next_day = later(desk, 15)
    (one,) = curing(next_day).curing
    assert (one.what, one.unit, one.usual) == ("putty on the captain", "Spears", datetime(2026, 3, 11, 13))
    assert done(next_day, "putty on the captain").sentence() == (
        "Stored: putty on the captain (Spears) is done since 12:30, after 15.5 h."
    )
    assert curing(next_day).curing == ()
    undo(next_day)
    assert len(curing(next_day).curing) == 1
    assert curing(later(desk, 24 * 9)).curing == ()  # a timer that nobody ended was forgotten


def test_what_cannot_be_is_one_problem(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    assert "nobody here knows how long" in refused(begin, desk, "mystery")
    assert "cannot be" in refused(begin, desk, "clay", hours=(4, 3, 5))
    assert "cannot be" in refused(begin, desk, "clay", hours=(0.0,))
    assert "in the future" in refused(begin, desk, "clay", at="2026-03-11 10:00")
    assert "is no time" in refused(begin, desk, "clay", at="soon")
    assert "no unit" in refused(begin, desk, "clay", unit="Zzz")
    assert "Nothing cures right now" in refused(done, desk, "clay")
    assert "no step" in refused(set_own_wait, desk, "zzz", 3.0)
    assert "cannot be" in refused(set_own_wait, desk, "varnish", float("nan"))
    assert "is no time that it takes" in refused(read_hours, "4-5")
    assert "is a range" in refused(read_wait, "4-5-6")
    begin(desk, "clay")
    assert "before it began" in refused(done, desk, "clay", at="20:00")
    assert 'Did you mean "clay"' in refused(done, desk, "cley")


def test_a_step_is_dry_by_a_persons_word(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    add_unit(desk, RosterRow("Riders", 2))
    log_line(desk, Entry("Spears", "priming", models=3))
    log_line(desk, Entry("Riders", "priming", models=2))
    assert "several things are meant: priming of Riders; priming of Spears" in refused(done, desk, "priming")
    assert done(later(desk, 1), "priming", unit="Riders").sentence() == (
        "Stored: priming on 2 models of Riders is dry since 22:30."
    )
    assert [one.unit for one in curing(later(desk, 1)).curing] == ["Spears"]
    # Later than every usual end, and the next morning still told.
    assert "is dry since" in done(later(desk, 30), "spears").sentence()
    assert [word.line_id for word in desk.records().dried] == [2, 1]


def test_a_word_moves_what_is_ready_and_a_wait_moves_dates(tmp_path: Path) -> None:
    desk = with_spears(tmp_path, 1)
    for step in ("cleaning", "assembly", "base texture"):
        log_line(desk, Entry("Spears", step, day=date(2026, 3, 9)))
    log_line(desk, Entry("Spears", "priming"))
    assert [line.step for line in tonight(later(desk, 1)).drying][:1] == ["base colours"]
    done(later(desk, 1), "priming", at="22:05")
    assert [line.step for line in tonight(later(desk, 1)).ready][:1] == ["base colours"]
    set_own_wait(desk, "priming", 24 * 20)
    assert tonight(later(desk, 1)).drying == ()  # the word still stands
    assert forecast(desk, draws=50).units[0].models_ready == 0
    assert set_own_wait(desk, "priming", None).sentence() == (
        "Stored: your wait after priming: the usual one again, 2 h."
    )
    undo(desk)
    assert desk.records().steps[0].wait_hours == 480.0


def test_own_waits_stand_beside_the_usual_ones(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    for hours in (5, 6, 9):
        begin(desk, "putty")
        done(later(desk, hours), "putty")
    text = curing_text(curing(desk))
    assert "Your putty: 6 h in the middle of 3 times, from 5 to 9 h; usual are 16 h," in " ".join(
        text.split()
    )
    document = curing_json(curing(desk))
    assert document["own_waits"] == [
        {"what": "putty", "times_said": 3, "hours": {"low": 5.0, "median": 6.0, "high": 9.0},
         "usual_hours": {"low_hours": 4, "usual_hours": 16, "high_hours": 24}, "set_hours": None}
    ]  # fmt: skip


def test_tonight_tells_what_cures_and_nothing_twice(tmp_path: Path) -> None:
    desk = with_spears(tmp_path, 2)
    log_line(desk, Entry("Spears", "tufts", models=2))  # the last step: nothing waits for it
    log_line(desk, Entry("Spears", "priming", models=1))  # base colours wait for it
    begin(desk, "clay")
    text = tonight_text(tonight(desk))
    assert "Curing: tufts, 2 of Spears: usually Wed 00:00, latest Wed 10:00." in text
    assert "Curing: clay: usually Thu 09:30, latest Fri 21:30." in text
    assert "Drying: Spears, base colours of 1 model from 00:00" in text
    assert "Curing: priming" not in text
    document = tonight_json(tonight(desk))
    assert [row["what"] for row in document["curing"]] == ["priming", "tufts", "clay"]  # type: ignore[attr-defined] # JSON


def test_timers_are_in_the_calendar_by_names_that_last(tmp_path: Path) -> None:
    desk, file = with_spears(tmp_path), tmp_path / "desk.ics"
    begin(desk, "clay", unit="Spears", at="20:30")
    log_line(desk, Entry("Spears", "tufts", models=2))

    def events() -> dict[str, str]:
        write_calendar(desk, str(file), draws=50)
        found = vobject.readOne(file.read_text()).vevent_list
        return {event.uid.value: f"{event.summary.value}|{event.description.value}" for event in found}

    before = events()
    (timer,) = [uid for uid in before if uid.endswith("-cure@lastcoat")]
    assert before[timer].startswith("Clay (Spears)".replace("Clay", "clay") + ": usually dry|")
    assert (
        "Dry from 08:30 on 11 Mar 2026 at the quickest, by 20:30 on 13 Mar 2026 at the latest."
        in before[timer]
    )
    assert any(words.startswith("tufts (Spears): usually dry") for words in before.values())
    assert set(events()) == set(before)
    done(desk, "clay")
    assert timer not in events()
