"""`lastcoat merge`: its words, its document, and what it refuses in one line."""

from __future__ import annotations

import json
from pathlib import Path

from click.testing import CliRunner, Result

from tests.desks import with_spears
from tests.properties.two_logs import copied
from tracker.cli.main import main
from tracker.workbench.desk import Desk
from tracker.workbench.past import undo
from tracker.workbench.units_plan import set_plan


def run(desk: Desk, *words: str) -> Result:
    return CliRunner().invoke(main, words, obj=desk)


def test_it_says_what_came_in_and_what_differs(tmp_path: Path) -> None:
    here = with_spears(tmp_path)
    there = copied(here, tmp_path, "laptop")
    run(there, "log", "cleaned 3 spears, 20 min")
    set_plan(here, "Spears", {"note": "red"})
    set_plan(there, "Spears", {"note": "\x1b[2J"})
    shown = run(here, "merge", there.path, "--dry-run")
    assert shown.output.splitlines() == [
        "Would join: 1 line, 1 evening new.",
        "21 rows alike in both.",  # the army and twenty models
        "1 conflict, where both logs say something else:",
        '  Spears: note: yours "red", theirs "\\x1b[2J"',
        "Yours is kept. To take theirs in all of them: --theirs",
        "What was taken out in one of the two logs and not in the other is there again.",
    ]
    assert here.records().lines == ()
    said = json.loads(run(here, "merge", there.path, "--json").output)
    assert said["added"] == {"line": 1, "session": 1}
    assert said["conflicts"][0]["theirs"] == "\x1b[2J"
    assert len(here.records().lines) == 1
    assert undo(here).verb == "merge"


def test_a_backup_is_made_before(tmp_path: Path) -> None:
    here = with_spears(tmp_path)
    there = copied(here, tmp_path, "laptop")
    run(there, "log", "cleaned 3 spears, 20 min")
    run(here, "merge", there.path)
    assert [file.name for file in tmp_path.rglob("*before-merge*")]


def test_a_file_that_is_not_there_is_one_line(tmp_path: Path) -> None:
    refused = run(with_spears(tmp_path), "merge", str(tmp_path / "none.db"))
    assert refused.exit_code == 1
    assert refused.output.count("\n") == 1
