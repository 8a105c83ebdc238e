"""The army, the fan and the evenings as plain lines: what the screens show, for a pipe or a screen reader."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from tests.tui.driving import a_small_log
from tracker.cli.main import main
from tracker.workbench.desk import Desk
from tracker.workbench.units_shape import to_spares


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    """Twenty spears, begun, and five riders with a goal."""
    return a_small_log(tmp_path)


def said(desk: Desk, *words: str) -> str:
    done = CliRunner().invoke(main, words, obj=desk)
    assert done.exit_code == 0, done.output
    return done.output


def run(desk: Desk, *words: str) -> str:
    return said(desk, words[0], "--db", desk.path, *words[1:])


def test_every_unit_is_told_with_what_is_left_and_its_range(desk: Desk) -> None:
    to_spares(desk, "Spears", "1-3")
    text = " ".join(run(desk, "army").split())
    assert "Spears: 0 of 17 models table-ready; left: cleaning 6, assembly 17" in text
    assert "Riders: 0 of 5 models table-ready" in text
    assert "wanted by 1 Jun 2026 for club day" in text
    assert " to go (" in text
    assert "table-ready " in text
    assert "3 spare models: kept, and no backlog." in text


def test_it_is_sorted_filtered_and_folded_as_on_the_screen(desk: Desk) -> None:
    by_name = run(desk, "army", "--sort", "name")
    assert by_name.index("Riders") < by_name.index("Spears")
    assert run(desk, "army").index("Spears") < run(desk, "army").index("Riders")
    assert "Riders" not in run(desk, "army", "--named", "SPEAR")
    assert run(desk, "army", "--named", "nobody") == "No unit to show.\n"
    army = json.loads(run(desk, "army", "--json"))["units"][0]["army"]
    assert "Spears" not in run(desk, "army", "--fold", army)


def test_the_json_holds_the_forecast_of_each_unit(desk: Desk) -> None:
    shown = json.loads(run(desk, "army", "--json"))
    dates = json.loads(run(desk, "forecast", "--json"))
    by_name = {unit["unit"]: unit for unit in shown["units"]}
    assert by_name["Spears"]["models_left_by_step"]["cleaning"] == 6
    assert [unit["outlook"] for unit in shown["units"]] == dates["units"]


def test_an_empty_desk_says_so(tmp_path: Path) -> None:
    assert run(Desk(str(tmp_path / "none.db")), "army") == "No unit to show.\n"


def test_the_fan_is_told_month_by_month_as_well(desk: Desk) -> None:
    assert "Too few evenings are known for a picture" in run(desk, "forecast", "--fan")
    text = run(desk._replace(now=lambda: desk.now().replace(day=28)), "forecast", "--fan")
    assert "Models not yet table-ready, in the coming months" in text
    assert "By 31 Mar 2026: 25 left" in text


def test_the_evenings_are_drawn_below_the_backlog(desk: Desk) -> None:
    text = run(desk, "backlog", "--evenings")
    assert "Evenings of the past weeks" in text
    assert "▄" in text
