"""What would free a unit, checked by doing it."""

from __future__ import annotations

from random import Random

from tests.ranking.units import Unit, random_reach, reach
from tracker.domain.bases import Base
from tracker.domain.ranks import RankModel, RankNotes, RankRules, Reach
from tracker.ranking.board import Board, make_board
from tracker.ranking.cures import cures, room_cures, with_calm
from tracker.ranking.plan import plan

_ONE_BAND = RankRules(cuts_mm=(), margin_mm=0)


def _with(unit: Unit, notes: RankNotes) -> Board:
    return make_board(unit.files, unit.ranks, unit.base, unit.text, unit.ids, notes)


def test_one_gap_of_the_worst_clash_frees_the_unit() -> None:
    """Source: done, on units nobody selected."""
    for seed in range(10):
        random = Random(seed)
        unit = Unit(4, 2, [random_reach(random, high=8) for _ in range(8)], _ONE_BAND)
        best = unit.plan()
        room = room_cures(unit.board(), best)
        unit.notes = unit.notes._replace(rules=_ONE_BAND._replace(gap_mm=room.gap_mm))
        assert unit.score(best.placed).total_mm == 0
        assert room.slid_wider_mm <= room.wider_mm <= best.total_mm


def test_room_along_files_and_ranks_by_hand() -> None:
    """Two ranks of three: worst per file joint 4 and 2, front to back 3; by hand."""
    models = [reach(0, 4), reach(0, 1), reach(0, 0), reach(0, 3), reach(0, 2), reach(0, 0, front=3)]
    unit = Unit(3, 2, models, _ONE_BAND)
    unit.notes = unit.notes._replace(
        models=tuple(
            one._replace(reach=one.reach and one.reach._replace(back=(0,))) for one in unit.notes.models
        )
    )
    room = room_cures(unit.board(), unit.score())
    assert (room.wider_mm, room.slid_wider_mm, room.deeper_mm) == (6, 5, 3)


def test_fewest_calm_models_are_found_and_free_the_unit() -> None:
    """Two tall ones side by side: one of them calm is enough."""
    unit = Unit(2, 1, [reach(6, 6), reach(6, 6)], _ONE_BAND)
    best = unit.plan()
    found = cures(unit.board(), best, unit.notes, lambda notes: _with(unit, notes))
    assert found.calm_models == 1
    assert len(found.calm_ids) == 1


def test_calm_models_do_not_take_kept_places() -> None:
    """Both are held: nothing can be replaced."""
    models = [RankModel(0, reach(6, 6), place="A1"), RankModel(0, reach(6, 6), place="B1")]
    unit = Unit(2, 1, models, _ONE_BAND)
    assert with_calm(unit.board(), 1).allowed[:2] == (frozenset({0}), frozenset({1}))
    assert cures(unit.board(), unit.plan(), unit.notes, lambda notes: _with(unit, notes)).calm_models is None


def test_turns_that_are_not_allowed_are_tried() -> None:
    """Back to back they would stand."""
    unit = Unit(2, 1, [Reach((-5,), (6,), (-5,), (6,)), Reach((-5,), (6,), (-5,), (6,))], _ONE_BAND)
    found = cures(unit.board(), unit.plan(), unit.notes, lambda notes: _with(unit, notes))
    assert found.turns_help


def test_one_more_stem_is_tried_where_there_are_stems() -> None:
    """Wings 10 mm thick on the same stem; one 10 mm higher passes over."""
    cuts = (10, 20)
    wings = Reach((-9, None, None), (15, None, None), (-9, None, None), (15, None, None))
    rules = RankRules(cuts_mm=cuts, margin_mm=0)
    flyer = RankModel(0, wings, cuts_mm=cuts, stems_mm=(0,))
    unit = Unit(2, 1, [flyer, flyer], rules, base=Base("rectangle", 40, 40))
    best = plan(unit.board, start=unit.now)
    assert best.status != "no clash"
    assert cures(unit.board(), best, unit.notes, lambda notes: _with(unit, notes)).stem_mm == 10
