"""The commands of the evening: lamp, tonight, unit, config, keys, and a sentence that leaves things out."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.cli.test_writing import done, refused, run
from tests.desks import a_desk, with_spears
from tracker.cli.unit import ACTS
from tracker.tui.actions import ACTIONS, action_id


@pytest.fixture(autouse=True)
def _settings(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("LASTCOAT_CONFIG", str(tmp_path / "config.toml"))


def test_an_evening_under_the_lamp(tmp_path: Path) -> None:
    # The desk's clock stands at 21:30.
    desk = with_spears(tmp_path)
    assert done(desk, "lamp") == "The lamp is off."
    assert done(desk, "lamp", "on", "--since", "20:30") == "The lamp is on since 20:30: 1 h so far."
    assert done(desk, "lamp", "pause") == "The lamp rests since 21:30, after 1 h. On since 20:30."
    assert done(desk, "lamp", "resume").startswith("The lamp is on since 20:30")
    state = json.loads(done(desk, "lamp", "--json"))
    assert (state["state"], state["minutes"], state["day"]) == ("on", 60.0, "2026-03-10")
    assert done(desk, "lamp", "off", "--at", "21:10") == (
        'The lamp is off after 40 min. The evening of Tue 10 Mar has 40 min. What was done? lastcoat log "…"'
    )
    assert done(desk, "undo") == "Taken back: lamp: off after 40 min (Tue 10 Mar)."
    assert json.loads(done(desk, "lamp", "off", "--json"))["minutes"] == 60
    done(desk, "lamp", "on")
    assert done(desk, "lamp", "back") == "The lamp is off."


@pytest.mark.parametrize(
    ("words", "status", "said"),
    [
        ("lamp off", 1, "the lamp: it is off"),
        ("lamp on --at 20:00", 2, "Use it with: lastcoat lamp off"),
        ("lamp --since 20:00", 2, "Use it with: lastcoat lamp on"),
        ("lamp on --since soon", 1, '--since: "soon" is no time'),
        ("lamp sing", 2, "'sing' is not one of"),
        ("tonight 0", 1, "0 minutes cannot be"),
        ("tonight long", 2, "'long' is not a valid float"),
        ("unit show Spers", 1, 'Did you mean "Spears"'),
        ("unit set Spears", 2, "nothing is said"),
        ("unit move Spears", 2, "say one way to move it"),
        ("unit move Spears --earlier --later", 2, "say one way to move it"),
        ("unit role x --unit Spears", 2, "are no numbers"),
        ("unit dance", 2, "No such command 'dance'"),
        ("config set theme", 2, "what to set is missing"),
        ("config set theme pink", 2, "One of: night"),
        ("config set keys.lmap f2", 2, 'Did you mean "lamp"'),
        ("config show theme", 2, "does not belong here"),
        ("log cleaned 2 spears --dry-run --unit Spears", 2, "it belongs to a sentence"),
        ("log 20 min --dry-run", 1, "how many is not said"),
    ],
)
def test_what_cannot_be_is_one_line(tmp_path: Path, words: str, status: int, said: str) -> None:
    assert said in refused(with_spears(tmp_path), status, *words.split())


def test_a_sentence_takes_the_rest_from_last_time(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    done(desk, "log", "cleaned 5 spears, 20 min")
    said = done(desk, "log", "25 min", "--dry-run")
    assert said == "Understood: cleaning, 5 of 20 Spears (6-10), 25 min (Tue 10 Mar). Nothing is stored."
    said = done(desk, "log", "25 min")
    assert said == "Logged: cleaning, 5 of 20 Spears, 25 min (Tue 10 Mar). 10 left for this step."
    said = done(desk, "log", "cleaned 4; assembled 2 spears; 3 h in all")
    assert len(said.splitlines()) == 4  # two lines, the caution of the first glue, the whole evening


def test_tonight_in_words_and_as_json(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    assert "lastcoat add" in done(a_desk(tmp_path / "none"), "tonight")
    assert "Spears" in done(desk, "tonight")
    assert "You can finish in 45 min" in done(desk, "tonight", "45")
    document = json.loads(done(desk, "tonight", "45", "--json"))
    assert document["finishable"][0]["step"] == "cleaning"
    assert document["nearest_finish_line"] is None


def test_every_act_of_unit_is_there_with_an_example(tmp_path: Path) -> None:
    desk = a_desk(tmp_path)
    for act in ACTS:
        assert f"lastcoat unit {act}" in done(desk, "unit", act, "--help")


def test_a_units_sheet_in_letters_in_words_and_as_json(tmp_path: Path) -> None:
    desk = with_spears(tmp_path, 3)
    done(
        desk, "unit", "model", "Spears", "--models", "1", "--name", "Tom", "--part", "rider", "--note", "blue"
    )
    done(desk, "log", "cleaned 1 spears")
    done(desk, "unit", "skip", "Spears", "--models", "2-3", "--step", "tufts")
    letters = done(desk, "unit", "show", "Spears").splitlines()
    assert any(line.startswith(" 1 Tom (rider) *") and "#" in line for line in letters)
    assert any(line.startswith(" 2 ") and line.endswith("-") for line in letters)
    assert "drying" in letters[-2]
    words = done(desk, "unit", "show", "Spears", "--each").splitlines()
    assert words[1].startswith("Model 1 Tom (rider): done on 10 Mar 2026: cleaning; not yet: assembly")
    assert words[1].endswith("Note: blue")
    document = json.loads(done(desk, "unit", "show", "Spears", "--json"))
    assert document["models"][0]["cells"][0] == {
        "step": "cleaning", "state": "done", "on": "2026-03-10", "dry_at": None,
    }  # fmt: skip


def test_the_care_of_units_by_commands(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    done(desk, "add", "--spares", "2", "--kind", "cavalry")
    assert done(desk, "unit", "rename", "Spears", "Pikes") == "Stored: Spears is now Pikes."
    said = done(desk, "unit", "set", "Pikes", "--goal-date", "2026-05-01", "--finish", "varnished")
    assert said == "Stored: Pikes: goal date Fri 1 May, finish line varnish."
    assert done(desk, "unit", "set", "Pikes", "--no", "goal-date") == "Stored: Pikes: goal date none."
    assert done(desk, "unit", "split", "Pikes", "--models", "last 8", "--new", "Rear").endswith(
        "12 models stayed."
    )
    assert done(desk, "unit", "move", "Rear", "--earlier") == "Stored: Rear is number 1 in the order."
    assert done(desk, "unit", "move", "Rear", "--nowhere") == "Stored: Rear has no place in the order."
    assert done(desk, "unit", "move", "Rear", "--to", "1") == "Stored: Rear is number 1 in the order."
    assert done(desk, "unit", "move", "Rear", "--later") == "Stored: Rear is number 2 in the order."
    assert done(desk, "unit", "spares").splitlines()[0] == "2 spares:"
    assert json.loads(done(desk, "unit", "spares", "--json"))[0]["kind"] == "cavalry"
    assert done(desk, "unit", "role", "1-2", "--unit", "Rear") == "Stored: 2 spares joined Rear."
    assert done(desk, "unit", "spares") == "There are no spares."
    assert done(desk, "unit", "spare", "Rear", "--models", "1").startswith("Stored: 1 model of Rear")
    assert "step freehand" in done(desk, "unit", "step", "Rear", "--models", "2", "--step", "freehand")
    assert done(desk, "unit", "merge", "Rear", "--into", "Pikes").endswith("joined Pikes with 9 models.")
    assert "21 models broken" in done(desk, "unit", "retire", "Pikes", "--how", "broken")
    assert done(desk, "undo").startswith("Taken back: unit: Pikes retired, 21 models broken")


def test_settings_by_commands(tmp_path: Path) -> None:
    desk, path = a_desk(tmp_path), tmp_path / "config.toml"
    assert done(desk, "config", "where") == str(path)
    assert "There is no file" in done(desk, "config", "check")
    assert "theme = night  (default)" in done(desk, "config")
    done(desk, "config", "set", "theme", "day")
    done(desk, "config", "set", "keys.lamp", "f2")
    assert f"theme = day  ({path})" in done(desk, "config", "show")
    assert json.loads(done(desk, "config", "show", "--json"))["keys.lamp"]["value"] == "f2"
    assert "is understood" in done(desk, "config", "check")
    assert "lamp: f2: " in done(desk, "keys")
    assert "undo: u: " in done(desk, "keys")
    path.write_text('them = "day"\n[keys]\nlmap = "f2"\n', encoding="utf-8")
    checked = run(desk, "config", "check")
    assert checked.exit_code == 1
    assert len(checked.stderr.splitlines()) == 2
    shown = run(desk, "config", "show")
    assert shown.exit_code == 0
    assert 'Did you mean "theme"?' in shown.stderr


def test_the_list_of_keys_is_whole(tmp_path: Path) -> None:
    listed = json.loads(done(a_desk(tmp_path), "keys", "--json"))
    assert {row["action"] for row in listed} >= {action_id(action) for action in ACTIONS}
