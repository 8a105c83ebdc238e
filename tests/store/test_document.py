"""The whole log as a document: exact both ways, and documents of the first version are still read."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest

from tests.desks import a_desk, with_spears
from tracker.domain.problems import DataError
from tracker.domain.records import Declared, Goal
from tracker.domain.rows import RosterRow
from tracker.store.declared import insert_declared
from tracker.store.document import NEW_IN_3
from tracker.store.goals import insert_goal
from tracker.workbench.adding import add_unit
from tracker.workbench.lamp import lamp_on, lamp_pause, lamp_state
from tracker.workbench.lines import Entry, log_line
from tracker.workbench.past import undo
from tracker.workbench.units_models import ModelWish, change_models
from tracker.workbench.units_shape import merge
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


def test_plans_and_goals_travel_and_a_document_of_the_second_version_is_read(tmp_path: Path) -> None:
    desk, other, older = with_spears(tmp_path), a_desk(tmp_path / "other"), a_desk(tmp_path / "older")
    day = date(2026, 3, 10)
    with desk.open() as store, store.change("plan", "every Tuesday"):
        insert_declared(store, Declared(0, "evenings", day, rule="FREQ=WEEKLY;BYDAY=TU", without=(day,)))
        insert_goal(store, Goal(0, "Club day", date(2026, 5, 1), (1,), points=100.0, said_on=day))
    document = export_document(desk)
    import_document(other, document)
    assert other.records() == desk.records()
    second = {key: value for key, value in document.items() if key not in NEW_IN_3} | {"version": 2}
    import_document(older, second)
    assert older.records() == desk.records()._replace(declared=(), goals=())


def test_a_goal_follows_a_unit_that_joins_another(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    add_unit(desk, RosterRow("Old spears", 4))
    with desk.open() as store, store.change("goal", "Club day"):
        insert_goal(store, Goal(0, "Club day", date(2026, 5, 1), (2,)))
        insert_goal(store, Goal(0, "Both", date(2026, 6, 1), (1, 2)))
    before = desk.records()
    merge(desk, "Old spears", "Spears")
    assert [goal.unit_ids for goal in desk.records().goals] == [(1,), (1,)]
    undo(desk)
    assert desk.records() == before
