"""What stands in the tables of the puzzle: claims and checks, near and far, and larger bases."""

from __future__ import annotations

from itertools import product
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.ranking.units import Unit, random_reach, reach
from tracker.domain.answers_ranks import Joint
from tracker.domain.bases import Base
from tracker.domain.problems import DataError
from tracker.domain.ranks import EDGES, Block, Check, Edge, Placed, RankModel, RankRules, Reach, canonical
from tracker.ranking.board import Board
from tracker.ranking.layout import Cell, touching
from tracker.ranking.plan import edge_to_edge_mm, joint_between

_ONE_BAND = RankRules(cuts_mm=(), margin_mm=0)
_LARGE = Block(1, "large model", 1, 1, 2, 2, 1, 1)
_SHARED = Block(1, "multi-base", 1, 1, 2, 2, 3, 9)


def _checks(random: Random, models: int, many: int) -> list[Check]:
    out = []
    for _ in range(many):
        first, second = random.sample(range(1, models + 1), 2)
        edges = random.choice(EDGES), random.choice(EDGES)
        out.append(canonical(Check(first, edges[0], second, edges[1], random.choice((0, 1.5, 25)))))
    return out


def _entries(board: Board) -> list[tuple[int, float, bool]]:
    """(micrometres in the table, mm by the rule, whether checked) of all that can meet at every link."""
    near = {(joint.first, joint.second): joint for joint in board.near}
    return [
        (board.puzzle.tables[link.table][one][two], *board.clash(a, b, near[link.first, link.second]))
        for link in board.puzzle.links
        for (one, a), (two, b) in product(enumerate(board.states), repeat=2)
        if a.model_id != b.model_id
    ]


@settings(max_examples=15, deadline=None)
@given(st.integers(0, 10**6), st.sampled_from((0.0, 2.0)), st.sampled_from((0.0, 1.0)))
def test_the_tables_hold_what_the_rule_says(seed: int, gap: float, margin: float) -> None:
    """Every pair of states, checked or not, next to each other or with a place between."""
    random = Random(seed)
    models = [random_reach(random, high=18, bands=3) for _ in range(4)]
    rules = RankRules(turns="any", gap_mm=gap, margin_mm=margin)
    unit = Unit(3, 2, [*models, None], rules, checks=_checks(random, 4, 6))
    assert all(um == round(mm * 1000) for um, mm, _ in _entries(unit.board()))
    assert all(
        um == (round(mm * 1000) if checked else round(mm * 500))
        for um, mm, checked in _entries(unit.board(0.5))
    )


@pytest.mark.parametrize(("first_edge", "second_edge"), list(product(EDGES, EDGES)))
def test_a_check_holds_wherever_the_same_two_edges_meet(first_edge: Edge, second_edge: Edge) -> None:
    """Of all 64 ways two models meet, the four that show these edges are checked, the others claimed."""
    check = Check(1, first_edge, 2, second_edge, 3.5)
    rules = _ONE_BAND._replace(turns="any")
    unit = Unit(2, 2, [reach(1, 1, 1, 1), reach(1, 1, 1, 1), None, None], rules, checks=[check])
    checked = []
    for (one, two), turns, (file, rank) in product(
        ((1, 2), (2, 1)), product((0, 90, 180, 270), repeat=2), ((2, 1), (1, 2))
    ):
        placed = [Placed(one, 1, 1, turns[0]), Placed(two, file, rank, turns[1])]
        (joint,) = unit.score(placed).joints
        assert joint.mm == (3.5 if joint.checked else 2)
        edges = {joint.first: joint.first_edge, joint.second: joint.second_edge}
        assert joint.checked is (edges == {1: first_edge, 2: second_edge})
        checked += [joint] * joint.checked
    assert len(checked) == 4


def _wings(*checks: Check) -> Unit:
    """Two that reach 18 mm to each side of a 20 mm base, a place between them."""
    return Unit(3, 1, [reach(18, 18), reach(-20, -20), reach(18, 18)], checks=checks)


def test_what_reaches_over_a_whole_place_meets_the_one_after_it() -> None:
    """18 + 18 - 20. Source: worked by hand."""
    (far,) = _wings().score().joints
    assert (far.first_place, far.second_place, far.mm, far.checked) == ("A1", "C1", 16, False)


@pytest.mark.parametrize(("found", "left"), [(0, []), (20, []), (33, [(13, True)])])
def test_a_check_edge_to_edge_counts_less_the_bases_between(found: float, left: list[object]) -> None:
    """So that a joint with a place between can be settled by hand too. Source: worked by hand."""
    joints = _wings(Check(1, "right", 3, "left", found)).score().joints
    assert [(joint.mm, joint.checked) for joint in joints] == left


def test_what_was_tried_across_a_base_is_kept_as_edge_to_edge() -> None:
    """Found plus what is between; then the plan shows what hands found."""
    base = Base("rectangle", 20, 30)
    (far,) = _wings().score().joints
    assert edge_to_edge_mm(far, 4, base) == 24
    assert edge_to_edge_mm(far, 0, base) == 20
    assert edge_to_edge_mm(far._replace(second_place="B1"), 4, base) == 4
    assert edge_to_edge_mm(far._replace(second_place="A3", beside=False), 4, base) == 34
    assert _wings(Check(1, "right", 3, "left", 24)).score().joints[0].mm == 4


