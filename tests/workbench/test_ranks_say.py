"""What is said of a unit's ranks is stored whole, says what it was, and can be taken back."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.desks import a_desk, with_spears
from tracker.domain.problems import LastcoatError
from tracker.domain.ranks import Check, Placed, RankModel, RankNotes, RankRules, Reach
from tracker.domain.rows import RosterRow
from tracker.store.document import dump
from tracker.store.ranks import bases_before, rank_notes
from tracker.workbench.adding import add_unit
from tracker.workbench.desk import Desk
from tracker.workbench.past import redo, undo
from tracker.workbench.ranks import plan_ranks, ranks
from tracker.workbench.ranks_blocks import add_filler, add_large, add_multi, drop_block
from tracker.workbench.ranks_check import check_joint, check_places, read_clash
from tracker.workbench.ranks_rules import RankWish, set_ranks
from tracker.workbench.ranks_say import hold, measure, pose, put, take
from tracker.workbench.ranks_wish import rank_wish
from tracker.workbench.units_plan import Changed, set_plan
from tracker.workbench.units_shape import merge, retire, split, to_spares

TODAY = date(2026, 3, 10)


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    """Eight spears, four by two on 20 mm."""
    desk = with_spears(tmp_path, 8)
    set_ranks(desk, "Spears", RankWish(files=4, ranks=2, base="20x20"))
    return desk


def notes(desk: Desk, unit: int = 1) -> RankNotes:
    """What is kept of the unit."""
    with desk.open() as store:
        return rank_notes(store, unit)


def state_of(desk: Desk) -> str:
    """What differs after every change."""
    with desk.open() as store:
        return store.log_state()


def whole(desk: Desk) -> dict[str, Any]:
    """The log as a document."""
    with desk.open() as store:
        return dump(store)


ACTS: dict[str, Callable[[Desk], Changed]] = {
    "Spears: files 2, ranks 4": lambda d: set_ranks(d, "Spears", RankWish(files=2, ranks=4)),
    "Spears: base 25x25": lambda d: set_ranks(d, "Spears", RankWish(base="25x25")),
    "Spears: spare room 0.5 mm, turns any": lambda d: set_ranks(
        d, "Spears", RankWish(gap_mm=0.5, turns="any")
    ),
    "Spears: minimum models 60 % of the places": lambda d: set_ranks(d, "Spears", RankWish(least_percent=60)),
    "Spears: bands part at no height (one band)": lambda d: set_ranks(d, "Spears", RankWish(cuts_mm=())),
    "Spears 1-3: reach 6 -4 0 2": lambda d: measure(d, "Spears", "1-3", "6 -4 0 2"),
    "Spears 2: turns half, stems 0, 15 mm": lambda d: pose(d, "Spears", "2", turns="half", stems="15, 0"),
    "Spears 2: keeps B1": lambda d: hold(d, "Spears", "2", "b1"),
    "Spears 2-4: keep rank 1": lambda d: hold(d, "Spears", "2-4", "front"),
    "Spears 7: stands at B1, turned by 180": lambda d: put(d, "Spears", "7", "B1", turn=180),
    "Spears: 1's right on 2's left fits": lambda d: check_places(d, "Spears", ["A1-B1", "fits"]),
    "Spears: 1's right on 2's left clashes by 1.5 mm": lambda d: check_places(
        d, "Spears", ["B1-A1", "1,5 mm"]
    ),
    "Spears: 8 models stand as planned": lambda d: take(d, "Spears", plan_ranks(d, "Spears").placed),
    "Spears: cart of 40x40 takes B1 to C2, 4 models became spares": lambda d: add_filler(
        d, "Spears", "40x40", "B1", name="cart"
    ),
    "Spears: shared base of 40x40 takes A1 to B2, 1 model became spares": lambda d: add_multi(
        d, "Spears", "40x40", "A1", 3
    ),
    "Spears: model 3 stands on 40x20 at A2, 1 model became spares": lambda d: add_large(
        d, "Spears", "3", "40x20", "A2"
    ),
}


@pytest.mark.parametrize("words", ACTS)
def test_each_act_says_what_it_was_and_can_be_taken_back(desk: Desk, words: str) -> None:
    """And brought back, to the last row."""
    before = whole(desk)
    done = ACTS[words](desk)
    after = whole(desk)
    assert done.words() == words
    assert done.sentence().startswith(f"Stored: {words}.")
    assert after != before
    undo(desk)
    assert whole(desk) == before
    redo(desk)
    assert whole(desk) == after


def test_rules_are_kept_and_taken_away(desk: Desk) -> None:
    """Models and a share of the places are one minimum: the one said last."""
    set_ranks(desk, "Spears", RankWish(least_models=5, front_most_mm=3, margin_mm=0.5))
    assert notes(desk).rules == RankRules(margin_mm=0.5, front_most_mm=3, least_models=5)
    set_ranks(desk, "Spears", rank_wish(least="50%", front_most="none"))
    assert notes(desk).rules == RankRules(margin_mm=0.5, least_percent=50)
    set_ranks(desk, "Spears", rank_wish(least="none", bands="10,20,30"))
    assert notes(desk).rules == RankRules(cuts_mm=(10, 20, 30), margin_mm=0.5)


def test_a_base_that_is_given_up_is_remembered(desk: Desk) -> None:
    """Whichever way it changes; measures on it are not used on the new one."""
    measure(desk, "Spears", "1", "6 -4 0 2")
    set_plan(desk, "Spears", {"base": "25x25"})
    set_ranks(desk, "Spears", RankWish(base="30x30"))
    with desk.open() as store:
        assert bases_before(store, 1) == (("20x20", TODAY), ("25x25", TODAY))
    answer = ranks(desk, "Spears")
    assert not any(model.measured for model in answer.models)
    assert [doubt.code for doubt in answer.doubts] == ["other base"]


def test_a_measure_keeps_its_base_and_its_bands(desk: Desk) -> None:
    """Twelve numbers go by the unit's bands; an empty text takes it away, and turns stay."""
    pose(desk, "Spears", "1", turns="any")
    measure(desk, "Spears", "1", "6/2/. -4/-4/-1 0/0/0 2/./.")
    reach = Reach((6, 2, None), (-4, -4, -1), (0, 0, 0), (2, None, None))
    assert notes(desk).models == (RankModel(1, reach, "20x20", (14, 26), "any", (), "", TODAY),)
    measure(desk, "Spears", "1", "")
    assert notes(desk).models == (RankModel(1, turns="any"),)


