"""The verbs that answer, on a small log and on none."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from tests.workbench.answering import TODAY, empty_desk, small_desk
from tracker import pace
from tracker.domain.answers import LEVELS, PlannedLine
from tracker.domain.problems import DataError, UsageError
from tracker.domain.records import Records
from tracker.pace.pace import Pace
from tracker.workbench import answers, learning
from tracker.workbench.desk import Desk
from tracker.workbench.lines import Entry, log_line
from tracker.workbench.report_out import write_report


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Desk:
    return small_desk(tmp_path_factory.mktemp("desk"))


def test_tonight(desk: Desk) -> None:
    answer = answers.tonight_list(desk)
    first = answer.ready[0]
    assert (first.unit, first.step, first.models, first.in_hand) == ("Spears", "base colours", 4, 2)
    assert ("Riders", "cleaning") in [(line.unit, line.step) for line in answer.ready]
    assert answer.models_left == 6


def test_forecast_knows_units_and_the_army(desk: Desk) -> None:
    answer = answers.forecast(desk, draws=200)
    assert [(unit.unit, unit.models) for unit in answer.units] == [("Spears", 4), ("Riders", 2)]
    assert [(army.army, army.models) for army in answer.armies] == [("Host", 6)]
    assert answer.as_of == TODAY
    assert answer.units[0].chance_by_goal is not None
    assert answer == answers.forecast(desk, draws=200)


def test_as_of_hides_what_came_later(desk: Desk) -> None:
    answer = answers.forecast(desk, date(2026, 9, 15), draws=200)
    assert [unit.unit for unit in answer.units] == ["Spears"]


def test_backlog(desk: Desk) -> None:
    answer = answers.backlog(desk, draws=200)
    assert answer.days[-1].models == 6


def test_pace_is_per_model(desk: Desk) -> None:
    answer = answers.pace_answer(desk)
    by_step = {step.step: step for step in answer.steps}
    assert by_step["cleaning"].lines == 1
    assert by_step["cleaning"].source == "trade"
    # Four models took 40 minutes once; the trade says 7 each; four other lines were slow too.
    assert 7 < by_step["cleaning"].minutes_per_model[LEVELS.index(50)] < 12
    assert [doubt.code for doubt in answer.doubts] == ["little-history"]
    assert list(by_step)[:2] == ["cleaning", "dry fit"]


def test_estimate_is_joint(desk: Desk) -> None:
    lines = [PlannedLine("My army", "riders", "priming", 2), PlannedLine("My army", "New ones", "shade", 3)]
    answer = answers.estimate(desk, lines)
    assert [(line.unit, line.models) for line in answer.lines] == [("Riders", 2), ("New ones", 3)]
    # Lines share the person and the drift and have surprises of their own: the total's range is
    # narrower than the sum of the ranges, and wider than independent lines would give.
    widths = [line.minutes[-2] - line.minutes[1] for line in answer.lines]
    total = answer.total[-2] - answer.total[1]
    assert (widths[0] ** 2 + widths[1] ** 2) ** 0.5 < total < sum(widths)
    assert "new-step" in [doubt.code for doubt in answer.doubts]


def test_the_kept_pace_is_used_until_the_log_changes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    here = small_desk(tmp_path / "kept")
    learned: list[int] = []
    learn = pace.learn

    def counted(records: Records) -> Pace:
        learned.append(len(records.lines))
        return learn(records)

    monkeypatch.setattr(learning, "learn", counted)
    first = answers.pace_answer(here)
    assert answers.pace_answer(here) == first
    assert learned == [5]
    answers.pace_answer(here, date(2026, 10, 7))
    assert learned == [5, 2]
    log_line(here, Entry("Spears", "base colours", models=1, minutes=20, day=TODAY))
    assert answers.pace_answer(here) != first
    assert learned == [5, 2, 6]


def test_a_forecast_is_worked_out_once_while_nothing_changes(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    here = small_desk(tmp_path / "once")
    first = answers.forecast(here, draws=200)
    course = answers.backlog(here, draws=200)

    def never(*_: object) -> None:
        raise AssertionError

    monkeypatch.setattr(answers, "learn_pace", never)
    assert answers.forecast(here, draws=200) == first
    assert answers.backlog(here, draws=200) == course
    with pytest.raises(AssertionError):
        answers.forecast(here, draws=201)
    log_line(here, Entry("Spears", "base colours", models=1, minutes=20, day=TODAY))
    with pytest.raises(AssertionError):
        answers.forecast(here, draws=200)


def test_estimate_lends_kind_and_practice(desk: Desk) -> None:
    from tracker.workbench.answers_estimate import as_known

    known = desk.records()
    (line,) = as_known(known, [PlannedLine("My army", "RIDERS", "priming", 2)], ())
    assert (line.army, line.unit, line.kind, line.standard) == ("Host", "Riders", "cavalry", "good")
    (line,) = as_known(known, [PlannedLine("Host", "Spears", "priming", 2, kind="monster")], ("army", "kind"))
    assert (line.kind, line.done_before) == ("monster", 4)
    (line,) = as_known(known, [PlannedLine("Other", "Spears", "priming", 2)], ("army",))
    assert (line.army, line.done_before) == ("Other", 0)


def test_nothing_to_estimate_takes_no_time(desk: Desk) -> None:
    assert answers.estimate(desk, []).total == (0.0,) * 19


def test_the_page_is_written_whole_and_over_itself(desk: Desk, tmp_path: Path) -> None:
    page = tmp_path / "page.html"
    for _ in range(2):
        assert write_report(desk, str(page), draws=200).page == page
    assert page.read_text(encoding="utf-8").startswith("<!doctype html>")
    assert [path.name for path in tmp_path.iterdir()] == ["page.html"]


def test_the_page_never_lands_on_something_else(desk: Desk, tmp_path: Path) -> None:
    notes = tmp_path / "notes.txt"
    notes.write_text("my recipes", encoding="utf-8")
    for path in (str(notes), str(tmp_path), desk.path):
        with pytest.raises(UsageError):
            write_report(desk, path)
    assert notes.read_text(encoding="utf-8") == "my recipes"


def test_a_folder_that_is_not_there_is_an_error_of_the_system(desk: Desk, tmp_path: Path) -> None:
    with pytest.raises(FileNotFoundError):
        write_report(desk, str(tmp_path / "no" / "page.html"), draws=200)


def test_an_empty_log_answers_all_the_same(tmp_path: Path) -> None:
    desk = empty_desk(tmp_path)
    assert answers.forecast(desk, draws=200).units == ()
    assert answers.backlog(desk, draws=200).days == ()
    assert answers.pace_answer(desk).steps == ()
    assert not answers.tonight_list(desk).has_units
    assert not Path(desk.path).exists()


def test_a_planned_sheet_with_problems_is_refused_with_all_of_them(tmp_path: Path) -> None:
    sheet = tmp_path / "planned.csv"
    sheet.write_text("unit,step,models\nSpears,shade,-1\n,shade,2\n", encoding="utf-8")
    with pytest.raises(DataError) as refusal:
        answers.read_planned_sheet(str(sheet))
    assert [problem.where for problem in refusal.value.problems] == ["row 2", "row 3"]
    with pytest.raises(DataError):
        answers.read_planned_sheet(str(tmp_path / "missing.csv"))