def test_flyers_settled_by_hand_are_no_claim_any_more() -> None:
    """The loop ends: nothing unchecked is left to try."""
    settled = [Check(one, "right", two, "left", 20) for one, two in ((1, 3), (3, 1))]
    unit = _wings(*map(canonical, settled))
    assert unit.plan().status == "no clash"


def _with_block(block: Block, models: list[Reach | RankModel | None]) -> Unit:
    unit = Unit(3, 2, models)
    unit.notes = unit.notes._replace(blocks=(block,))
    return unit


def test_joints_of_a_large_model_are_named_where_they_meet() -> None:
    """Both can be typed again: the two places lie side by side."""
    unit = _with_block(_LARGE, [reach(-5, 6), reach(0, 0), reach(0, 0)])
    joints = unit.score().joints
    assert [(joint.first_place, joint.second_place) for joint in joints] == [("B1", "C1"), ("B2", "C2")]
    at = {place: file for file, place in enumerate("ABC", start=1)}
    for joint in joints:
        spots = [Placed(1, at[place[0]], int(place[1])) for place in (joint.first_place, joint.second_place)]
        assert joint_between(spots[0], spots[1]) is not None


def test_places_that_touch() -> None:
    """Next to the neighbour, the foremost or leftmost. Source: worked by hand on squared paper."""
    assert touching(Cell(1, 1, 2, 3), Cell(3, 2), beside=True) == ((2, 2), (3, 2))
    assert touching(Cell(2, 1, 2, 2), Cell(1, 3, 2, 1), beside=False) == ((2, 2), (2, 3))


def _shared(reached: Reach | None, block: Block = _SHARED) -> Unit:
    unit = _with_block(block, [reach(0, 0), reach(0, 0)])
    scenery = RankModel(9, reached, unit.text)
    unit.notes = unit.notes._replace(models=(*unit.notes.models, scenery))
    return unit


def test_a_shared_base_reaches_as_far_as_was_measured() -> None:
    """Along its whole side; it is no model, so no order names it."""
    unit = _shared(reach(-5, 6))
    now, best = unit.score(), unit.plan()
    assert [(joint.first, joint.second, joint.mm) for joint in now.joints] == [(9, 1, 6), (9, 2, 6)]
    assert [placed.model_id for placed in best.placed] == [placed.model_id for placed in now.placed] == [1, 2]
    assert now.bench == best.bench == ()
    assert best.total_mm == 12


@pytest.mark.parametrize("unit", [_shared(None), _shared(reach(9, 9), _SHARED._replace(kind="filler"))])
def test_a_base_that_was_not_measured_and_a_filler_never_clash(unit: Unit) -> None:
    """Scenery is taken to stay low."""
    assert unit.score().joints == ()
    assert unit.plan().status == "no clash"


def test_a_large_model_measured_before_its_unit_was_rebased_is_listed() -> None:
    """Its places are of another size by now."""
    unit = _with_block(_LARGE, [RankModel(0, reach(-5, 6), "25x25"), reach(0, 0), reach(0, 0)])
    assert unit.board().stale == {1}
    assert unit.score().joints == ()


def test_what_is_promised_holds_at_every_trust() -> None:
    """All that clashes was checked, so claims count less; the bound speaks of full claims all the same."""
    models = [reach(1, 2), reach(2, 5)]
    best = Unit(2, 1, models, checks=[Check(1, "right", 2, "left", 4)]).plan()
    assert best.trust < 1
    assert (best.at_least_mm, best.total_mm) == (4, 6)
    assert best.status == "at least"


def test_measures_that_do_not_match_their_bands_are_one_line() -> None:
    """As a document from elsewhere may have them."""
    unit = Unit(2, 1, [RankModel(0, Reach(*[(1, 1)] * 4)), None])
    with pytest.raises(DataError) as refusal:
        unit.board()
    assert "other bands. Measure it again" in str(refusal.value)


def test_no_model_is_held_where_a_larger_base_lies() -> None:
    """One place of it, or a rank that it fills."""
    for place, block in (("B1", _LARGE), ("rank 1", _LARGE._replace(files=3))):
        unit = _with_block(block, [None, RankModel(0, place=place), None])
        with pytest.raises(DataError, match="a larger base is there"):
            unit.board()


def test_joints_say_what_a_check_needs() -> None:
    """Own edges and stems, as they stand in the order."""
    unit = Unit(2, 1, [RankModel(0, reach(-5, 5), stems_mm=(0, 20)), reach(5, -5)],
                _ONE_BAND._replace(turns="half"))  # fmt: skip
    (joint,) = unit.score([Placed(1, 1, 1, 0, 20), Placed(2, 2, 1, 0)]).joints
    assert joint == Joint(1, "A1", "right", 2, "B1", "left", 10, False, 20, 0)
