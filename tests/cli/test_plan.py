"""Declared evenings on the command line: said, shown, dropped, undone; and what they do to the dates."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner

from tests.desks import a_desk, with_spears
from tracker.cli.main import main
from tracker.workbench.answers import forecast
from tracker.workbench.declared import plan_away, plan_evenings, plan_once, plans
from tracker.workbench.desk import Desk
from tracker.workbench.lines import Entry, log_line
from tracker.workbench.past import redo, undo


def run(desk: Desk, *words: str) -> tuple[int, str, str]:
    done = CliRunner().invoke(main, ["plan", *words, "--db", desk.path], obj=desk)
    return done.exit_code, done.stdout, done.stderr


def test_evenings_are_said_shown_and_dropped(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    assert run(desk, "show")[1].startswith("Nothing is planned.")
    assert run(desk, "evenings", "tue and thu", "--until", "2026-06-30")[1] == (
        "Stored: evenings planned every Tuesday and Thursday until Tue 30 Jun.\n"
    )
    run(desk, "once", "2026-03-14", "--minutes", "240", "--note", "hobby day")
    run(desk, "away", "2026-04-01", "2026-04-05")
    shown = run(desk, "show")[1]
    assert " 1  evenings every Tuesday and Thursday until Tue 30 Jun" in shown
    assert " 2  an evening on Sat 14 Mar, 240 min (hobby day)" in shown
    assert " 3  away Wed 1 Apr to Sun 5 Apr" in shown
    assert "Next: Tue 10 Mar 2026, Thu 12 Mar 2026, Sat 14 Mar 2026" in shown
    assert run(desk, "drop", "2")[1].startswith("Stored: no longer an evening on Sat 14 Mar")
    assert len(json.loads(run(desk, "show", "--json")[1])["declared"]) == 2
    undo(desk)
    assert len(desk.records().declared) == 3
    redo(desk)
    assert len(desk.records().declared) == 2


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("evenings", "soon"), '"soon" is not understood'),
        (("evenings", "FREQ=HOURLY"), "is not a rule that can be read"),
        (("evenings", "mon", "--from", "2026-05-01", "--until", "2026-04-01"), "they never come"),
        (("evenings", "mon", "--from", "1901-01-01"), "too far off"),
        (("once", "2026-03-01"), "is past"),
        (("once", "2026-03-20", "--minutes", "0"), "cannot be"),
        (("once", "2026-03-20", "--minutes", "nan"), "cannot be"),
        (("once", "20.3."), "is no date"),
        (("away", "2026-04-05", "2026-04-01"), "is before"),
        (("away", "2026-04-05", "2028-04-01"), "longer than a year"),
        (("drop", "1"), "is not in the list"),
    ],
)
def test_a_mistake_is_one_line_and_stores_nothing(tmp_path: Path, words: tuple[str, ...], said: str) -> None:
    desk = with_spears(tmp_path)
    status, out, err = run(desk, *words)
    assert status in (1, 2)
    assert out == ""
    assert said in err
    assert err.count("\n") == 1
    assert desk.records().declared == ()


def test_a_new_log_is_made_for_a_plan(tmp_path: Path) -> None:
    desk = a_desk(tmp_path)
    plan_evenings(desk, "every Tuesday")
    assert len(plans(desk).coming) == 4


def test_how_well_plans_are_kept_is_learned_from_those_that_came(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    plan_evenings(desk, "every day")
    later = desk._replace(now=lambda: desk.now().replace(day=14))
    for day in (10, 11, 12):
        log_line(later, Entry("Spears", "cleaning", models=0, minutes=30.0, day=date(2026, 3, day)))
    answer = plans(later)
    assert (answer.kept, answer.planned) == (3, 4)  # the 13th was not kept, the 14th is not over
    assert 0.7 < answer.kept_share < 0.8
    assert "3 of 4 planned evenings took place" in run(later, "show")[1]


def test_plans_move_the_dates_both_ways(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    log_line(desk, Entry("Spears", "cleaning", models=2, minutes=60.0))

    def middle() -> date:
        day = forecast(desk).units[0].ready[9]
        assert day is not None
        return day

    usual = middle()
    plan_away(desk, date(2026, 3, 11), date(2026, 4, 20))
    assert middle() > usual
    undo(desk)
    assert middle() == usual
    plan_evenings(desk, "every day")
    eager = middle()
    assert eager < usual
    plan_once(desk, date(2026, 3, 14), minutes=600)
    assert middle() <= eager