def test_the_order_as_it_stands_follows_every_put(desk: Desk) -> None:
    """Who stood there changes places; a model set on an empty place leaves its own."""
    put(desk, "Spears", "8", "A1")
    assert [one.model_id for one in ranks(desk, "Spears").placed] == [8, 2, 3, 4, 5, 6, 7, 1]
    to_spares(desk, "Spears", "7")
    assert len(ranks(desk, "Spears").placed) == 7
    put(desk, "Spears", "2", "C2")
    at = {one.place: one.model_id for one in ranks(desk, "Spears").placed}
    assert at["C2"] == 2
    assert "B1" not in at or at["B1"] != 2


def test_checks_stay_with_the_models_wherever_they_go(desk: Desk) -> None:
    """Split off together they are still known to clash."""
    check_places(desk, "Spears", ["A1-B1", "2"])
    split(desk, "Spears", "1-2", "Vanguard")
    set_ranks(desk, "Vanguard", RankWish(files=2, ranks=1, base="20x20"))
    assert notes(desk, 2).checks == (Check(1, "right", 2, "left", 2, 0, 0, TODAY, "20x20"),)
    assert ranks(desk, "Vanguard").joints[0].mm == 2
    assert plan_ranks(desk, "Vanguard").status == "no clash"


def test_the_hand_check_loop_goes_on_to_its_end(desk: Desk) -> None:
    """Every flagged joint is said to fit: soon nothing is left to check."""
    measure(desk, "Spears", "all", "3 3 3 3")
    for _ in range(60):
        answer = plan_ranks(desk, "Spears")
        if not answer.to_check:
            break
        check_joint(desk, "Spears", answer.to_check[0], "fits")
    assert plan_ranks(desk, "Spears").status == "no clash"
    assert 1 <= plan_ranks(desk, "Spears").checks <= 60


def test_units_that_join_retire_or_go_lose_nothing_else(tmp_path: Path) -> None:
    """Their blocks and places go with them; the log stays whole."""
    desk = with_spears(tmp_path, 8)
    add_unit(desk, RosterRow("Bows", 4, base="20x20", files=2, ranks=2, added=TODAY))
    add_filler(desk, "Bows", "40x20", "A2")
    take(desk, "Bows", plan_ranks(desk, "Bows").placed)
    merge(desk, "Bows", "Spears")
    set_ranks(desk, "Spears", RankWish(files=4, ranks=2, base="20x20"))
    take(desk, "Spears", plan_ranks(desk, "Spears").placed)
    retire(desk, "Spears")
    assert notes(desk).placed == ()
    with desk.open() as store:
        assert store.rows("PRAGMA foreign_key_check") == []
    for _ in range(7):
        undo(desk)
    with desk.open() as store:
        assert store.rows("PRAGMA foreign_key_check") == []


