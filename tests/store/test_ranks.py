"""What is kept of a unit's ranks comes back as it was, and goes with what it belongs to."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Literal

import pytest

from tests.desks import NOW, a_desk, with_spears
from tests.store.test_migrations import an_old_log
from tracker.domain.problems import DataError
from tracker.domain.ranks import Block, Check, Placed, RankModel, RankNotes, RankRules, Reach
from tracker.store.document import NEW_IN_4
from tracker.store.goals import goals_follow
from tracker.store.models import delete_models, move_models, untouched
from tracker.store.ranks import (
    bases_before,
    delete_block,
    insert_block,
    rank_notes,
    set_check,
    set_places,
    set_rank_model,
    set_rule,
)
from tracker.store.units import delete_unit, move_history, update_unit
from tracker.workbench.desk import Desk
from tracker.workbench.past import undo
from tracker.workbench.whole import export_document, import_document

DAY = date(2026, 3, 12)
REACH = Reach((6, None), (-4, 3), (0, 0), (None, -20))


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    """The old log of schema 4: models 1, 2 and more in unit 1."""
    return an_old_log(tmp_path / "old", 4)


def notes(desk: Desk) -> RankNotes:
    """Those of unit 1."""
    with desk.open() as store:
        return rank_notes(store, 1)


def test_what_is_written_is_read(desk: Desk) -> None:
    """Each kind replaces its own kind, and a dry fit the one of the same two edges."""
    rules = RankRules((10, 20, 30), 0.25, 0.0, "any", None, None, 62.5)
    model = RankModel(2, REACH, "25x25", (14,), "half", (0, 30), "rank 2", DAY)
    with desk.open() as store, store.change("test"):
        set_rule(store, 1, rules)
        set_rank_model(store, model)
        set_places(store, 1, [Placed(2, 1, 1), Placed(1, 2, 1, 270, 30)])
        set_check(store, Check(1, "right", 2, "left", 0.0, 0, 0, DAY, "25x25"))
        set_check(store, Check(1, "back", 2, "front", 2.25, 15, 0, DAY, "25x25"))
        delete_block(store, rank_notes(store, 1).blocks[0].id)
        insert_block(store, 1, Block(0, "large model", 1, 1, 2, 2, 1, 2, "ogre"))
    kept = notes(desk)
    assert kept.rules == rules
    assert kept.models[1] == model
    assert kept.placed == (Placed(2, 1, 1), Placed(1, 2, 1, 270, 30))
    assert [check.mm for check in kept.checks] == [0.0, 2.25]
    assert kept.blocks[0]._replace(id=0) == Block(0, "large model", 1, 1, 2, 2, 1, 2, "ogre")


def test_a_model_that_moves_keeps_its_measures_and_leaves_its_place(desk: Desk) -> None:
    """Undone, it stands again."""
    before = notes(desk)
    with desk.open() as store, store.change("test"):
        move_models(store, [1], None)
    assert 1 not in [one.model_id for one in notes(desk).placed]
    with desk.open() as store:
        assert store.rows("SELECT count(*) FROM rank_model WHERE model_id = 1") == [(1,)]
        assert store.rows("SELECT count(*) FROM rank_check WHERE first = 1") == [(1,)]
    undo(desk)
    assert notes(desk) == before


def test_a_dry_fit_is_kept_once_whichever_model_is_said_first(desk: Desk) -> None:
    """And on the day it was said, where no other is given (the clock of the tests)."""
    with desk.open() as store, store.change("test"):
        set_check(store, Check(2, "left", 1, "right", 0.5, base="25x25"))
    assert notes(desk).checks == (Check(1, "right", 2, "left", 0.5, 0, 0, NOW.date(), "25x25"),)


@pytest.mark.parametrize("kind", ["filler", "multi-base"])
def test_a_larger_base_stays_where_its_scenery_goes(
    desk: Desk, kind: Literal["filler", "multi-base"]
) -> None:
    """It lets go of the model, so that dropping it later takes nothing out of another unit."""
    with desk.open() as store, store.change("test"):
        number = insert_block(store, 1, Block(0, kind, 3, 1, 2, 1, 0, 2, "rock"))
    before = notes(desk)
    with desk.open() as store, store.change("test"):
        move_models(store, [2], None)
    assert notes(desk).blocks[-1] == Block(number, kind, 3, 1, 2, 1, 0, None, "rock")
    undo(desk)
    assert notes(desk) == before


def test_a_kept_place_is_one_of_the_unit_it_was_said_in(desk: Desk) -> None:
    """Model 1 keeps A1 of its unit; with the spares it keeps none, and its measure stays."""
    kept = notes(desk).models[0]
    with desk.open() as store, store.change("test"):
        move_models(store, [1], None)
        move_models(store, [1], 1)
    assert (kept.place, notes(desk).models[0]) == ("A1", kept._replace(place=""))


def test_a_unit_that_goes_takes_its_rows_along(desk: Desk) -> None:
    """Its models live on elsewhere with what was measured of them; undone, all is as it was."""
    before = notes(desk)
    with desk.open() as store, store.change("test"):
        move_models(store, [row[0] for row in store.rows("SELECT id FROM model WHERE unit_id = 1")], None)
        move_history(store, 1, 2)
        goals_follow(store, 1, 2)
        delete_unit(store, 1)
        assert store.rows("PRAGMA foreign_key_check") == []
        for table in ("rank_rule", "rank_block", "rank_place", "base_before"):
            assert store.rows(f"SELECT count(*) FROM {table} WHERE unit_id = 1") == [(0,)]
        assert store.rows("SELECT count(*) FROM rank_model") == [(1,)]
        assert store.rows("SELECT count(*) FROM rank_check") == [(1,)]
    undo(desk)
    assert notes(desk) == before


def test_a_model_that_is_taken_out_takes_its_rows_along(desk: Desk) -> None:
    """Nothing points to a model that is not there."""
    with desk.open() as store, store.change("test"):
        store.connection.execute("DELETE FROM line_model WHERE model_id = 2")
        store.connection.execute("DELETE FROM mark WHERE model_id = 2")
        delete_models(store, [2])
        assert store.rows("PRAGMA foreign_key_check") == []
    assert notes(desk).checks == ()


def test_bases_are_remembered_once_each_time_they_change(tmp_path: Path) -> None:
    """Not when the same is said again, nor when there was none."""
    with with_spears(tmp_path).open() as store, store.change("test"):
        for base in ("20x20", "25x25", "25x25", "30x30", "", "40x40"):
            update_unit(store, 1, {"base": base})
        assert [base for base, _ in bases_before(store, 1)] == ["20x20", "25x25", "30x30"]


def test_ranks_travel_and_a_document_of_the_third_version_is_read(desk: Desk, tmp_path: Path) -> None:
    """Exact both ways; the third version knew no ranks."""
    document, other = export_document(desk), a_desk(tmp_path / "other")
    import_document(other, document)
    assert export_document(other) == document
    third = {key: value for key, value in document.items() if key not in NEW_IN_4} | {"version": 3}
    older = a_desk(tmp_path / "older")
    import_document(older, third)
    assert older.records() == desk.records()
    assert notes(older) == RankNotes()


@pytest.mark.parametrize(
    ("column", "text"),
    [
        ("front", "abc"),
        ("left", "1 2"),
        ("stems", "high"),
        ("cuts", "26,14"),
        ("cuts", ""),
        ("back", "1 2 .5"),
    ],
)
def test_a_document_with_measures_that_are_none_is_refused_whole(
    desk: Desk, tmp_path: Path, column: str, text: str
) -> None:
    """Nothing of it is read, and nothing fails later."""
    document, other = export_document(desk), a_desk(tmp_path / "other")
    part = document["rank_model"]
    part["rows"][0][part["columns"].index(column)] = text
    with pytest.raises(DataError, match="cannot be read"):
        import_document(other, document)
    assert other.records().units == ()


def test_a_measured_model_is_not_taken_for_untouched(tmp_path: Path) -> None:
    """A smaller count on a list does not take out what a ruler was held to."""
    with with_spears(tmp_path, 3).open() as store, store.change("test"):
        set_rank_model(store, RankModel(3, REACH, "20x20", (14,)))
        assert untouched(store, 1) == [2, 1]


@pytest.mark.parametrize(
    ("table", "column"), [("rank_rule", "gap_mm"), ("rank_rule", "margin_mm"), ("rank_check", "mm")]
)
def test_a_document_with_an_endless_number_is_refused_whole(
    desk: Desk, tmp_path: Path, table: str, column: str
) -> None:
    """JSON has no word for it, but 1e999 is read as one (IEEE 754: beyond the largest double)."""
    document, other = export_document(desk), a_desk(tmp_path / "other")
    part = document[table]
    part["rows"][0][part["columns"].index(column)] = float("1e999")
    with pytest.raises(DataError, match="cannot be read"):
        import_document(other, document)
    assert other.records().units == ()
