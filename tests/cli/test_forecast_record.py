"""`lastcoat forecast` tells what past dates came to once that was worked out, and never of a later day."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from tests.report.test_dates_record_words import record
from tests.workbench.answering import small_desk
from tracker.cli.main import main
from tracker.forecast import dates_record as room
from tracker.workbench.dates_record import dates_record

SAID = "So far such ranges held 33 of 40 times where 80 in 100 should"


def test_the_kept_record_stands_below_the_dates(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    desk = small_desk(tmp_path / "a")

    def forecast(*more: str) -> str:
        said = CliRunner().invoke(main, ["forecast", "--draws", "200", *more], obj=desk)
        assert said.exit_code == 0, said.output
        return " ".join(said.stdout.split())

    assert "So far" not in forecast()
    monkeypatch.setattr(room, "dates_record", lambda *_: record())
    dates_record(desk)
    assert SAID in forecast()
    assert "Units came 7 days later than the middle, as a rule." in forecast()
    assert "So far" not in forecast("--as-of", "2026-10-30")
    assert "So far" not in forecast("--json")
