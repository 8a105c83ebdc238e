"""`lastcoat spare` and `lastcoat role`: noted, found, matched, filled, freed; each mistake one line."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from tests.desks import with_spears
from tracker.cli.main import main
from tracker.workbench.desk import Desk


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    """Two spears, fourteen spares and two roles."""
    desk = with_spears(tmp_path, 2)
    for words in (
        ["spare", "add", "12", "--name", "spearman", "--base", "20x20", "--height", "28", "--tag", "spear",
         "--state", "primed", "--place", "drawer 2"],
        ["spare", "add", "2", "--kind", "cavalry", "--base", "25x50", "--note", "one lance is bent"],
        ["role", "add", "Spears", "captain", "--base", "25x25", "--tag", "sword", "--kind", "character"],
        ["role", "add", "Spears", "pike", "--base", "20x20", "--height", "28", "--tag", "spear"],
    ):  # fmt: skip
        assert run(desk, *words).exit_code == 0
    return desk


def run(desk: Desk, *words: str) -> Result:
    return CliRunner().invoke(main, list(words), obj=desk)


def said(desk: Desk, *words: str) -> str:
    done = run(desk, *words)
    assert done.exit_code == 0, done.output
    assert max(map(len, done.stdout.splitlines())) <= 80 or words[0] == "unit" or "Stored: " in done.stdout
    return " ".join(done.stdout.split())


def test_spares_are_shown_found_and_taken(desk: Desk) -> None:
    shown = said(desk, "spare", "show")
    assert shown.startswith("14 spares: kept, and no backlog. no. what base mm state kept in tags ")
    assert "1 spearman 20x20 28 primed drawer 2 spear 2 " in shown
    assert said(desk, "spare", "show", "cavalry").endswith(
        "13 cavalry * 25x50 14 cavalry * 25x50 * 13: one lance is bent * 14: one lance is bent"
    )
    assert said(desk, "spare", "show", "nowhere") == "None of the 14 spares is noted like that."
    assert said(desk, "spare", "find", "--base", "20x20", "--most", "1") == (
        "Most like 20x20: 1 spearman and 11 more like it, primed, drawer 2: would do well."
        " Base 20x20 as wanted."
    )
    assert said(desk, "spare", "note", "13-14", "--place", "box") == ("Stored: 2 spares 13-14: place box.")
    assert said(desk, "spare", "take", "1-2", "--unit", "Spears") == (
        "Stored: 2 spares joined Spears. Done already by their state: cleaning, assembly,"
        " base texture, priming."
    )
    assert said(desk, "unit", "spares").startswith("12 spares:")
    assert json.loads(run(desk, "unit", "spares", "--json").stdout)[0]["place"] == "drawer 2"


def test_roles_are_shown_matched_filled_and_freed(desk: Desk) -> None:
    assert said(desk, "role", "show").endswith(
        "---- Spears captain character, 25x25, sword open Spears pike 20x20, 28 mm, spear open"
    )
    matched = said(desk, "role", "match", "captain")
    assert matched.startswith("captain in Spears (character, 25x25, sword): 1 spearman and 11 more like it")
    assert "Base 25x50 is another size, equipment not noted, cavalry, another kind." in matched
    assert said(desk, "role", "fill", "pike", "1", "--stand-in").startswith(
        "Stored: spare 1 (spearman) fills pike in Spears as a stand-in. Done already by its state: cleaning"
    )
    assert "pike 20x20, 28 mm, spear model 3 spearman (stand-in)" in said(desk, "role", "show")
    assert "Model 3 spearman (stand-in):" in said(desk, "unit", "show", "Spears", "--each")
    assert said(desk, "role", "free", "pike") == (
        "Stored: the role pike in Spears is open, its model is spare 15 again."
    )
    said(desk, "undo")
    assert said(desk, "role", "drop", "pike").endswith("Model 3 stays in Spears.")


def test_json_tells_what_the_words_tell(desk: Desk) -> None:
    kept = json.loads(run(desk, "spare", "show", "--json").stdout)
    assert (kept["as_of"], kept["kept"], kept["doubts"]) == ("2026-03-10", 14, [])
    assert kept["spares"][0]["height_mm"] == 28.0
    roles = json.loads(run(desk, "role", "show", "--json").stdout)["roles"]
    assert [role["asks"]["base"] for role in roles] == ["25x25", "20x20"]
    matched = json.loads(run(desk, "role", "match", "pike", "--json").stdout)
    offer = matched["roles"][0]["offers"][0]
    assert (offer["spare"]["number"], offer["alike"], offer["base"]) == (1, 12, "as wanted")
    assert matched["looks"] == 2
    found = json.loads(run(desk, "spare", "find", "--kind", "cavalry", "--json").stdout)
    assert found["roles"][0]["offers"][0]["spare"]["number"] == 13


@pytest.mark.parametrize(
    ("words", "line"),
    [
        (["spare", "note", "1"], 'spare note: nothing is said. Say what, as in --place "drawer 2"'),
        (["spare", "take", "one", "--unit", "Spears"], 'spare take: "one" are no numbers.'),
        (["spare", "find"], "spare find: nothing is asked for."),
        (
            ["role", "fill", "pike", "1", "--stand-in", "--for-good"],
            "role fill: for an evening and for good.",
        ),
        (["role", "match", "pikes"], 'the role: there is no role "pikes". Did you mean "pike"?'),
    ],
)
def test_a_mistake_is_one_line(desk: Desk, words: list[str], line: str) -> None:
    done = run(desk, *words)
    assert done.exit_code in (1, 2)
    assert done.stdout == ""
    assert done.stderr.startswith(line)
    assert done.stderr.count("\n") == 1


def test_nothing_yet_says_what_to_do(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    assert said(desk, "spare", "show").startswith("There are no spares. Bring some in: lastcoat spare add 12")
    assert said(desk, "role", "show").startswith("No role is planned. Plan one: lastcoat role add")
    assert said(desk, "role", "match").startswith("No role is open.")
    said(desk, "role", "add", "Spears", "captain")
    assert said(desk, "role", "match").startswith("There are no spares.")
