"""Sheets in and out: all or nothing, the same twice changes nothing, every problem with its row."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.desks import a_desk, with_spears
from tracker.domain.problems import DataError
from tracker.domain.progress import progress_of
from tracker.domain.routes import usual_route
from tracker.domain.rows import EveningRow, RosterRow
from tracker.domain.work import work_left
from tracker.sheets.evenings import read_evenings, write_evenings
from tracker.sheets.roster import read_roster, write_roster
from tracker.workbench.adding import add_unit
from tracker.workbench.desk import Desk
from tracker.workbench.evenings_in import import_evenings
from tracker.workbench.lines import Entry, log_line
from tracker.workbench.models import leave
from tracker.workbench.past import undo
from tracker.workbench.roster_in import import_roster
from tracker.workbench.whole import export_document, export_evenings, export_roster, import_document

DAY = date(2026, 3, 3)
TOO_LONG = (
    "with it the lines of 2026-03-02 take 61 minutes, but the evening had 60. "
    "Correct the minutes or the evening_minutes"
)
HOSTILE = (
    'quo"te', "a,b;c", "🐉\U0001f3f3\ufe0f\u200d\U0001f308", "\u202eright to left\u202c", "[markup]",
    "<script>alert(1)</script>", "=SUM(A1)", "'=x", "-1", "@x", "\x1b[31mred", "nul\x00in", "two\nlines",
    "x" * 500, "أرمادا", "';DROP TABLE line;--",
)  # fmt: skip


def row(unit: str = "Spears", step: str = "cleaning", number: int = 2, **more: Any) -> EveningRow:
    return EveningRow(DAY, unit, step, row=number)._replace(**more)


def refused(desk: Desk, *rows: EveningRow) -> list[str]:
    before = desk.records()
    with pytest.raises(DataError) as refusal:
        import_evenings(desk, rows)
    assert desk.records() == before
    return [str(problem) for problem in refusal.value.problems]


def test_an_unknown_unit_has_as_many_models_as_its_lines_show(tmp_path: Path) -> None:
    desk = a_desk(tmp_path)
    rows = [row(models=3), row(step="own step", models=5), row(models=4, finished=False), row(models=4)]
    done = import_evenings(desk, rows)
    assert done.sentence() == "Stored: 4 lines new."
    known = desk.records()
    assert known.units[0].open_ended
    assert known.units[0].route == ("cleaning", "own step")
    assert len(known.models) == 7
    assert known.steps[0].name == "own step"
    assert known.units[0].added_on == DAY
    assert [line.model_ids for line in known.lines] == [
        (1, 2, 3), (1, 2, 3, 4, 5), (4, 5, 6, 7), (4, 5, 6, 7),
    ]  # fmt: skip


def test_the_same_sheet_twice_changes_nothing(tmp_path: Path) -> None:
    desk = a_desk(tmp_path)
    rows = [row(), row(), row(models=2)]
    import_evenings(desk, rows)
    before = export_document(desk)
    assert (
        import_evenings(desk, rows).sentence() == "Nothing to store: nothing is new (3 lines known already)."
    )
    assert export_document(desk) == before
    assert import_evenings(desk, [*rows, row()]).added == 1
    undo(desk)
    assert export_document(desk) == before


def test_a_logged_line_is_known_by_what_it_says(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    log_line(desk, Entry("Spears", "cleaning", models=3, minutes=20.0, day=DAY, note="n"))
    assert import_evenings(desk, export_evenings(desk)).added == 0


def test_a_row_is_known_by_what_it_said_when_it_came(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    rows = [row(unit="SPEARS", step="Cleaning", models=0, minutes=10.0)]
    import_evenings(desk, rows)
    assert not desk.records().lines[0].finished
    assert import_evenings(desk, rows).added == 0
    assert import_evenings(desk, export_evenings(desk)).added == 0


def test_a_changed_total_is_taken_over_and_told(tmp_path: Path) -> None:
    desk = a_desk(tmp_path)
    import_evenings(desk, [row(evening_minutes=60.0), row(step="priming", evening_minutes=60.0)])
    rows = [
        row(evening_minutes=75.0, start="20:15"),
        row(step="priming", evening_minutes=75.0, start="20:15"),
    ]
    done = import_evenings(desk, rows)
    assert (done.added, done.changed, done.unchanged) == (0, 1, 2)
    assert "has 75 minutes now (before: 60)" in done.notes[0]
    assert desk.records().sessions[0][3:] == ("20:15", 75.0)
    undo(desk)
    assert desk.records().sessions[0][3:] == ("", 60.0)


def test_evenings_of_one_date_are_told_apart(tmp_path: Path) -> None:
    desk = a_desk(tmp_path)
    import_evenings(desk, [row(evening="a"), row(evening="b"), row(evening="b")])
    assert [session.label for session in desk.records().sessions] == ["a", "b"]


def test_newest_first_is_read_in_the_order_of_the_days(tmp_path: Path) -> None:
    desk = a_desk(tmp_path)
    newest_first = [row(date=date(2026, 3, 5), models=5), row(models=5, finished=False)]
    import_evenings(desk, newest_first)
    assert progress_of(desk.records()).is_done(1, "cleaning")
    assert len(desk.records().models) == 5


def test_a_dry_run_stores_nothing(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    before = export_document(desk)
    assert (
        import_evenings(desk, [row(), row(unit="new")], dry_run=True).sentence()
        == "Would store: 2 lines new."
    )
    assert import_roster(desk, [RosterRow("New", 3)], dry_run=True).sentence() == "Would store: 1 unit new."
    assert export_document(desk) == before


def test_every_problem_with_its_row_and_nothing_stored(tmp_path: Path) -> None:
    desk = with_spears(tmp_path, 5)
    said = refused(
        desk,
        row(number=2),
        row(number=3, date=date(2026, 3, 11)),
        row(number=4, models=5),
        row(number=5, unit=" "),
        row(number=6, step=""),
        row(number=7, date=date(2026, 3, 2), minutes=61.0, evening_minutes=60.0),
        row(number=8, unit="\udc80"),
        row(number=9, minutes=-5.0),
        row(number=10, models=-1),
        row(number=11, start="late"),
        row(number=12, evening_minutes=1441.0),
    )
    assert said == [
        "row 3: 2026-03-11 lies in the future. Today is 2026-03-10",
        'row 4: 5 models said, but "Spears" has 4 left for this step. Say 4 or fewer',
        "row 5: the name is empty. Say a name",
        "row 6: the name is empty. Say a name",
        f"row 7: {TOO_LONG}",
        "row 8: the text is not UTF-8. Type it again",
        "row 9: -5 minutes cannot be. Say 0 to 1440 minutes",
        "row 10: -1 models cannot be. Say 0 or more",
        'row 11: "late" is no time of day. Write it like 20:15',
        "row 12: 1441 minutes cannot be. Say 0 to 1440 minutes",
    ]


def test_the_good_rows_can_be_kept(tmp_path: Path) -> None:
    desk = with_spears(tmp_path, 5)
    done = import_evenings(desk, [row(number=2), row(number=3, models=6), row(number=4)], keep_good=True)
    assert (done.added, [problem.where for problem in done.problems]) == (2, ["row 3"])


def test_a_total_that_stored_lines_exceed_is_a_problem(tmp_path: Path) -> None:
    desk = a_desk(tmp_path)
    import_evenings(desk, [row(minutes=50.0)])
    assert "row 2: with it the lines" in refused(desk, row(minutes=50.0, evening_minutes=40.0))[0]


def test_a_step_off_the_route_is_added_and_told(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    done = import_evenings(desk, [row(step="washing"), row(step="mud")])
    assert done.notes == (
        '"washing" is now on the route of "Spears" (row 2)',
        '"mud" is now on the route of "Spears" (row 2)',
    )
    route = desk.records().units[0].route
    assert (route[1], route[-1]) == ("washing", "mud")


def test_a_unit_whose_army_is_not_said(tmp_path: Path) -> None:
    desk = a_desk(tmp_path)
    add_unit(desk, RosterRow("Riders", 5, army="North", added=DAY))
    done = import_evenings(desk, [row(unit="riders")])
    assert done.notes == ('"riders" was taken as the one of "North"',)
    assert len(desk.records().units) == 1
    assert import_evenings(desk, export_evenings(desk)).added == 0


def test_earlier_evenings_take_a_unit_back_in_time(tmp_path: Path) -> None:
    desk = with_spears(tmp_path, 3)
    import_evenings(desk, [row(date=date(2025, 1, 1))])
    then = desk.records().as_of(date(2025, 1, 1))
    assert (len(then.models), len(then.lines)) == (3, 1)


def test_a_roster_makes_units_and_closes_open_ended_ones(tmp_path: Path) -> None:
    desk = a_desk(tmp_path)
    import_evenings(desk, [row(models=2), row(step="mud")])
    done = import_roster(desk, [RosterRow("spears", 10, row=2), RosterRow("Riders", 5, row=3)])
    assert (done.added, done.changed) == (1, 1)
    known = desk.records()
    assert not known.units[0].open_ended
    assert known.units[0].route == (*usual_route("infantry", "table-top"), "mud")
    assert [unit.models for unit in work_left(known)] == [10, 5]


def test_a_roster_twice_changes_nothing(tmp_path: Path) -> None:
    desk = a_desk(tmp_path)
    rows = [
        RosterRow("Spears", 20, points=1.5, goal_date=DAY, order=1, steps=("mud", "varnish"), added=DAY),
        RosterRow("Riders", 5, kind="cavalry", finish_line="varnish", base="25x50"),
    ]
    import_roster(desk, rows)
    before = export_document(desk)
    assert import_roster(desk, rows).unchanged == 2
    assert import_roster(desk, export_roster(desk)).unchanged == 2
    assert export_document(desk) == before


def test_a_roster_changes_only_the_columns_it_has(tmp_path: Path) -> None:
    desk = a_desk(tmp_path)
    add_unit(desk, RosterRow("Riders", 5, kind="cavalry", points=80.0, note="n"))
    done = import_roster(desk, [RosterRow("Riders", 6, points=90.0)], columns=("unit", "models", "points"))
    assert done.notes == ('"Riders": 5 → 6 models, points',)
    unit = desk.records().units[0]
    assert (unit.kind, unit.points, unit.note) == ("cavalry", 90.0, "n")
    import_roster(desk, [RosterRow("Riders", 6)], columns=("unit", "models", "points", "note"))
    assert desk.records().units[0].points is None


def test_fewer_models_take_only_untouched_ones(tmp_path: Path) -> None:
    desk = with_spears(tmp_path, 10)
    log_line(desk, Entry("Spears", "cleaning", models=4))
    import_roster(desk, [RosterRow("Spears", 4)])
    assert len(desk.records().models) == 4
    with pytest.raises(DataError, match=r"row 7: models: .* has 4 models, 4 of them worked on"):
        import_roster(desk, [RosterRow("Spears", 3, row=7)])


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        ([RosterRow("A", 1, row=2), RosterRow("a ", 1, row=3)], 'row 3: unit: "a" stands in row 2 already'),
        ([RosterRow("A", 0, row=2)], "row 2: models: a new unit needs models"),
        ([RosterRow("A", -1, row=2)], "row 2: models: -1 models cannot be"),
        ([RosterRow("Spears", 20, finish_line="mud", row=2)], "row 2: finish_line"),
        ([RosterRow("A", 1, finish_line="mud", row=2)], "row 2: finish"),
    ],
)
def test_rosters_that_cannot_be(tmp_path: Path, rows: list[RosterRow], said: str) -> None:
    desk = with_spears(tmp_path)
    before = desk.records()
    with pytest.raises(DataError, match=said.replace("-", r"\-")):
        import_roster(desk, rows)
    assert desk.records() == before


def test_the_day_it_came_in_is_never_behind_its_first_evening(tmp_path: Path) -> None:
    desk = a_desk(tmp_path)
    import_evenings(desk, [row(models=2)])
    rows = [RosterRow("Spears", 5, added=date(2026, 3, 8))]
    import_roster(desk, rows)
    assert desk.records().units[0].added_on == DAY
    assert import_roster(desk, rows).unchanged == 1
    import_roster(desk, [RosterRow("Spears", 5, added=date(2026, 1, 1))])
    known = desk.records()
    assert known.units[0].added_on == date(2026, 1, 1)
    assert [model.added_on for model in known.models] == [date(2026, 1, 1)] * 2 + [date(2026, 3, 8)] * 3


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_names_pass_unharmed(tmp_path: Path, name: str) -> None:
    desk = a_desk(tmp_path)
    add_unit(desk, RosterRow(name, 3, army=name, goal=name, note=name, added=DAY))
    import_evenings(desk, [row(unit=name, army=name, step=name, note=name, evening=name)])
    log_line(desk, Entry(name, name, models=1, day=DAY))
    leave(desk, name, "3", "sold")
    (tmp_path / "other").mkdir()
    other = a_desk(tmp_path / "other")
    evenings = read_evenings(write_evenings(export_evenings(desk)), today=desk.today())
    roster = read_roster(write_roster(export_roster(desk)), today=desk.today())
    assert evenings.problems == roster.problems == ()
    import_roster(other, roster.rows)
    import_evenings(other, evenings.rows)
    assert export_evenings(other) == export_evenings(desk)
    assert export_roster(other)[0] == export_roster(desk)[0]
    assert export_evenings(desk)[0].unit == name.strip()
    undo(desk)


def test_everything_goes_into_an_empty_log_exactly(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    log_line(desk, Entry("Spears", "cleaning", minutes=0.1))
    (tmp_path / "other").mkdir()
    other = a_desk(tmp_path / "other")
    import_document(other, export_document(desk))
    assert export_document(other) == export_document(desk)
    assert other.records() == desk.records()
    undo(other)
    assert other.records().units == ()


NAMES = st.sampled_from(("a", "b", "ä"))


@settings(max_examples=20, deadline=None)
@given(
    st.lists(
        st.builds(
            EveningRow,
            date=st.dates(date(2026, 3, 1), date(2026, 3, 4)),
            unit=NAMES,
            step=st.sampled_from(("cleaning", "varnish", "mud")),
            army=NAMES,
            models=st.integers(0, 4),
            minutes=st.none() | st.floats(0, 100),
            finished=st.booleans(),
            guess_minutes=st.none() | st.floats(0.001, 1000),
            note=st.text("ab=,\x00", max_size=4),
            evening=st.sampled_from(("", "x")),
            start=st.just(""),
            evening_minutes=st.none(),
            row=st.just(0),
        ),
        max_size=12,
    )
)
def test_any_evenings_come_out_as_they_went_in(
    tmp_path_factory: pytest.TempPathFactory, rows: list[EveningRow]
) -> None:
    one, two = a_desk(tmp_path_factory.mktemp("one")), a_desk(tmp_path_factory.mktemp("two"))
    import_evenings(one, rows)
    assert import_evenings(one, rows).added == 0
    out = export_evenings(one)
    assert len(out) == len(rows)
    import_evenings(two, out)
    assert export_evenings(two) == out
    assert import_evenings(one, out).added == 0
