"""`lastcoat curing` and `lastcoat caution` as they are typed."""

from __future__ import annotations

import json
from pathlib import Path

from click.testing import CliRunner, Result

from tests.desks import a_desk, with_spears
from tracker.cli.main import main
from tracker.workbench.desk import Desk


def run(desk: Desk, *words: str) -> Result:
    return CliRunner().invoke(main, words, obj=desk)


def said(desk: Desk, *words: str) -> str:
    done = run(desk, *words)
    assert done.exit_code == 0, done.output
    return done.stdout.rstrip("\n")


def test_curing_is_told_in_a_table_and_as_json(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    assert said(a_desk(tmp_path / "none"), "curing").startswith("Nothing cures right now.")
    said(desk, "curing", "begin", "putty on the captain", "--range", "4-16-24")
    said(desk, "curing", "begin", "water effect", "--hours", "36", "--unit", "Spears", "--at", "20:00")
    assert said(desk, "curing").split("\n")[:4] == [
        "Curing                 Since  Dry from   Usually    Latest",
        "---------------------  -----  ---------  ---------  ---------",
        "putty on the captain   21:30  Wed 01:30  Wed 13:30  Wed 21:30",
        "water effect (Spears)  20:00  Thu 08:00  Thu 08:00  Thu 08:00",
    ]
    document = json.loads(said(desk, "curing", "--json"))
    assert set(document) == {"as_of", "doubts", "now", "curing", "own_waits"}
    assert document["curing"][1] == {
        "what": "water effect", "army": "My army", "unit": "Spears", "models": 0, "timer": True,
        "begun": "2026-03-10T20:00", "dry_from": "2026-03-12T08:00", "usually_dry": "2026-03-12T08:00",
        "at_the_latest": "2026-03-12T08:00", "own_wait": False,
    }  # fmt: skip
    assert said(desk, "curing", "done", "water effect").startswith("Stored: water effect (Spears) is done")


def test_a_log_named_before_the_act_is_the_acts(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    other = a_desk(tmp_path / "other")
    (tmp_path / "other").mkdir()
    said(other, "curing", "--db", desk.path, "begin", "clay")
    assert [cure.what for cure in desk.records().cures] == ["clay"]


def test_mistakes_are_one_line(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    for words, status, line in (
        (("curing", "begin", "mystery"), 1, 'hours: nobody here knows how long "mystery" takes.'),
        (("curing", "begin", "clay", "--hours", "1", "--range", "1-2-3"), 2, "curing begin: --hours and"),
        (("curing", "begin", "clay", "--range", "x"), 1, 'hours: "x" is no time that it takes.'),
        (("curing", "wait", "varnish"), 2, "curing wait: say hours or --usual."),
        (("caution", "zzz"), 1, 'caution: "zzz" is no step,'),
        (("caution", "metal", "--lead-free"), 2, "caution: the metal of which unit is not said."),
        (("caution", "metal", "Spears", "--lead-free", "--unknown"), 2, "caution: --lead-free and"),
        (("caution", "metal", "Spears", "--lead-free"), 1, 'caution: "Spears" is of no metal'),
    ):
        done = run(desk, *words)
        assert (done.exit_code, done.stderr.count("\n")) == (status, 1), done.output
        assert done.stderr.startswith(line)


def test_cautions_are_told_of_all_and_of_one(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    every = json.loads(said(desk, "caution", "--json"))
    assert {row["hazard"] for row in every["cautions"]} >= {"lead", "body", "melting metal", "magnets"}
    assert all(row["source"] and row["caution"].endswith("local rules.") for row in every["cautions"])
    words = said(desk, "caution", "gluing")
    assert words.startswith("To mind with assembly:\n- Super glue bonds skin")
    assert max(map(len, words.split("\n"))) <= 80
    assert said(desk, "caution", "dry fit").startswith("No caution is kept for dry fit.")
    said(desk, "unit", "set", "Spears", "--material", "metal")
    assert said(desk, "caution", "Spears").split("\n")[1].startswith("- Old metal castings")
    assert (
        said(desk, "caution", "metal", "Spears", "--lead-free")
        == "Stored: the metal of Spears holds no lead."
    )
    assert said(desk, "caution", "metal", "Spears").split("\n")[1] == "Its metal is known to hold no lead."
