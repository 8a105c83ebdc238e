"""The whole log as a document: exact both ways, and documents of the first version are still read."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.desks import a_desk, with_spears
from tracker.domain.problems import DataError
from tracker.workbench.lamp import lamp_on, lamp_pause, lamp_state
from tracker.workbench.lines import Entry, log_line
from tracker.workbench.past import undo
from tracker.workbench.units_models import ModelWish, change_models
from tracker.workbench.whole import export_document, import_document


def of_version_1(document: dict[str, Any]) -> dict[str, Any]:
    """The document as the first version wrote it: no lamp, no part of a model."""
    model = document["model"]
    old = {"columns": model["columns"][:-1], "rows": [row[:-1] for row in model["rows"]]}
    kept = {key: value for key, value in document.items() if not key.startswith("lamp")}
    return kept | {"version": 1, "model": old}


def test_the_lamp_and_parts_travel_with_the_log(tmp_path: Path) -> None:
    desk, other = with_spears(tmp_path), a_desk(tmp_path / "other")
    change_models(desk, "Spears", "1", ModelWish(part="rider"))
    lamp_on(desk)
    lamp_pause(desk)
    import_document(other, export_document(desk))
    assert export_document(other) == export_document(desk)
    assert lamp_state(other).state == "paused"
    undo(other)
    assert lamp_state(other).state == "off"
    assert other.records().units == ()


def test_a_document_of_the_first_version_is_read(tmp_path: Path) -> None:
    desk, other = with_spears(tmp_path), a_desk(tmp_path / "other")
    log_line(desk, Entry("Spears", "cleaning", models=3, minutes=20.0))
    import_document(other, of_version_1(export_document(desk)))
    assert other.records() == desk.records()


@pytest.mark.parametrize("model", [None, {"columns": ["id"], "rows": [[1]]}, {"columns": [], "rows": "x"}])
def test_a_broken_document_of_the_first_version_is_refused(tmp_path: Path, model: object) -> None:
    document = of_version_1(export_document(with_spears(tmp_path))) | {"model": model}
    other = a_desk(tmp_path / "other")
    with pytest.raises(DataError, match='its part "model"'):
        import_document(other, document)
    assert other.records().units == ()
