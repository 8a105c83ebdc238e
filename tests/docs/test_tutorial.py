"""The first evening, typed as the tutorial says, on an empty desk."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest
from click.testing import CliRunner

from tests.docs.places import DOCS
from tracker.cli.main import main

COMMAND = re.compile(r"(?m)^    (lastcoat .*)$")
ROSTER = "unit,models,kind\nWardens,5,infantry\n"
EVENINGS = "date,unit,step,models,minutes\n2026-03-03,Wardens,cleaning,2,20\n2026-03-05,Scouts,shade,3,\n"


def test_the_tutorial_works_from_the_first_line_to_the_last(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("LASTCOAT_DB", str(tmp_path / "log.db"))
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    (tmp_path / "roster.csv").write_text(ROSTER, encoding="utf-8")
    (tmp_path / "evenings.csv").write_text(EVENINGS, encoding="utf-8")
    lines = COMMAND.findall((DOCS / "tutorial.md").read_text(encoding="utf-8"))
    assert len(lines) >= 15
    for line in lines:
        said = CliRunner().invoke(main, shlex.split(line)[1:])
        assert said.exit_code == 0, f"{line}: {said.output}"
        assert said.stdout.strip() or " export " in line, f"{line} says nothing"
    assert (tmp_path / "backlog.html").exists()
    assert (tmp_path / "everything.json").exists()
