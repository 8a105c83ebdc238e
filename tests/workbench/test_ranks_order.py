"""The order a unit stands in: refused where it cannot be, whole whatever is done, the same in a document."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.desks import NOW, a_desk, with_spears
from tracker.domain.problems import DataError, LastcoatError
from tracker.domain.ranks import Placed, RankNotes
from tracker.domain.rows import RosterRow
from tracker.store.ranks import rank_notes
from tracker.workbench.adding import add_unit
from tracker.workbench.desk import Desk
from tracker.workbench.models import leave, mark
from tracker.workbench.past import redo, undo
from tracker.workbench.ranks import plan_ranks, ranks
from tracker.workbench.ranks_blocks import add_filler, add_large, add_multi, drop_block
from tracker.workbench.ranks_check import check_places
from tracker.workbench.ranks_rules import RankWish, set_ranks
from tracker.workbench.ranks_say import hold, measure, pose, put, take
from tracker.workbench.units_plan import set_plan
from tracker.workbench.units_shape import give_role, merge, split, to_spares
from tracker.workbench.whole import export_document, import_document


def two_units(folder: Path) -> Desk:
    """Eight spears, four by two, and four bows, two by two, on 20 mm."""
    desk = with_spears(folder, 8)
    set_ranks(desk, "Spears", RankWish(files=4, ranks=2, base="20x20"))
    add_unit(desk, RosterRow("Bows", 4, base="20x20", files=2, ranks=2, added=NOW.date()))
    return desk


def notes(desk: Desk, unit: int = 1) -> RankNotes:
    """What is kept of the unit."""
    with desk.open() as store:
        return rank_notes(store, unit)


def _onto_its_own(desk: Desk) -> object:
    add_large(desk, "Spears", "3", "40x20", "A2")
    return put(desk, "Spears", "3", "A1")


def _scenery(desk: Desk, act: Callable[..., object]) -> object:
    add_filler(desk, "Spears", "40x20", "A2")
    return act(desk, "Spears", "9", "A1")


def _stale(desk: Desk) -> object:
    planned = plan_ranks(desk, "Spears").placed
    add_filler(desk, "Spears", "40x20", "A2")
    return take(desk, "Spears", planned)


REFUSED: dict[str, Callable[[Desk], object]] = {
    "45 is no": lambda d: put(d, "Spears", "1", "A1", turn=45),
    "a stem higher by -1 mm cannot be": lambda d: put(d, "Spears", "1", "A1", stem=-1),
    "mm cannot be. Say 0 to 300": lambda d: put(d, "Spears", "1", "A1", stem=10**30),
    "model 3 goes with the large model at A2": _onto_its_own,
    "model 9 goes with the filler at A2": lambda d: _scenery(d, put),
    "goes with the filler at A2. Clear": lambda d: _scenery(d, hold),
    "does not fit the unit any more": _stale,
    "this order does not fit": lambda d: take(d, "Spears", [Placed(1, 9, 9)]),
    "this order does": lambda d: take(d, "Spears", [Placed(1, 1, 1), Placed(2, 1, 1)]),
    "this order": lambda d: take(d, "Spears", [Placed(1, 1, 1), Placed(1, 2, 1)]),
    "45 is no turn. Say 0, 90": lambda d: take(d, "Spears", [Placed(1, 1, 1, 45)]),
}


@pytest.mark.parametrize("what", REFUSED)
def test_an_order_that_cannot_be_is_one_line_and_keeps_none(tmp_path: Path, what: str) -> None:
    """What, and how to mend, in words of the desk and not of the database."""
    desk = two_units(tmp_path)
    with pytest.raises(DataError) as refusal:
        REFUSED[what](desk)
    (problem,) = refusal.value.problems
    assert what in str(problem)
    assert problem.mend
    assert "constraint" not in str(problem)
    assert notes(desk).placed == ()


def test_places_outside_of_a_smaller_unit_are_freed_one_by_one(tmp_path: Path) -> None:
    """The answer when it became smaller tells how; until then its ranks say what is wrong."""
    desk = two_units(tmp_path)
    hold(desk, "Spears", "1", "D1")
    hold(desk, "Spears", "2", "D2")
    done = set_ranks(desk, "Spears", RankWish(files=3))
    assert "2 models keep a place outside" in done.sentence()
    with pytest.raises(DataError, match="lies outside"):
        ranks(desk, "Spears")
    hold(desk, "Spears", "1", "")
    hold(desk, "Spears", "2", "")
    assert len(ranks(desk, "Spears").placed) == 6


def test_one_model_stands_as_planned(tmp_path: Path) -> None:
    """One, not several."""
    desk = two_units(tmp_path)
    assert take(desk, "Spears", [Placed(5, 2, 1)]).words() == "Spears: 1 model stands as planned"


_UNIT = st.sampled_from(("Spears", "Spears", "Spears", "Bows"))
_MODEL = st.integers(1, 9).map(str)
_SOME = st.sampled_from(("1", "2-3", "last 2", "all", "9"))
_PLACE = st.sampled_from(("A1", "B1", "C1", "D1", "A2", "B2", "C2", "D2"))
_SIZE = st.sampled_from(("40x20", "20x40", "40x40"))
_RULE = st.sampled_from(
    (
        RankWish(files=3), RankWish(files=4, ranks=2), RankWish(base="25x25"), RankWish(base="20x40"),
        RankWish(turns="any", gap_mm=0.5), RankWish(cuts_mm=()), RankWish(least_percent=50),
    )
)  # fmt: skip


def _take_plan(desk: Desk, unit: str) -> object:
    return take(desk, unit, plan_ranks(desk, unit).placed)


_ACT = st.one_of(
    st.tuples(st.just(put), _UNIT, _MODEL, _PLACE),
    st.tuples(st.just(hold), _UNIT, _SOME, st.one_of(_PLACE, st.sampled_from(("front", "back", "")))),
    st.tuples(st.just(measure), _UNIT, _SOME, st.sampled_from(("6 -4 0 2", "0/9/1 3/3/. 0/0/0 2/./.", ""))),
    st.tuples(st.just(lambda d, u, m, said: pose(d, u, m, turns=said)), _UNIT, _SOME,
              st.sampled_from(("any", "half", ""))),
    st.tuples(st.just(lambda d, u, *said: check_places(d, u, said, as_it_stands=True)), _UNIT,
              st.sampled_from(("A1-B1", "A1-A2")), st.sampled_from(("fits", "1,5"))),
    st.tuples(st.just(_take_plan), _UNIT),
    st.tuples(st.just(set_ranks), _UNIT, _RULE),
    st.tuples(st.just(set_plan), _UNIT, st.sampled_from(({"base": "25x25"}, {"files": 2}, {"ranks": None}))),
    st.tuples(st.just(add_filler), _UNIT, _SIZE, _PLACE),
    st.tuples(st.just(add_multi), _UNIT, _SIZE, _PLACE, st.integers(1, 3)),
    st.tuples(st.just(add_large), _UNIT, _MODEL, _SIZE, _PLACE),
    st.tuples(st.just(drop_block), _UNIT, _PLACE),
    st.tuples(st.just(mark), _UNIT, _SOME, st.just("priming"), st.sampled_from(("done", "skipped"))),
    st.tuples(st.just(to_spares), _UNIT, _SOME),
    st.tuples(st.just(lambda d, u: give_role(d, [1], u)), _UNIT),
    st.tuples(st.just(leave), _UNIT, _SOME, st.just("sold")),
    st.tuples(st.just(split), _UNIT, _SOME, st.just("Vanguard")),
    st.tuples(st.just(merge), st.just("Bows"), st.just("Spears")),
)  # fmt: skip


def assert_whole(desk: Desk) -> None:
    """No two on one place or of one base, none placed that is not of the unit, nothing points nowhere."""
    known = {model.id: model for model in desk.records().models}
    with desk.open() as store:
        assert store.rows("PRAGMA foreign_key_check") == []
        placed = store.rows("SELECT model_id, unit_id FROM rank_place")
        larger = store.rows("SELECT model_id, unit_id FROM rank_block WHERE model_id IS NOT NULL")
    for model, unit in (*placed, *larger):
        assert (known[model].unit_id, known[model].left_on) == (unit, None)
    assert {model for model, _ in placed}.isdisjoint(model for model, _ in larger)
    for unit in desk.records().units:
        try:
            answer = ranks(desk, unit.name)
        except LastcoatError:
            continue
        assert len({one.place for one in answer.placed}) == len(answer.placed)
        assert len({one.model_id for one in answer.placed}) == len(answer.placed)
        everyone = {one.model_id for one in answer.placed} | set(answer.bench)
        assert everyone == {one.model_id for one in answer.models}


@settings(max_examples=20, deadline=None)
@given(st.lists(_ACT, max_size=12))
def test_whatever_is_done_the_order_is_whole_and_can_be_taken_back(
    tmp_path_factory: pytest.TempPathFactory, acts: list[Any]
) -> None:
    """A refusal changes nothing; a document brings all of it elsewhere; undo and redo go the same way."""
    desk = two_units(tmp_path_factory.mktemp("ranks"))
    states = [export_document(desk)]
    for verb, *said in acts:
        try:
            verb(desk, *said)
        except LastcoatError:
            assert export_document(desk) == states[-1]
            continue
        if (state := export_document(desk)) != states[-1]:
            states.append(state)
            assert_whole(desk)
    other = a_desk(tmp_path_factory.mktemp("other"))
    import_document(other, states[-1])
    assert export_document(other) == states[-1]
    for state in reversed(states[:-1]):
        while export_document(desk) != state:
            undo(desk)
    for state in states[1:]:
        while export_document(desk) != state:
            redo(desk)
