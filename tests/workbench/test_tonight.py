"""Tonight: what is ready, what is nearest, and what can be finished in the time there is."""

from __future__ import annotations

import subprocess
import sys
from datetime import date, datetime
from pathlib import Path

import numpy as np
import pytest

from tests.desks import a_desk, with_spears
from tracker.domain.answers import PlannedLine
from tracker.domain.problems import DataError
from tracker.domain.rows import RosterRow
from tracker.pace.priors import set_up_share
from tracker.report.tonight_answer import buys_words, tonight_json, tonight_text
from tracker.workbench.adding import add_unit
from tracker.workbench.answers import forecast, learn_pace
from tracker.workbench.desk import Desk
from tracker.workbench.lines import Entry, log_line
from tracker.workbench.models import mark
from tracker.workbench.tonight import LIKELY, tonight

STEPS = ("cleaning", "priming", "base colours")


def a_table(folder: Path) -> Desk:
    """Four spears, cleaned; two riders, one of them cleaned; a captain not begun."""
    desk = a_desk(folder)
    march = date(2026, 3, 1)
    add_unit(desk, RosterRow("Spears", 4, steps=STEPS, added=march, goal_date=date(2026, 5, 1)))
    add_unit(desk, RosterRow("Riders", 2, steps=STEPS, added=march, goal_date=date(2026, 4, 1)))
    add_unit(desk, RosterRow("Captain", 1, steps=STEPS, added=march, goal_date=date(2026, 2, 1)))
    log_line(desk, Entry("Spears", "cleaning", models=4, minutes=30.0, day=date(2026, 3, 8)))
    log_line(desk, Entry("Riders", "cleaning", models=1, minutes=12.0, day=date(2026, 3, 9), note="slow"))
    return desk


def test_an_empty_desk_has_nothing_tonight(tmp_path: Path) -> None:
    answer = tonight(a_desk(tmp_path))
    assert (answer.has_units, answer.left_off, answer.ready, answer.nearest, answer.goal) == (
        False, None, (), None, None,
    )  # fmt: skip
    assert "lastcoat add" in tonight_text(answer)


def test_where_it_was_left_off_is_the_most_recent_evening(tmp_path: Path) -> None:
    desk = a_table(tmp_path)
    log_line(desk, Entry("Captain", "cleaning", models=0, minutes=5.0, day=date(2026, 3, 2)))
    last = tonight(desk).left_off
    assert last is not None
    assert (last.unit, last.step, last.models, last.models_left, last.note) == (
        "Riders", "cleaning", 1, 1, "slow",
    )  # fmt: skip


def test_dry_weather_waits_apart(tmp_path: Path) -> None:
    answer = tonight(a_table(tmp_path))
    assert {(line.unit, line.step) for line in answer.weather} == {
        ("Spears", "priming"),
        ("Riders", "priming"),
    }
    assert {(line.unit, line.step) for line in answer.ready} == {
        ("Riders", "cleaning"),
        ("Captain", "cleaning"),
    }


def test_what_is_drying_says_until_when(tmp_path: Path) -> None:
    desk = a_table(tmp_path)
    mark(desk, "Spears", "all", "priming", "done")
    (line,) = tonight(desk).drying
    # Priming is taken as done at 22:00 and waits two hours: common practice, no source.
    assert (line.unit, line.step, line.until) == ("Spears", "base colours", datetime(2026, 3, 11, 0, 0))


def test_a_step_that_needs_no_wait_is_followed_at_once(tmp_path: Path) -> None:
    desk = with_spears(tmp_path, 2)
    log_line(desk, Entry("Spears", "cleaning", models=2))
    assert [line.step for line in tonight(desk).ready] == ["assembly"]


def test_nearest_its_finish_line_is_the_greatest_share_done(tmp_path: Path) -> None:
    desk = a_table(tmp_path)
    near = tonight(desk).nearest
    assert near is not None
    # 4 of 12 cells beat 1 of 6; the captain is not begun.
    assert (near.unit, near.cells, near.cells_left, near.models_left) == ("Spears", 12, 8, 4)
    mark(desk, "Riders", "all", "priming", "done")
    near = tonight(desk).nearest
    assert near is not None
    assert near.unit == "Riders"


def test_the_next_goal_has_a_chance_only_from_a_kept_forecast(tmp_path: Path) -> None:
    desk = a_table(tmp_path)
    goal = tonight(desk).goal
    assert goal is not None
    assert (goal.unit, goal.goal_date, goal.chance, goal.fresh) == ("Riders", date(2026, 4, 1), None, False)
    kept = next(one for one in forecast(desk, draws=2000).units if one.unit == "Riders")
    goal = tonight(desk).goal
    assert goal is not None
    assert (goal.chance, goal.fresh) == (kept.chance_by_goal, True)
    log_line(desk, Entry("Captain", "cleaning", minutes=5.0))
    goal = tonight(desk).goal
    assert goal is not None
    assert (goal.chance, goal.fresh) == (kept.chance_by_goal, False)