REFUSED: dict[str, Callable[[Desk], object]] = {
    "nothing is said": lambda d: set_ranks(d, "Spears", RankWish()),
    "0 files are no unit": lambda d: set_ranks(d, "Spears", RankWish(files=0)),
    "10000 ranks are no unit": lambda d: set_ranks(d, "Spears", RankWish(ranks=10000)),
    '"big" is not a base size': lambda d: set_ranks(d, "Spears", RankWish(base="big")),
    '"round" is no way to turn': lambda d: set_ranks(d, "Spears", RankWish(turns="round")),
    "-1 mm cannot be": lambda d: set_ranks(d, "Spears", RankWish(gap_mm=-1)),
    "no rising heights": lambda d: set_ranks(d, "Spears", RankWish(cuts_mm=(26, 14))),
    "a minimum of 9 models is more": lambda d: set_ranks(d, "Spears", RankWish(least_models=9)),
    "a minimum of 120 % cannot be": lambda d: set_ranks(d, "Spears", RankWish(least_percent=120)),
    '"many" is no count': lambda _: rank_wish(least="many"),
    '"x" is no number of mm': lambda _: rank_wish(gap="x"),
    '"a,b" are no heights': lambda _: rank_wish(bands="a,b"),
    "is not four edges": lambda d: measure(d, "Spears", "1", "6 -4"),
    "2 height bands are said, the unit has 3": lambda d: measure(d, "Spears", "1", "1/1 1/1 1/1 1/1"),
    "no model 9": lambda d: measure(d, "Spears", "9", "6 -4 0 2"),
    "is off a base of 20 mm": lambda d: measure(d, "Spears", "1", "-21 0 0 0"),
    '"around" is no way to turn': lambda d: pose(d, "Spears", "1", turns="around"),
    "are no stem heights": lambda d: pose(d, "Spears", "1", stems="high"),
    '"E1" lies outside 4 files and 2 ranks': lambda d: hold(d, "Spears", "1", "E1"),
    '"here" is no place': lambda d: hold(d, "Spears", "1", "here"),
    "one place for several models": lambda d: hold(d, "Spears", "1-2", "A1"),
    "5 models keep rank 1, which has 4 places": lambda d: hold(d, "Spears", "1-5", "front"),
    "A3 lies outside": lambda d: put(d, "Spears", "1", "A3"),
    '"nowhere" is no place': lambda d: put(d, "Spears", "1", "nowhere"),
    "go together": lambda d: check_places(d, "Spears", ["A1-B1"]),
    '"A1" is no joint': lambda d: check_places(d, "Spears", ["A1", "fits"]),
    "do not meet edge to edge": lambda d: check_places(d, "Spears", ["A1-B2", "fits"]),
    "no two models stand at": lambda d: check_places(d, "Spears", ["D1-E1", "fits"]),
    '"loose" is nothing a dry fit can show': lambda d: check_places(d, "Spears", ["A1-B1", "loose"]),
    "the plan places no model": lambda d: take(d, "Spears", [Placed(99, 1, 1)]),
    "does not add up": lambda d: add_filler(d, "Spears", "50x50", "A1"),
    "takes one place like any other": lambda d: add_filler(d, "Spears", "20x20", "A1"),
    "takes 2x2 places, the unit has 4x2": lambda d: add_filler(d, "Spears", "40x40", "D1"),
    "cannot hold 5 models": lambda d: add_multi(d, "Spears", "40x40", "A1", 5),
    "no larger base takes A1": lambda d: drop_block(d, "Spears", "A1"),
    "has no files and ranks": lambda d: ranks(_bare(d), "Bows"),
    'there is no unit "Bow"': lambda d: ranks(d, "Bow"),
}


def _bare(desk: Desk) -> Desk:
    add_unit(desk, RosterRow("Bows", 4, added=TODAY))
    return desk


