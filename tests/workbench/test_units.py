"""Adding units, marking and taking away models, changing routes."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from tests.desks import a_desk, with_spears
from tracker.domain.problems import DataError
from tracker.domain.progress import progress_of
from tracker.domain.routes import usual_route
from tracker.domain.rows import RosterRow
from tracker.domain.work import work_left
from tracker.workbench.adding import Figure, add_spares, add_unit
from tracker.workbench.lines import Entry, log_line
from tracker.workbench.models import leave, mark, number_ranges, read_numbers
from tracker.workbench.past import undo
from tracker.workbench.routing import RouteWish, change_route


def test_a_unit_gets_its_models_and_usual_route(tmp_path: Path) -> None:
    desk = a_desk(tmp_path)
    row = RosterRow("Riders", 8, kind="cavalry", material="metal", standard="good", files=4, ranks=2)
    added = add_unit(desk, row)
    assert added.steps == usual_route("cavalry", "good", "metal", ranked=True)
    assert added.sentence().startswith("Added: 8 models of Riders (My army). ")
    (unit,) = desk.records().units
    assert (unit.kind, unit.material, unit.standard, unit.files, unit.ranks) == (
        "cavalry", "metal", "good", 4, 2,
    )  # fmt: skip


def test_second_hand_models_come_in_with_steps_behind_them(tmp_path: Path) -> None:
    desk = a_desk(tmp_path)
    added = add_unit(desk, RosterRow("Riders", 2), already="undercoated")
    behind = added.steps[: added.steps_behind]
    assert behind[-1] == "priming"
    progress = progress_of(desk.records())
    assert all(progress.is_done(model, step) for model in (1, 2) for step in behind)
    assert work_left(desk.records())[0].lines[0].step == "base colours"


def test_more_models_join_a_unit(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    added = add_unit(desk, RosterRow("spears", 5), more=True, already="cleaning")
    assert (added.models, added.models_of_unit) == (5, 25)
    assert desk.records().models[-1].number == 25


def test_spares_are_no_backlog(tmp_path: Path) -> None:
    desk = with_spears(tmp_path, 1)
    assert "Spares are kept" in add_spares(desk, 3, kind="cavalry", note="from a box").sentence()
    known = desk.records()
    assert [model.unit_id for model in known.models] == [1, None, None, None]
    assert sum(unit.models for unit in work_left(known)) == 1


@pytest.mark.parametrize(
    ("row", "said"),
    [
        (RosterRow("Spears", 5), "--unit: there is a unit"),
        (RosterRow("New", 0), "--models: 0 models cannot be"),
        (RosterRow("New", 10_001), "--models: 10001"),
        (RosterRow("  ", 5), "--unit: the name is empty"),
        (RosterRow("New", 5, base="huge"), '--base: "huge" is not a base size'),
        (RosterRow("New", 5, steps=("cleaning", "Cleaning ")), "stands there twice"),
        (RosterRow("New", 5, finish_line="varnsh"), 'Did you mean "varnish"'),
        (RosterRow("New", 5, guess_minutes=-1.0), "--guess: -1"),
        (RosterRow("New", 5, files=0), "--files: 0"),
        (RosterRow("New", 5, points=float("nan")), "--points: nan"),
        (RosterRow("New", 5, goal="\udc80"), "--goal: the text is not UTF-8"),
    ],
)
def test_what_no_unit_can_be(tmp_path: Path, row: RosterRow, said: str) -> None:
    desk = with_spears(tmp_path)
    before = desk.records()
    with pytest.raises(DataError, match=said):
        add_unit(desk, row)
    assert desk.records() == before


def test_already_and_names_must_fit(tmp_path: Path) -> None:
    desk = a_desk(tmp_path)
    with pytest.raises(DataError, match="--already"):
        add_unit(desk, RosterRow("New", 1), already="nonsense")
    with pytest.raises(DataError, match="2 names for 1 models"):
        add_unit(desk, RosterRow("New", 1), figures=[Figure("a"), Figure("b")])
    with pytest.raises(DataError, match="there is no unit"):
        add_unit(desk, RosterRow("New", 1), more=True)
    assert desk.records().units == ()


def test_marks_win_over_lines(tmp_path: Path) -> None:
    desk = with_spears(tmp_path, 5)
    log_line(desk, Entry("Spears", "cleaning", models=5))
    done = mark(desk, "Spears", "2-3, 5", "cleaning", "not yet")
    assert done.sentence() == "Stored: 3 models of Spears: cleaning not yet (Tue 10 Mar). Numbers: 2-3, 5."
    assert log_line(desk, Entry("Spears", "cleaning", models="all")).models == 3
    undo(desk)
    undo(desk)
    assert work_left(desk.records())[0].lines[0].step == "assembly"


def test_models_leave_and_are_no_backlog(tmp_path: Path) -> None:
    desk = with_spears(tmp_path, 5)
    leave(desk, "Spears", "4-5", "sold", day=date(2026, 3, 5))
    known = desk.records()
    assert work_left(known)[0].models == 3
    assert [model.left_how for model in known.models] == ["", "", "", "sold", "sold"]
    with pytest.raises(DataError, match=r'"Spears" has no model 4. It has 1-3'):
        leave(desk, "Spears", "4", "sold")


@pytest.mark.parametrize(
    ("models", "step", "state", "said"),
    [
        ("x", "cleaning", "done", '"x" are no models'),
        ("3-1", "cleaning", "done", "has no model"),
        ("99", "cleaning", "done", "has no model 99. It has 1-5"),
        ("all", "nonsense", "done", "--step"),
        ("all", "cleaning", "wet", "is no state"),
    ],
)
def test_marks_that_cannot_be(tmp_path: Path, models: str, step: str, state: str, said: str) -> None:
    desk = with_spears(tmp_path, 5)
    with pytest.raises(DataError, match=said):
        mark(desk, "Spears", models, step, state)
    assert desk.records().marks == ()


def test_ways_to_leave(tmp_path: Path) -> None:
    with pytest.raises(DataError, match="sold, given away, broken"):
        leave(with_spears(tmp_path), "Spears", "1", "lost")


def test_a_model_by_its_name(tmp_path: Path) -> None:
    desk = a_desk(tmp_path)
    add_unit(desk, RosterRow("Guard", 3), figures=[Figure("Old Tom")])
    assert mark(desk, "Guard", "old tom", "cleaning", "done").numbers == (1,)
    with pytest.raises(DataError, match='Did you mean "Old Tom"'):
        mark(desk, "Guard", "old tim", "cleaning", "done")


def test_numbers_in_short() -> None:
    assert read_numbers("8, 1-3") == [1, 2, 3, 8]
    assert read_numbers("1-") is None
    assert read_numbers("٣") is None
    assert number_ranges([1, 2, 3, 8]) == "1-3, 8"


def test_a_route_is_shown_and_changed(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    now = change_route(desk, "Spears", RouteWish())
    assert not now.changed
    assert now.sentence().endswith("tufts (finish line).")
    wish = RouteWish(
        dropped=("tufts",), added=(("shields", "assembly"), ("sealing", "")), finish_line="varnish"
    )
    steps = change_route(desk, "Spears", wish).steps
    assert steps[1:5] == ("assembly", "shields", "base texture", "sealing")
    assert "tufts" not in steps
    (unit,) = desk.records().units
    assert (unit.route, unit.finish_line) == (steps, "varnish")
    undo(desk)
    assert desk.records().units[0].route == now.steps


def test_a_renamed_step_keeps_its_progress(tmp_path: Path) -> None:
    desk = with_spears(tmp_path, 2)
    log_line(desk, Entry("Spears", "shade", models=1))
    mark(desk, "Spears", "2", "shade", "skipped")
    change_route(desk, "Spears", RouteWish(finish_line="shade"))
    change_route(desk, "Spears", RouteWish(renamed=(("shade", "inks"),)))
    known = desk.records()
    progress = progress_of(known)
    assert progress.is_done(1, "inks")
    assert progress.is_done(2, "inks")
    assert known.units[0].finish_line == "inks"
    assert known.steps[0][1:3] == ("inks", "shade")


def test_a_wait_of_ones_own(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    change_route(desk, "Spears", RouteWish(added=(("mud", ""),), waits=(("varnish", 48.0), ("mud", 2.0))))
    change_route(desk, "Spears", RouteWish(waits=(("varnish", 24.0),)))
    assert progress_of(desk.records()).own_waits == {"varnish": 24.0, "mud": 2.0}


@pytest.mark.parametrize(
    ("wish", "said"),
    [
        (RouteWish(dropped=("nonsense",)), "not on the route"),
        (RouteWish(renamed=(("shade", "varnish"),)), "on the route already"),
        (RouteWish(added=(("shade", ""),)), "on the route already"),
        (RouteWish(steps=("cleaning", "cleaning")), "twice"),
        (RouteWish(finish_line="nonsense"), "not on the route"),
        (RouteWish(waits=(("shade", -1.0),)), "-1 hours cannot be"),
        (RouteWish(steps=("cleaning",), dropped=("cleaning",)), "no step left"),
    ],
)
def test_routes_that_cannot_be(tmp_path: Path, wish: RouteWish, said: str) -> None:
    desk = with_spears(tmp_path)
    before = desk.records()
    with pytest.raises(DataError, match=said):
        change_route(desk, "Spears", wish)
    assert desk.records() == before
