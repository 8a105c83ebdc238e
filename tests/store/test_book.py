"""What the bench book keeps comes back as it was, goes with what it belongs to, and is undone."""

from __future__ import annotations

from datetime import date, datetime
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from tests.desks import a_desk
from tests.store.test_migrations import an_old_log
from tracker.domain.cures import Cure, Dried, LeadFree
from tracker.domain.keeping import Keeping, Role
from tracker.domain.photos import Photo
from tracker.domain.problems import DataError
from tracker.domain.recipes import PaintOut, Recipe, RecipeStep, RecipeUse, RecipeVersion
from tracker.domain.sources import Deal, DealModel, ListTarget
from tracker.store.book import TABLES, change, drop, every, keep
from tracker.store.document import NEW_IN_5
from tracker.store.evenings import delete_lines
from tracker.store.models import delete_models, is_spoken_of, move_models
from tracker.store.schema5 import COLUMNS
from tracker.store.units import delete_unit, move_history
from tracker.workbench.desk import Desk
from tracker.workbench.past import redo, undo
from tracker.workbench.whole import export_document, import_document

DAY = date(2026, 3, 1)
KEPT: tuple[tuple[Any, ...], ...] = (
    Recipe(1, "Red cloaks", "red cloaks", "", DAY),
    Recipe(2, "Blue cloaks", "blue cloaks", "", DAY),
    RecipeVersion(1, 1, 1, None, "black", "first", DAY),
    RecipeVersion(2, 1, 2, None, "black", "redder", DAY),
    RecipeVersion(3, 2, 1, 1, "white", "", DAY),
    RecipeStep(
        1, 1, 1, "cloth", "base", "dark red", "2:1", "water", "big brush", "matt", "probable", "#7a1f1f",
        "metals after",
    ),
    RecipeStep(2, 2, 1, "cloth", "base", "mid red"),
    RecipeUse(1, 1, 1, None, DAY),
    RecipeUse(2, 2, None, 1, DAY),
    PaintOut(1, "dark red", "dark red", "mid red", DAY),
    Keeping(1, 1, 28.5, "metal", "20x20", "primed", "drawer 2", ("spear", "shield")),
    Role(1, 1, "standard bearer", "", "20x20", 30.0, ("banner",), 2, "for good", DAY),
    Deal(1, "bought", "a club table", Decimal("12.50"), "EUR", Decimal("3"), "", "", DAY),
    DealModel(1, 1, 1),
    ListTarget(1, 1, 1000.0),
    Photo(1, "0" * 64 + ".jpg", 1, 1, "cleaning", 640, 480, "before", DAY),
    Cure(1, "putty", 1, datetime(2026, 3, 1, 21, 30), 4, 16, 24, None),
    Dried(1, 1, datetime(2026, 3, 1, 23, 0)),
    LeadFree(1, 1, DAY),
)  # fmt: skip


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    """The old log of schema 5, with a record of every kind."""
    return an_old_log(tmp_path / "old", 5)


def kept(desk: Desk) -> tuple[tuple[Any, ...], ...]:
    with desk.open() as store:
        found: list[tuple[Any, ...]] = []
        for kind in TABLES:
            found += every(store, kind)
        return tuple(found)


def test_the_book_of_schema_5_is_there(desk: Desk) -> None:
    assert kept(desk) == KEPT


def test_every_table_has_its_record_and_every_column_its_field() -> None:
    assert {table: ("id", "uid", *kind._fields[1:]) for kind, table in TABLES.items()} == COLUMNS  # type: ignore[attr-defined]


def test_the_book_travels_with_the_log_and_is_undone(desk: Desk, tmp_path: Path) -> None:
    (tmp_path / "other").mkdir()
    other = a_desk(tmp_path / "other")
    import_document(other, export_document(desk))
    assert export_document(other) == export_document(desk)
    undo(other)
    assert kept(other) == ()
    redo(other)
    assert kept(other) == KEPT


def test_a_document_of_the_fourth_version_is_read(desk: Desk, tmp_path: Path) -> None:
    (tmp_path / "other").mkdir()
    other = a_desk(tmp_path / "other")
    document = export_document(desk)
    old = {key: value for key, value in document.items() if key not in NEW_IN_5} | {"version": 4}
    import_document(other, old)
    assert other.records().lines == desk.records().lines
    assert kept(other) == ()


@pytest.mark.parametrize(
    ("table", "column", "value"),
    [("deal", "amount", "a lot"), ("deal", "amount", "NaN"), ("cure", "begun_at", "2026-13-01T10:00")],
)
def test_what_cannot_be_read_is_refused(
    desk: Desk, tmp_path: Path, table: str, column: str, value: str
) -> None:
    (tmp_path / "other").mkdir()
    document = export_document(desk)
    part = document[table]
    part["rows"][0][part["columns"].index(column)] = value
    with pytest.raises(DataError, match=r"cannot be read|does not fit"):
        import_document(a_desk(tmp_path / "other"), document)


def test_a_record_is_changed_and_dropped(desk: Desk) -> None:
    with desk.open() as store, store.change("book"):
        change(store, KEPT[12]._replace(amount=Decimal("0.10")))  # type: ignore[attr-defined]
        drop(store, KEPT[14])
        assert every(store, Deal)[0].amount == Decimal("0.10")
        assert every(store, ListTarget) == ()
        assert keep(store, KEPT[14]) > 0
    assert len(kept(desk)) == len(KEPT)


def test_a_model_that_leaves_its_unit_keeps_all_but_its_role(desk: Desk) -> None:
    with desk.open() as store, store.change("book"):
        move_models(store, [1, 2], None)
        assert every(store, Role) == (KEPT[11]._replace(model_id=None, stand_in=""),)  # type: ignore[attr-defined]
        assert len(every(store, Keeping)) == len(every(store, Photo)) == len(every(store, DealModel)) == 1
        assert is_spoken_of(store, 1)


def test_a_model_or_line_that_goes_leaves_nothing(desk: Desk) -> None:
    with desk.open() as store, store.change("book"):
        delete_lines(store, [1, 2])
        delete_models(store, [1, 2])
        assert not every(store, Dried) + every(store, Keeping) + every(store, Photo)
        assert every(store, DealModel) == ()
        assert every(store, Role)[0].model_id is None


def test_a_unit_that_joins_another_brings_its_book(desk: Desk) -> None:
    with desk.open() as store, store.change("book"):
        move_models(store, [model for (model,) in store.rows("SELECT id FROM model WHERE unit_id = 1")], 2)
        move_history(store, 1, 2)
        store.connection.execute("DELETE FROM goal_unit")
        store.connection.execute("DELETE FROM rank_check")
        delete_unit(store, 1)
        assert [use.unit_id for use in every(store, RecipeUse)] == [2, None]
        assert [role.unit_id for role in every(store, Role)] == [2]
        assert [photo.unit_id for photo in every(store, Photo)] == [2]
        # One of the two was not known to be free of lead, so the whole is not.
        assert every(store, LeadFree) == ()