def test_without_a_time_nothing_heavy_is_loaded(tmp_path: Path) -> None:
    desk = a_table(tmp_path)
    script = (
        "import sys\nfrom tracker.workbench.desk import Desk\nfrom tracker.workbench.tonight import tonight\n"
        "tonight(Desk(sys.argv[1]))\nassert 'numpy' not in sys.modules\ntonight(Desk(sys.argv[1]), 45)\n"
    )
    subprocess.run([sys.executable, "-c", script, desk.path], check=True)


@pytest.mark.parametrize("minutes", [20.0, 60.0, 240.0])
def test_as_many_models_as_are_likely_and_no_more(tmp_path: Path, minutes: float) -> None:
    desk = a_desk(tmp_path)
    add_unit(desk, RosterRow("Horde", 60, steps=STEPS, added=date(2026, 3, 1)))
    (one,) = tonight(desk, minutes).finishable
    pace = learn_pace(desk, desk.records())

    def chance(models: int) -> float:
        # Drawn anew with another seed and many draws, past the search.
        line = PlannedLine("My army", "Horde", "cleaning", models)
        return float((pace.draw([line], np.random.default_rng(99), 20_000) <= minutes).mean())

    assert one.chance >= LIKELY or one.models == 1
    assert chance(one.models) == pytest.approx(one.chance, abs=0.06)
    if one.models > 1:
        assert chance(one.models + 2) < LIKELY + 0.06


def test_what_makes_models_table_ready_comes_first(tmp_path: Path) -> None:
    desk = a_table(tmp_path)
    mark(desk, "Riders", "1", "priming", "done", day=date(2026, 3, 9))
    found = tonight(desk, 240).finishable
    assert (found[0].unit, found[0].step, found[0].makes_ready) == ("Riders", "base colours", 1)
    assert found[-1].gate == "dry weather" or found[-1].chance < LIKELY
    likely = [one.chance >= LIKELY for one in found]
    assert likely == sorted(likely, reverse=True)


def test_hardly_anything_is_finished_in_a_minute(tmp_path: Path) -> None:
    answer = tonight(a_table(tmp_path), 1)
    assert all(one.chance < LIKELY for one in answer.finishable)
    for minutes in (0, -5, 1441, float("nan")):
        with pytest.raises(DataError, match="minutes cannot be"):
            tonight(a_desk(tmp_path), minutes)


def test_in_words_and_as_json(tmp_path: Path) -> None:
    desk = a_table(tmp_path)
    forecast(desk)
    answer = tonight(desk, 240)
    text = tonight_text(answer)
    for words in ("Left off on 9 Mar 2026: cleaning, 1 model of Riders; 1 left for this step. Note: slow",
                  "You can finish in 4 h:", "needs dry weather",
                  "Nearest its finish line: Spears, 4 of 12 steps done",
                  "Next goal: Riders by 1 Apr 2026: chance"):  # fmt: skip
        assert words in " ".join(text.split()), text
    assert max(map(len, text.splitlines())) <= 80
    document = tonight_json(answer)
    assert document["minutes"] == 240
    assert isinstance(document["left_off"], dict)
    assert document["left_off"]["day"] == "2026-03-09"


def test_what_is_set_up_already_takes_less_and_says_so(tmp_path: Path) -> None:
    desk = a_table(tmp_path)
    before = {(one.unit, one.step): one for one in tonight(desk, 30).finishable}
    assert not any(one.tools_out for one in before.values())
    log_line(desk, Entry("Riders", "cleaning", models=0, minutes=5.0, finished=False))
    after = {(one.unit, one.step): one for one in tonight(desk, 30).finishable}
    captain = ("Captain", "cleaning")
    assert after[captain].tools_out
    assert after[captain].middle_minutes < before[captain].middle_minutes
    assert after[captain].chance >= before[captain].chance
    assert after[captain].low_minutes < after[captain].middle_minutes < after[captain].high_minutes
    assert "tools out" in buys_words(after[captain])


@pytest.mark.parametrize("step", ["cleaning", "base colours", "priming", "a step of my own"])
def test_the_share_of_setting_up_falls_with_the_models(step: str) -> None:
    shares = [set_up_share(PlannedLine("", "Spears", step, models)) for models in (1, 2, 5, 20)]
    assert shares == sorted(shares, reverse=True)
    assert all(0 < share <= 1 for share in shares)
