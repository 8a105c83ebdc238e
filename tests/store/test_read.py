"""Rows to records, the whole document, kept fits, and speed at the size of ten years."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from tests.desks import a_desk, with_spears
from tracker.domain.problems import DataError
from tracker.domain.records import Army, Line, Records, Session
from tracker.domain.rows import EveningRow
from tracker.store.document import dump, restore
from tracker.store.fits import keep_fit, kept_fit
from tracker.store.read import records
from tracker.workbench.evenings_in import import_evenings
from tracker.workbench.lines import Entry, log_line


def test_records_are_what_was_stored(tmp_path: Path) -> None:
    desk = with_spears(tmp_path, 3)
    log_line(desk, Entry("spears", "CLEANING", models=2, minutes=12.5, note="n", guess_minutes=30.0))
    known = desk.records()
    assert known.armies == (Army(1, "My army"),)
    assert known.sessions == (Session(1, date(2026, 3, 10)),)
    assert known.lines == (Line(1, 1, 1, "cleaning", 2, 12.5, True, 30.0, "n", (1, 2)),)
    assert known.units[0].added_on == date(2026, 3, 1)
    assert known.units[0].route[0] == "cleaning"
    assert [model.number for model in known.models] == [1, 2, 3]


def test_a_log_that_is_not_there_knows_nothing(tmp_path: Path) -> None:
    assert a_desk(tmp_path).records() == Records()
    assert not list(tmp_path.iterdir())


def test_a_fit_is_kept_for_one_state_and_version(tmp_path: Path) -> None:
    with with_spears(tmp_path).open() as store:
        keep_fit(store, "pace", store.log_state(), "1", b"\x00fit")
        keep_fit(store, "pace", store.log_state(), "1", b"\x00newer")
        assert kept_fit(store, "pace", store.log_state(), "1") == b"\x00newer"
        assert kept_fit(store, "pace", store.log_state(), "2") is None
        assert kept_fit(store, "other", store.log_state(), "1") is None
        store.undo()
        assert kept_fit(store, "pace", store.log_state(), "1") is None


def test_a_document_goes_only_into_an_empty_log(tmp_path: Path) -> None:
    with (
        with_spears(tmp_path).open() as store,
        pytest.raises(DataError, match="only be read into an empty one"),
    ):
        restore(store, dump(store))


def broken_documents() -> Iterator[tuple[str, dict[str, Any]]]:
    empty: dict[str, Any] = {"format": "lastcoat log", "version": 1}
    yield "not a whole Lastcoat log", {}
    yield "another version", empty | {"version": 99}
    yield 'its part "army"', empty
    columns = ["id", "uid", "name", "name_key"]
    yield "wrong length", empty | {"army": {"columns": columns, "rows": [[1, "u"]]}}
    yield "does not fit", empty | {"army": {"columns": columns, "rows": [[1, "u", "", ""]]}}
    yield "does not fit", empty | {"army": {"columns": columns, "rows": [[1, "u", {"a": 1}, ""]]}}
    yield "does not fit", empty | {"army": {"columns": columns, "rows": [[2**80, "u", "a", "a"]]}}


@pytest.mark.parametrize(("said", "document"), list(broken_documents()))
def test_a_broken_document_stores_nothing(tmp_path: Path, said: str, document: dict[str, Any]) -> None:
    with a_desk(tmp_path).open(create=True) as store:
        with pytest.raises(DataError, match=said), store.change("import all"):
            restore(store, document)
        assert records(store) == Records()


def test_ten_years_are_read_as_they_were_told(tmp_path: Path) -> None:
    # 2,500 evenings, 8,000 lines, 150 units: the size the project promises to carry.
    rows = [
        EveningRow(
            date.fromordinal(736000 + i * 2500 // 8000), f"unit {i % 150}", f"step {i // 1500}", models=5,
            minutes=10.0,
        )
        for i in range(8000)
    ]  # fmt: skip
    desk = a_desk(tmp_path)
    assert import_evenings(desk, rows).added == 8000
    known = desk.records()
    assert (len(known.sessions), len(known.lines), len(known.units)) == (2500, 8000, 150)
    assert sum(len(line.model_ids) for line in known.lines) == 40000
