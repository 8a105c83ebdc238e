"""`lastcoat source`: noted, told, changed, dropped, undone; sold models leave; one line for each mistake."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from tests.desks import a_desk
from tracker.cli.main import main
from tracker.domain.rows import RosterRow
from tracker.workbench.adding import add_spares, add_unit
from tracker.workbench.desk import Desk
from tracker.workbench.lines import Entry, log_line
from tracker.workbench.models import leave
from tracker.workbench.past import redo, undo
from tracker.workbench.units_plan import set_plan
from tracker.workbench.units_shape import split
from tracker.workbench.whole import export_document, import_document

ADDED = date(2026, 3, 1)


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    """Ten spears, four riders, seven spares."""
    desk = a_desk(tmp_path)
    add_unit(desk, RosterRow("Spears", 10, added=ADDED))
    add_unit(desk, RosterRow("Riders", 4, "Guests", added=ADDED, cost="20 EUR"))
    add_spares(desk, 7)
    return desk


def run(desk: Desk, *words: str) -> Result:
    return CliRunner().invoke(main, ["source", *words], obj=desk)


def said(desk: Desk, *words: str) -> str:
    done = run(desk, *words)
    assert done.exit_code == 0, done.output
    return " ".join(done.stdout.split())


def document(desk: Desk, *words: str) -> dict[str, Any]:
    done = run(desk, *words, "--json")
    assert done.exit_code == 0, done.output
    found: dict[str, Any] = json.loads(done.stdout)
    assert found["doubts"] == []
    assert found["as_of"] == "2026-03-10"
    return found


def test_a_deal_is_noted_told_changed_dropped_and_undone(desk: Desk) -> None:
    words = ("--models", "1-6", "--spares", "3-5", "--from", "a club table", "--cost", "12,50 EUR")
    more = ("--postage", "3", "--given", "two riders", "--note", "in a tin", "--date", "2026-03-02")
    assert said(desk, "add", "bought", "--unit", "spears", *words, *more) == (
        "Stored: deal 1, bought: Spears 1-6, spares 3-5 from a club table for 12.50 EUR and 3 EUR postage and"
        " two riders, in a tin (Mon 2 Mar)."
    )
    assert said(desk, "show", "--unit", "Spears") == (
        "Deals about Spears, the newest first 1. 2 Mar 2026, bought: Spears 1-6 and spares 3-5, from a club"
        " table, for 12.50 EUR and 3 EUR postage and two riders (in a tin)."
    )
    assert said(desk, "set", "1", "--cost", "14 GBP", "--postage", "", "--given", "", "--spares", "3") == (
        "Stored: deal 1, bought: Spears 1-6, spares 3 from a club table for 14 GBP, in a tin (Mon 2 Mar)."
    )
    (deal,) = document(desk, "show")["deals"]
    assert (deal["amount"], deal["currency"], deal["postage"], deal["spares"]) == ("14", "GBP", None, [3])
    assert deal["models"] == [{"army": "My army", "unit": "Spears", "numbers": [1, 2, 3, 4, 5, 6]}]
    assert said(desk, "drop", "1").startswith("Stored: no longer deal 1, bought: Spears 1-6")
    assert document(desk, "show")["deals"] == []
    undo(desk)
    undo(desk)
    assert document(desk, "show")["deals"][0]["amount"] == "12.50"
    redo(desk)
    assert document(desk, "show")["deals"][0]["amount"] == "14"


def test_the_whole_log_keeps_deals(desk: Desk, tmp_path: Path) -> None:
    run(desk, "add", "bought", "--unit", "Spears", "--cost", "1.2340 KWD")
    (tmp_path / "other").mkdir()
    other = a_desk(tmp_path / "other")
    import_document(other, export_document(desk))
    assert document(other, "show") == document(desk, "show")


def test_models_that_are_sold_leave_in_the_same_change(desk: Desk) -> None:
    assert said(desk, "add", "sold", "--unit", "Spears", "--models", "9-10", "--cost", "4 EUR").endswith(
        "(Tue 10 Mar). 2 models left with it."
    )
    gone = [model for model in desk.records().models if model.left_on]
    assert [(model.number, model.left_how) for model in gone] == [(9, "sold"), (10, "sold")]
    undo(desk)
    assert not any(model.left_on for model in desk.records().models)
    leave(desk, "Spears", "1-2", "given away")
    words = said(desk, "add", "given-away", "--unit", "Spears", "--to", "Ben")
    assert "given away: Spears 1-2 to Ben" in words
    assert "bought: Spears 1-10" in said(desk, "add", "bought", "--unit", "Spears", "--cost", "9 EUR")


def test_costs_and_months(desk: Desk) -> None:
    run(desk, "add", "bought", "--unit", "Spears", "--models", "1-6", "--spares", "1", "--cost", "10 EUR")
    run(desk, "add", "bought", "--unit", "Spears", "--cost", "6 GBP", "--date", "2026-02-28")
    run(desk, "add", "bought", "--cost", "5 EUR", "--note", "brushes")
    set_plan(desk, "Riders", {"source": "a cupboard", "cost": "a lot"})
    log_line(desk, Entry("Spears", "cleaning", models=4, minutes=60, day=date(2026, 3, 9)))
    log_line(desk, Entry("Spears", "cleaning", models=1, day=date(2026, 3, 8)))
    found = document(desk, "costs")
    spears = found["units"][0]
    # 10.00 in 7 parts: 1.43 six times and 1.42, and the spare has the last.
    assert spears["paid"] == {"EUR": "8.58", "GBP": "6.00"}
    assert spears["paid_per_model"] == {"EUR": "1.43", "GBP": "1.50"}
    assert (spears["minutes"], spears["untimed_lines"], spears["models_table_ready"]) == (60.0, 1, 0)
    assert found["spares"]["paid"] == {"EUR": "1.42"}
    assert found["total"]["paid"] == {"EUR": "15.00", "GBP": "6.00"}
    assert found["not_counted"] == [
        {"army": "Guests", "unit": "Riders", "text": "a lot", "why": "unreadable"}
    ]
    words = said(desk, "costs")
    assert "1 line without minutes is in no figure: Spears 1." in words
    assert 'Riders has the cost "a lot" in its plan, not counted' in words
    assert said(desk, "show", "--unit", "Riders") == (
        "No deal is noted about Riders. The unit's own plan says: a cupboard"
    )
    assert [row["unit"] for row in document(desk, "costs", "--army", "guests")["units"]] == ["Riders"]
    march, february = document(desk, "months")["months"]
    assert (march["models_in"], march["paid"]) == (21, {"EUR": "15"})
    assert (february["month"], february["paid"]) == ("2026-02", {"GBP": "6"})
    assert len(document(desk, "months", "--months", "1")["months"]) == 1
    assert "Month by month" in said(desk, "months")


def test_money_follows_models_into_another_unit(desk: Desk) -> None:
    run(desk, "add", "bought", "--unit", "Spears", "--cost", "10 EUR")
    split(desk, "Spears", "last 4", "Bows")
    paid = {row["unit"]: row["paid"] for row in document(desk, "costs")["units"]}
    assert (paid["Spears"], paid["Bows"]) == ({"EUR": "6.00"}, {"EUR": "4.00"})
    assert "Spears 1-6 and Bows 1-4" in said(desk, "show")


def test_with_nothing_yet_each_says_what_to_do(tmp_path: Path) -> None:
    desk = a_desk(tmp_path)
    assert "Note one: lastcoat source add" in said(desk, "show")
    assert "lastcoat add --unit" in said(desk, "costs")
    assert said(desk, "months") == "Nothing came in or went out yet."


@pytest.mark.parametrize(
    ("words", "status", "says"),
    [
        (["add", "stolen", "--unit", "Spears"], 2, "is no way to come in or go out"),
        (["add", "bougt", "--unit", "Spears"], 2, 'Did you mean "bought"?'),
        (["add", "bought"], 2, "nothing is said of it"),
        (["add", "bought", "--unit", "Spers"], 1, 'Did you mean "Spears"'),
        (["add", "bought", "--unit", "Spears", "--models", "11"], 1, "has no model 11"),
        (["add", "bought", "--unit", "Spears", "--models", "1", "--models", "2"], 2, "in pairs"),
        (["add", "bought", "--unit", "Spears", "--models", "5"], 1, "Spears 5 came in by deal 1 already"),
        (["add", "bought", "--unit", "Spears", "--unit", "Spears"], 1, "named twice"),
        (["add", "sold", "--unit", "Spears"], 2, "it is not said which models"),
        (["add", "sold", "--unit", "Spears", "--models", "1", "--date", "2026-02-01"], 1, "was not there"),
        (["add", "bought", "--spares", "9"], 1, "has no model 9"),
        (["add", "bought", "--cost", "12"], 1, "no money with its currency"),
        (["add", "bought", "--cost", "1,250 EUR"], 1, "two ways"),
        (["add", "bought", "--cost", "12 EUR", "--postage", "3 GBP"], 1, "in one currency"),
        (["add", "bought", "--note", "x", "--date", "2026-03-11"], 1, "lies in the future"),
        (["set", "1"], 2, "nothing is said"),
        (["set", "7", "--note", "x"], 1, "there is no deal 7"),
        (["set", "1", "--how", "sold"], 1, "bought cannot become sold"),
        (["drop", "7"], 1, "there is no deal 7"),
        (["show", "--unit", "Bows"], 1, "there is no unit"),
        (["costs", "--army", "Gests"], 1, 'Did you mean "Guests"?'),
        (["months", "--months", "0"], 1, "0 months cannot be"),
    ],
)
def test_a_mistake_is_one_line_and_nothing_is_stored(
    desk: Desk, words: list[str], status: int, says: str
) -> None:
    run(desk, "add", "bought", "--unit", "Spears", "--models", "1-6")
    if "Spears" in words and words[-1] == "Spears" and words.count("Spears") == 2:
        words = [*words[:2], "--unit", "Riders", "--unit", "Riders"]
    before = export_document(desk)
    done = run(desk, *words)
    assert (done.exit_code, done.stdout) == (status, ""), done.output
    assert says in done.stderr
    assert done.stderr.count("\n") == 1
    assert export_document(desk) == before
