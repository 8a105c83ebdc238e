"""Larger bases: what they take, who makes room for them, what becomes of their scenery."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from tests.desks import with_spears
from tracker.domain.problems import DataError
from tracker.domain.progress import progress_of
from tracker.domain.ranks import Block
from tracker.domain.records import Model
from tracker.store.ranks import rank_notes
from tracker.workbench.desk import Desk
from tracker.workbench.lines import Entry, log_line
from tracker.workbench.models import mark
from tracker.workbench.past import redo, undo
from tracker.workbench.ranks import ranks
from tracker.workbench.ranks_blocks import add_filler, add_large, add_multi, drop_block
from tracker.workbench.ranks_rules import RankWish, set_ranks
from tracker.workbench.ranks_say import hold, measure
from tracker.workbench.units_models import ModelWish, change_models
from tracker.workbench.whole import export_document


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    """Eight spears, four by two on 20 mm."""
    desk = with_spears(tmp_path, 8)
    set_ranks(desk, "Spears", RankWish(files=4, ranks=2, base="20x20"))
    return desk


def blocks(desk: Desk) -> tuple[Block, ...]:
    """The larger bases of the unit."""
    with desk.open() as store:
        return rank_notes(store, 1).blocks


def in_unit(desk: Desk) -> list[int]:
    """Numbers of the unit's models."""
    return [model.number for model in desk.records().models if model.unit_id == 1]


def scenery(desk: Desk) -> Model:
    """The model that stands for the larger base."""
    (found,) = (model for model in desk.records().models if model.kind == "scenery" and model.unit_id == 1)
    return found


def test_a_filler_brings_one_model_of_scenery_and_sends_those_without_a_place(desk: Desk) -> None:
    """A filler of 40x40 on 20x20 takes 2 by 2 places (arithmetic): of eight models four have none.

    The last numbers go first among those with nothing done on them.
    """
    log_line(desk, Entry("Spears", "cleaning", numbers=(7, 8)))
    add_filler(desk, "Spears", "40x40", "C1", name="well")
    assert in_unit(desk) == [1, 2, 7, 8, 9]
    assert scenery(desk).name == "well"
    assert blocks(desk) == (Block(1, "filler", 3, 1, 2, 2, 0, scenery(desk).id, "well"),)
    spares = [model for model in desk.records().models if model.unit_id is None]
    assert sorted(model.id for model in spares) == [3, 4, 5, 6]


def test_what_was_done_goes_along_with_a_spare(desk: Desk) -> None:
    """All were cleaned: four of them are spares that are cleaned."""
    log_line(desk, Entry("Spears", "cleaning", numbers=tuple(range(1, 9))))
    add_filler(desk, "Spears", "40x40", "A1")
    known = desk.records()
    spares = [model.id for model in known.models if model.unit_id is None]
    assert len(spares) == 4
    assert all(progress_of(known).is_done(model, "cleaning") for model in spares)


def test_scenery_skips_what_scenery_does_not_take(desk: Desk) -> None:
    """Every other step of the unit's route is still to do."""
    add_filler(desk, "Spears", "40x40", "A1")
    known, model = desk.records(), scenery(desk).id
    skipped = {step for (one, step), cell in progress_of(known).cells.items() if one == model}
    assert skipped
    assert skipped < set(known.units[0].route)
    assert {cell.state for (one, _), cell in progress_of(known).cells.items() if one == model} == {"skipped"}


def test_a_shared_base_saves_what_it_does_not_hold(desk: Desk) -> None:
    """Three on four places save one of eight."""
    done = add_multi(desk, "Spears", "40x40", "A1", 3)
    assert "1 model became spares" in done.sentence()
    assert in_unit(desk) == [1, 2, 3, 4, 5, 6, 7, 9]
    assert blocks(desk)[0][1:7] == ("multi-base", 1, 1, 2, 2, 3)


def test_a_large_model_stays_and_stands_on_its_base(desk: Desk) -> None:
    """One of eight on two places: one is too many."""
    add_large(desk, "Spears", "8", "40x20", "C2")
    assert in_unit(desk) == [1, 2, 3, 4, 5, 6, 8]
    assert [one.place for one in ranks(desk, "Spears").placed if one.model_id == 8] == ["C2"]


def test_where_there_is_room_nobody_leaves(desk: Desk) -> None:
    """Two more files: a filler of four places sends none of the eight away."""
    set_ranks(desk, "Spears", RankWish(files=6))
    done = add_filler(desk, "Spears", "40x40", "E1")
    assert "spares" not in done.sentence()
    assert len(in_unit(desk)) == 9


def test_a_filler_may_be_called_like_a_shared_base(desk: Desk) -> None:
    """Its kind is what was asked for, whatever its name."""
    add_filler(desk, "Spears", "40x20", "A2", name="shared base")
    assert blocks(desk)[0].kind == "filler"


