"""The verb of the track record of dates: worked out once, kept, shown again at no cost."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest

from tests.workbench.answering import NOW, TODAY, small_desk
from tracker.domain.answers_dates import DatesRecordAnswer
from tracker.forecast import dates_record as room
from tracker.workbench.dates_record import dates_record
from tracker.workbench.desk import Desk
from tracker.workbench.kept_before import kept_before


def later_desk(folder: Path) -> Desk:
    """The small log, asked in the next January."""
    return Desk(small_desk(folder).path, now=lambda: datetime(2027, 1, 4, 20, 0))


def test_it_is_kept_and_read_again_unchanged(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    desk = later_desk(tmp_path / "a")
    assert kept_before(desk).dates_record is None
    first = dates_record(desk)
    assert (first.months, first.not_yet) == (3, 6)

    def never(*_: object) -> DatesRecordAnswer:
        raise AssertionError("it was worked out anew")

    monkeypatch.setattr(room, "dates_record", never)
    assert dates_record(desk) == first
    assert kept_before(desk).dates_record == first
    with pytest.raises(AssertionError):
        dates_record(desk, seed=2)


def test_a_short_log_has_no_record(tmp_path: Path) -> None:
    desk = small_desk(tmp_path / "b")
    answer = dates_record(desk)
    assert (answer.as_of, answer.forecasts) == (TODAY, 0)
    assert [doubt.code for doubt in answer.doubts] == ["little-history"]
    assert desk.now() == NOW
