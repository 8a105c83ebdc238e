"""What is understood before it is stored, and drafts."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

import pytest

from tests.desks import NOW, a_desk, with_spears
from tracker.domain.cautions import CAUTIONS
from tracker.domain.problems import DataError
from tracker.domain.rows import RosterRow
from tracker.workbench.adding import Figure, add_unit
from tracker.workbench.desk import Desk
from tracker.workbench.drafts import clear_draft, draft, save_draft
from tracker.workbench.heard import Choice, Understood, UnitChoice
from tracker.workbench.lamp import lamp_on
from tracker.workbench.lines import Entry, log_line
from tracker.workbench.models import mark
from tracker.workbench.past import redo, undo
from tracker.workbench.understanding import log_understood, turned, understand

TODAY = date(2026, 3, 10)


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    desk = with_spears(tmp_path)
    add_unit(desk, RosterRow("Riders", 8), figures=[Figure("Old Tom")])
    return desk


def only(heard: Understood) -> str:
    assert heard.problems == ()
    (line,) = heard.lines
    return line.words()


def test_shown_as_it_will_be_stored(desk: Desk) -> None:
    heard = understand(desk, "cleaned 10 spears, 50 min")
    assert only(heard) == "cleaning, 10 of 20 Spears (1-10), 50 min (Tue 10 Mar)"
    assert heard.lines[0].from_last == ()
    assert desk.records().lines == ()
    logged = log_understood(desk, heard)
    assert logged.sentence() == (
        "Logged: cleaning, 10 of 20 Spears, 50 min (Tue 10 Mar). 10 left for this step.\n"
        f"Care: {CAUTIONS['blades'].line}"
    )
    assert desk.records().lines[0].model_ids == tuple(range(1, 11))


def test_what_is_not_said_comes_from_last_time(desk: Desk) -> None:
    log_line(desk, Entry("Spears", "cleaning", models=5, minutes=20.0, day=date(2026, 3, 9)))
    line = understand(desk, "25 min").lines[0]
    assert (line.unit, line.step, line.models, line.numbers) == ("Spears", "cleaning", 5, (6, 7, 8, 9, 10))
    assert line.from_last == ("unit", "step", "models")
    assert understand(desk, "cleaned 3").lines[0].from_last == ("unit",)
    line = understand(desk, "3 riders").lines[0]
    assert (line.unit, line.step, line.from_last) == ("Riders", "cleaning", ("step",))


def test_a_step_in_hand_goes_on_and_a_done_one_is_followed_by_the_next(desk: Desk) -> None:
    log_line(desk, Entry("Spears", "cleaning", models=4, finished=False))
    line = understand(desk, "25 min").lines[0]
    assert (line.step, line.models) == ("cleaning", 4)
    log_line(desk, Entry("Spears", "cleaning", models="all"))
    assert understand(desk, "25 min spears").lines[0].step == "assembly"


def test_two_things_are_needed(desk: Desk) -> None:
    log_line(desk, Entry("Spears", "cleaning", models=5))
    assert "how many is not said" in str(understand(desk, "cleaned spears").problem)
    assert understand(desk, "cleaned spears; 2 h in all").lines[0].models == 5
    # A unit that was never worked on has no last time.
    assert "how many is not said" in str(understand(desk, "cleaned riders 20 min").problem)


def test_models_by_number_and_by_name(desk: Desk) -> None:
    assert understand(desk, "cleaned spears #4-6").lines[0].numbers == (4, 5, 6)
    line = understand(desk, "cleaned Old Tom 5 min").lines[0]
    assert (line.unit, line.numbers, line.names) == ("Riders", (1,), ("Old Tom",))
    log_understood(desk, understand(desk, "cleaned spears #4-6"))
    assert desk.records().lines[0].model_ids == (4, 5, 6)
    assert "no number 5 left" in str(understand(desk, "cleaned spears #5,7").problem)
    assert "no number 99 left" in str(understand(desk, "cleaned spears #99").problem)


def test_several_lines_make_an_evening_that_is_one_change(desk: Desk) -> None:
    before = desk.records()
    heard = understand(desk, "yesterday cleaned 3 spears; 10 min; cleaned 2 riders\n2 h in all")
    assert [line.minutes for line in heard.lines] == [10, None]
    assert {line.day for line in heard.lines} == {date(2026, 3, 9)}
    done = log_understood(desk, heard)
    assert done.total is not None
    known = desk.records()
    assert [session.minutes for session in known.sessions] == [120]
    assert len(known.lines) == 2
    undo(desk)
    assert desk.records() == before
    redo(desk)
    assert desk.records() == known


def test_a_line_builds_on_the_one_before_it(desk: Desk) -> None:
    heard = understand(desk, "cleaned 3 riders; 4, 20 min")
    assert [line.numbers for line in heard.lines] == [(1, 2, 3), (4, 5, 6, 7)]
    assert [(line.unit, line.step, line.models) for line in heard.lines] == [
        ("Riders", "cleaning", 3), ("Riders", "cleaning", 4),
    ]  # fmt: skip


def test_a_total_alone_sets_the_evening(desk: Desk) -> None:
    log_line(desk, Entry("Spears", "cleaning", models=1))
    log_understood(desk, understand(desk, "90 min in all"))
    assert desk.records().sessions[0].minutes == 90


def test_nothing_is_stored_where_one_line_cannot_be(desk: Desk) -> None:
    heard = understand(desk, "cleaned 3 spears; cleaned 99 riders")
    before = desk.records()
    with pytest.raises(DataError, match="has 8 left"):
        log_understood(desk, heard)
    heard = understand(desk, "cleaned 3 spears, 50 min; cleaned 2 riders; 20 min in all")
    with pytest.raises(DataError, match="already take 50"):
        log_understood(desk, heard)
    with pytest.raises(DataError, match="nothing is said"):
        log_understood(desk, understand(desk, " "))
    assert desk.records() == before


def test_days_apart_have_no_total_together(desk: Desk) -> None:
    heard = understand(desk, "yesterday cleaned 3 spears; today cleaned 2 riders; 2 h in all")
    assert "several days" in str(heard.problem)


def test_turned_with_the_arrows(desk: Desk) -> None:
    heard = understand(desk, "cleaned 3 spears, 20 min")
    on = turned(desk, heard, 1)
    assert on.lines[0].step == "assembly"
    assert turned(desk, on, -1).lines[0].step == "cleaning"
    assert turned(desk, heard, -1).lines[0].step == heard.lines[0].steps[-1]
    other = turned(desk, heard, 1, "unit")
    assert (other.lines[0].unit, other.lines[0].models) == ("Riders", 3)
    assert turned(desk, other, 1, "unit").lines[0].unit == "Spears"
    assert turned(desk, understand(desk, ""), 1).lines == ()


def test_an_unclear_line_offers_units_to_turn_to(desk: Desk) -> None:
    add_unit(desk, RosterRow("Spears", 4, army="Other"))
    heard = understand(desk, "cleaned 2 spears")
    assert "Say the army too" in str(heard.problem)
    assert heard.lines[0].units[:2] == (UnitChoice("My army", "Spears"), UnitChoice("Other", "Spears"))
    chosen = understand(desk, "cleaned 2 spears", {0: Choice(UnitChoice("Other", "Spears"), "cleaning")})
    assert chosen.problem is None
    assert (chosen.lines[0].army, chosen.lines[0].models_of_unit) == ("Other", 4)


def test_washed_is_soap_until_there_is_colour(tmp_path: Path) -> None:
    desk = a_desk(tmp_path)
    add_unit(desk, RosterRow("Spears", 4, steps=("cleaning", "washing", "base colours", "shade")))
    assert understand(desk, "washed 2 spears").lines[0].step == "washing"
    mark(desk, "Spears", "1-2", "base colours", "done")
    assert understand(desk, "wash 2 spears").lines[0].step == "shade"


def test_without_a_log_or_a_unit_it_says_how_to_begin(tmp_path: Path) -> None:
    desk = a_desk(tmp_path)
    assert "lastcoat add" in str(understand(desk, "primed 3").problem)
    save_draft(desk, "primed 3")
    assert "lastcoat add" in str(understand(desk, "primed 3").problem)


def test_the_lamp_keeps_its_evening(desk: Desk) -> None:
    lamp_on(desk._replace(now=lambda: NOW.replace(hour=23)))
    late = desk._replace(now=lambda: NOW.replace(hour=23) + timedelta(hours=4))
    assert understand(late, "cleaned 3 spears").lines[0].day == TODAY


def test_a_draft_is_there_next_time_and_no_part_of_undo(desk: Desk) -> None:
    assert draft(desk) == ""
    save_draft(desk, "cleaned 3 sp")
    save_draft(desk, "cleaned 3 spears\n'quoted' 🐉")
    assert draft(Desk(desk.path)) == "cleaned 3 spears\n'quoted' 🐉"
    undo(desk)
    assert draft(desk) == "cleaned 3 spears\n'quoted' 🐉"
    clear_draft(desk)
    assert draft(desk) == ""


def test_a_draft_goes_in_the_moment_it_is_stored_and_another_stays(desk: Desk) -> None:
    save_draft(desk, "cleaned 3 spears ")
    log_understood(desk, understand(desk, "cleaned 3 spears"))
    assert draft(desk) == ""
    save_draft(desk, "cleaned 2 ri")
    log_understood(desk, understand(desk, "cleaned 3 spears"))
    assert draft(desk) == "cleaned 2 ri"


def test_no_draft_makes_no_log(tmp_path: Path) -> None:
    desk = a_desk(tmp_path)
    clear_draft(desk)
    assert draft(desk) == ""
    assert not list(tmp_path.iterdir())
    with pytest.raises(DataError, match="not UTF-8"):
        save_draft(desk, "\udc80")