@pytest.mark.parametrize("place", ["C1", "D2"])
def test_a_base_is_found_at_each_of_its_places_and_goes_with_its_scenery(desk: Desk, place: str) -> None:
    """Nothing was noted of the scenery; the sentence tells how spares come back. Undone, it is there."""
    add_filler(desk, "Spears", "40x40", "C1")
    before = export_document(desk)
    done = drop_block(desk, "Spears", place)
    after = export_document(desk)
    assert "lastcoat unit role brings them back" in done.sentence()
    assert (blocks(desk), in_unit(desk)) == ((), [1, 2, 3, 4])
    undo(desk)
    assert export_document(desk) == before
    redo(desk)
    assert export_document(desk) == after


NOTED: dict[str, Callable[[Desk], object]] = {
    "a line": lambda d: log_line(d, Entry("Spears", "priming", numbers=(9,))),
    "a mark": lambda d: mark(d, "Spears", "9", "priming", "done"),
    "a measure": lambda d: measure(d, "Spears", "9", "6 -4 0 2"),
    "a note": lambda d: change_models(d, "Spears", "9", ModelWish(note="bark from the garden")),
}


@pytest.mark.parametrize("what", NOTED)
def test_scenery_stays_where_something_was_noted_of_it(desk: Desk, what: str) -> None:
    """And the sentence says so."""
    add_filler(desk, "Spears", "40x40", "C1")
    NOTED[what](desk)
    noted = scenery(desk)
    marks = [one for one in desk.records().marks if one.model_id == noted.id]
    done = drop_block(desk, "Spears", "C1")
    assert 'Its scenery stays in "Spears"' in done.sentence()
    assert scenery(desk) == noted
    # It stands beside the unit: the places are its models' own.
    assert noted.id not in [model.model_id for model in ranks(desk, "Spears").models]
    assert [one for one in desk.records().marks if one.model_id == noted.id] == marks


def test_a_large_model_outlives_its_base(desk: Desk) -> None:
    """It takes a single place again."""
    add_large(desk, "Spears", "8", "40x20", "C2")
    drop_block(desk, "Spears", "D2")
    assert len(ranks(desk, "Spears").placed) == 7


def test_a_base_can_be_cleared_from_a_unit_that_became_too_small_for_it(desk: Desk) -> None:
    """The answer when it became smaller tells how."""
    add_filler(desk, "Spears", "40x20", "C2")
    done = set_ranks(desk, "Spears", RankWish(files=3))
    assert 'lastcoat ranks clear "Spears" --at C2' in done.sentence()
    with pytest.raises(DataError, match="takes 2x1 places"):
        ranks(desk, "Spears")
    drop_block(desk, "Spears", "C2")
    assert len(ranks(desk, "Spears").placed) == 6


def _nothing(_: Desk) -> None:
    pass


Act = Callable[[Desk], object]
REFUSED: dict[str, tuple[Act, Act]] = {
    "4 models keep rank 2, which has 2 places": (
        lambda d: hold(d, "Spears", "1-4", "back"), lambda d: add_filler(d, "Spears", "40x20", "A2"),
    ),
    "model 8 keeps B1": (
        lambda d: hold(d, "Spears", "8", "B1"), lambda d: add_filler(d, "Spears", "40x20", "A1"),
    ),
    "B2 is under the filler": (
        lambda d: add_filler(d, "Spears", "40x20", "A2"), lambda d: add_filler(d, "Spears", "20x40", "B1"),
    ),
    "model 3 has a larger base": (
        lambda d: add_large(d, "Spears", "3", "40x20", "A2"),
        lambda d: add_large(d, "Spears", "3", "40x20", "C2"),
    ),
    "6 models would be left, your minimum is 7": (
        lambda d: set_ranks(d, "Spears", RankWish(least_models=7)),
        lambda d: add_filler(d, "Spears", "40x20", "A2"),
    ),
    "one base for several models": (_nothing, lambda d: add_large(d, "Spears", "1-2", "40x20", "A2")),
    "takes 2x2 places, the unit has 4x2": (_nothing, lambda d: add_filler(d, "Spears", "40x40", "A2")),
    "cannot hold 0 models": (_nothing, lambda d: add_multi(d, "Spears", "40x40", "A1", 0)),
    "cannot hold -1 models": (_nothing, lambda d: add_multi(d, "Spears", "40x40", "A1", -1)),
    '"0x40" is no size a base can have': (_nothing, lambda d: add_filler(d, "Spears", "0x40", "A1")),
    "no larger base takes C1. There are some at: A1": (
        lambda d: add_filler(d, "Spears", "40x40", "A1"), lambda d: drop_block(d, "Spears", "C1"),
    ),
}  # fmt: skip


@pytest.mark.parametrize("what", REFUSED)
def test_what_does_not_fit_is_one_line_and_changes_nothing(desk: Desk, what: str) -> None:
    """What, and how to mend; no row differs, so no model has left."""
    prepare, act = REFUSED[what]
    prepare(desk)
    before = export_document(desk)
    with pytest.raises(DataError) as refusal:
        act(desk)
    (problem,) = refusal.value.problems
    assert what in str(problem)
    assert problem.mend
    assert "\n" not in str(problem)
    assert export_document(desk) == before