@pytest.mark.parametrize("what", REFUSED)
def test_what_cannot_be_is_one_line_and_stores_nothing(desk: Desk, what: str) -> None:
    """Where, what, and how to mend."""
    before = notes(desk)
    with pytest.raises(LastcoatError) as refusal:
        REFUSED[what](desk)
    (problem,) = refusal.value.problems
    assert what in str(problem)
    assert "\n" not in str(problem)
    assert problem.mend
    assert notes(desk) == before


@pytest.mark.parametrize(
    ("said", "mm"), [("fits", 0), (" Fits ", 0), ("0", 0), ("2", 2), ("1,5", 1.5), ("0.5 mm", 0.5)]
)
def test_what_hands_find_is_read(said: str, mm: float) -> None:
    """Point or comma, with or without mm."""
    assert read_clash(said) == mm


_MODEL = st.integers(1, 8).map(str)
_PLACE = st.sampled_from(("A1", "B1", "C1", "D1", "A2", "B2", "C2", "D2"))
_ACT = st.one_of(
    st.tuples(st.just(put), _MODEL, _PLACE),
    st.tuples(st.just(hold), _MODEL, st.one_of(_PLACE, st.sampled_from(("front", "back", "")))),
    st.tuples(st.just(measure), _MODEL, st.sampled_from(("6 -4 0 2", "-1 3 3 -2", ""))),
    st.tuples(st.just(add_filler), st.sampled_from(("40x20", "40x40")), _PLACE),
    st.tuples(st.just(add_large), _MODEL, st.just("40x20"), _PLACE),
    st.tuples(st.just(drop_block), _PLACE),
    st.tuples(st.just(to_spares), _MODEL),
)


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(_ACT, max_size=8))
def test_any_sequence_keeps_the_order_whole(
    tmp_path_factory: pytest.TempPathFactory, acts: list[Any]
) -> None:
    """No two models on one place, none both spare and placed; undone, all is as it was."""
    desk = with_spears(tmp_path_factory.mktemp("ranks"), 8)
    set_ranks(desk, "Spears", RankWish(files=4, ranks=2, base="20x20"))
    states = [whole(desk)]
    for verb, *said in acts:
        moment = state_of(desk)
        try:
            verb(desk, "Spears", *said)
        except LastcoatError:
            assert whole(desk) == states[-1]
            continue
        if state_of(desk) != moment:
            states.append(whole(desk))
        answer = ranks(desk, "Spears")
        places = [one.place for one in answer.placed]
        assert len(places) == len(set(places))
        assert len(answer.placed) == len({one.model_id for one in answer.placed})
        spares = {model.id for model in desk.records().models if model.unit_id is None}
        assert spares.isdisjoint(one.model_id for one in notes(desk).placed)
        plan_ranks(desk, "Spears")
    for state in reversed(states[:-1]):
        undo(desk)
        assert whole(desk) == state


def test_a_desk_without_a_log_says_so(tmp_path: Path) -> None:
    """One line."""
    with pytest.raises(LastcoatError):
        ranks(a_desk(tmp_path), "Spears")


def test_it_says_when_measuring_is_not_worth_it(tmp_path: Path) -> None:
    """Twenty models that all look to the front, not yet measured; with turns it is worth it."""
    desk = with_spears(tmp_path, 20)
    set_ranks(desk, "Spears", RankWish(files=5, ranks=4, base="20x20"))
    assert "not worth measuring" in [doubt.code for doubt in ranks(desk, "Spears").doubts]
    set_ranks(desk, "Spears", RankWish(turns="any"))
    assert ranks(desk, "Spears").doubts == ()


def test_two_that_fit_across_a_base_are_not_called_free_side_by_side(tmp_path: Path) -> None:
    """Wings that reach past a whole base: A1-C1 is listed, checked by its name, and says nothing of A1-B1."""
    desk = with_spears(tmp_path, 3)
    set_ranks(desk, "Spears", RankWish(files=3, ranks=1, base="20x20", cuts_mm=()))
    measure(desk, "Spears", "1,3", "-5 15 -5 15")
    far = ranks(desk, "Spears").joints[-1]
    assert (far.first_place, far.second_place) == ("A1", "C1")
    check_places(desk, "Spears", ["A1-C1", "fits"], as_it_stands=True)
    assert all((one.first_place, one.second_place) != ("A1", "C1") for one in ranks(desk, "Spears").joints)
    put(desk, "Spears", "3", "B1")
    (near,) = (one for one in ranks(desk, "Spears").joints if one.second_place == "B1")
    assert near.mm == 20
