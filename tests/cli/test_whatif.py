"""`lastcoat whatif` and `lastcoat order`: printed side by side, and stored only on request."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from tests.workbench.answering import empty_desk, small_desk
from tracker.cli.main import main
from tracker.domain.rows import RosterRow
from tracker.workbench.adding import add_unit
from tracker.workbench.desk import Desk


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    """Three units, the quickest of them last."""
    desk = small_desk(tmp_path)
    add_unit(desk, RosterRow("Captain", 1, "Host", kind="character", added=date(2026, 10, 9)))
    return desk


def run(desk: Desk, *args: str) -> Result:
    return CliRunner().invoke(main, list(args), obj=desk)


def said(desk: Desk, *args: str) -> str:
    done = run(desk, *args, "--draws", "300")
    assert done.exit_code == 0, done.output
    assert max(map(len, done.stdout.splitlines())) <= 80
    return " ".join(done.stdout.split())


def document(desk: Desk, *args: str) -> dict[str, Any]:
    done = run(desk, *args, "--json", "--draws", "300")
    assert done.exit_code == 0, done.output
    assert done.stdout == run(desk, *args, "--json", "--draws", "300").stdout
    found: dict[str, Any] = json.loads(done.stdout)
    return found


def test_a_sentence(desk: Desk) -> None:
    before = desk.records()
    words = said(desk, "whatif", "one more evening a week; without riders")
    assert words.startswith("What if: 1 evening a week more; without Riders")
    assert "days earlier" in words
    assert "left out" in words
    assert "Evenings a week in the coming half year" in words
    assert "Goal: Spears by 1 Jun 2027" in words
    assert "Nothing of it is stored." in words
    assert desk.records() == before


def test_every_option(desk: Desk) -> None:
    words = said(
        desk, "whatif", "--first", "riders", "--order", "Riders, Spears", "--evenings", "-0.5",
        "--away", "2026-12-20", "2027-01-03", "--filler", "spears", "2", "--standard", "riders", "quick",
        "--without", "captain", "--new", "Bows", "10", "--kind", "cavalry", "--models", "Riders", "1",
    )  # fmt: skip
    # The captain is left out before the order is, and no longer there to be ordered.
    assert "there is no unit" in run(desk, "whatif", "--without", "captain", "--order", "captain").output
    for part in ("in the order Riders, Spears", "Bows as a new unit: 10 models, cavalry",
                 "scenery in spears in place of 2 models", "riders at quick standard",
                 "0.5 evening a week fewer", "away from 20 Dec 2026"):  # fmt: skip
        assert part in words


def test_the_document_holds_both_plans(desk: Desk) -> None:
    found = document(desk, "whatif", "--first", "Riders", "--new", "Bows", "5")
    assert [wish["wish"] for wish in found["what_if"]] == ["new", "first"]
    by_name = {one["unit"]: one for one in found["units"]}
    assert by_name["Riders"]["moves_days"] < 0 < by_name["Spears"]["moves_days"]
    assert by_name["Bows"]["as_it_is"] is None
    assert by_name["Bows"]["what_if"]["models"] == 5
    assert [goal["units"] for goal in found["goals"]] == [["Spears"]]
    plain = document(desk, "forecast")
    assert [one["as_it_is"] for one in found["units"] if one["as_it_is"]] == plain["units"]


@pytest.mark.parametrize(
    ("args", "status", "words"),
    [
        (["whatif"], 2, "what if: nothing is wished"),
        (["whatif", "gibberish"], 1, 'what if: "gibberish" is not understood'),
        (["whatif", "--without", "spaers"], 1, 'there is no unit "spaers". Did you mean "Spears"'),
        (["whatif", "--away", "2027-01-03", "2026-12-20"], 2, "the last day is before the first"),
        (["whatif", "--away", "2026-01-03", "2026-01-20"], 2, "these days lie behind"),
        (["whatif", "--evenings", "9"], 2, "--evenings"),
        (["whatif", "--standard", "Riders", "golden"], 2, "--standard"),
        (["order", "--take", "--as-of", "2026-10-20"], 2, "an order of the past cannot be taken"),
    ],
)
def test_refusals(desk: Desk, args: list[str], status: int, words: str) -> None:
    done = run(desk, *args)
    assert done.exit_code == status
    assert words in done.stderr
    assert "Traceback" not in done.output
    assert len(done.stderr.strip().splitlines()) == 1


def test_the_order_is_shown_and_only_taken_on_request(desk: Desk) -> None:
    before = desk.records()
    words = said(desk, "order")
    assert words.startswith("The order that puts most models on the table soonest")
    assert "models an hour" in words
    assert "What it would change" in words
    assert "Your own order stays until you take this one: lastcoat order --take" in words
    assert desk.records() == before
    found = document(desk, "order")
    assert (found["is_your_own"], found["proved"], found["stored"]) == (False, True, False)
    assert found["minutes_on_average"]["this_order"] < found["minutes_on_average"]["your_order"]
    assert all(place["words"] for place in found["order"])
    assert run(desk, "order", "--take").stdout.startswith("Stored: the order is now Spears, ")
    assert said(desk, "order").startswith("Your own order puts most models on the table soonest")
    assert "it is your own order already" in run(desk, "order", "--take").stdout
    assert run(desk, "undo").exit_code == 0
    assert desk.records() == before


def test_an_empty_log(tmp_path: Path) -> None:
    desk = empty_desk(tmp_path)
    assert "everything on the desk is table-ready" in run(desk, "order").stdout
    assert "No date moves." in run(desk, "whatif", "one more evening a week").stdout
