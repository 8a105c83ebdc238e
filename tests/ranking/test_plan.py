"""Whole units by hand: who clashes, who stands where, what is promised; checks win over the ruler."""

from __future__ import annotations

from itertools import permutations, product
from math import ceil
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.ranking.units import OBLONG, Unit, random_reach, reach
from tracker.domain.bases import Base
from tracker.domain.problems import DataError
from tracker.domain.ranks import Block, Check, Placed, RankModel, RankRules, Reach, canonical
from tracker.ranking.plan import joint_between, placed_of

_ONE_BAND = RankRules(cuts_mm=(), margin_mm=0)


def test_a_row_of_three_that_stands_one_way() -> None:
    """Source: worked by hand, every order; A reaches 6 right, C 2 left, B nothing."""
    unit = Unit(3, 1, [reach(-3, 6), reach(-6, -6), reach(2, -3)])
    totals = {order: unit.row(*order).total_mm for order in permutations((1, 2, 3))}
    assert {order for order, mm in totals.items() if mm == 0} == {(1, 2, 3), (2, 3, 1), (3, 1, 2), (3, 2, 1)}
    assert totals[1, 3, 2] == totals[2, 1, 3] == 8
    assert unit.plan().status == "no clash"


def test_a_row_of_three_that_cannot_stand() -> None:
    """Source: worked by hand; the calm one goes into the middle, and 2 mm at either side are proved."""
    unit = Unit(3, 1, [reach(6, 6), reach(-4, -4), reach(6, 6)])
    best = unit.plan()
    assert best.placed[1].model_id == 2
    assert (best.worst_mm, best.total_mm, best.at_least_mm, best.status) == (2, 4, 4, "proved best")
    assert [joint.mm for joint in best.joints] == [2, 2]
    assert sorted(unit.row(*order).total_mm for order in permutations((1, 2, 3))) == [4, 4, 14, 14, 14, 14]
    assert {unit.row(*order).worst_mm for order in permutations((1, 2, 3))} == {2, 12}


def test_two_that_fit_the_other_way_round_or_turned() -> None:
    """Source: worked by hand; with half turns 6 of 8 ways are free."""
    models = [reach(-5, 5), reach(5, -5)]
    unit = Unit(2, 1, models)
    assert unit.row(1, 2).total_mm == 10
    assert unit.row(2, 1).total_mm == 0
    turned = Unit(2, 1, models, _ONE_BAND._replace(turns="half"))
    ways = [turned.row(*order, turns=turns).total_mm for order in ((1, 2), (2, 1))
            for turns in product((0, 180), repeat=2)]  # fmt: skip
    assert ways.count(0) == 6


def test_height_bands_let_models_pass_over_each_other() -> None:
    """Source: worked by hand; three bands show that the arm is over the cloak, one band claims 14 mm."""
    calm = (CALM_MM, CALM_MM, CALM_MM)
    models = [Reach(calm, (-7, -5, 8), calm, calm), Reach(calm, calm, calm, (6, 2, None))]
    assert Unit(2, 1, models, RankRules(margin_mm=0)).row(1, 2).total_mm == 0
    single = [Reach((-5,), (8,), (-5,), (-5,)), Reach((-5,), (-5,), (-5,), (6,))]
    assert Unit(2, 1, single).row(1, 2).total_mm == 14


CALM_MM = -5


@pytest.mark.parametrize(("base_mm", "wing", "heights"), [(40, 15, 2), (40, 25, 3), (25, 30, 4)])
def test_flyers_need_so_many_stem_heights(base_mm: int, wing: int, heights: int) -> None:
    """min(n, ceil(2 r / w) + 1) heights: source: geometry of equal wings in one row.

    A wing is 10 mm thick and lies in one band of 10 mm, so each stem lifts it into a band of its own.
    """
    assert heights == min(5, ceil(2 * wing / base_mm) + 1)
    cuts = tuple(range(10, 10 * (heights + 1), 10))[:5]
    nothing = (None,) * len(cuts)
    wings = Reach((-9, *nothing), (wing, *nothing), (-9, *nothing), (wing, *nothing))
    for allowed, is_free in ((heights, True), (heights - 1, False)):
        stems = tuple(range(0, 10 * allowed, 10))
        model = RankModel(0, wings, cuts_mm=cuts, stems_mm=stems)
        rules = RankRules(cuts_mm=cuts, margin_mm=0)
        found = Unit(5, 1, [model] * 5, rules, base=Base("rectangle", base_mm, base_mm)).plan()
        assert (found.status == "no clash") is is_free


def test_the_margin_is_added_and_the_gap_taken_off() -> None:
    """5 + 5 of reach: with 1 mm of margin 11 are claimed, with a gap of 2 mm 9."""
    models = [reach(-5, 5), reach(5, -5)]
    assert Unit(2, 1, models, RankRules(cuts_mm=(), margin_mm=1)).row(1, 2).total_mm == 11
    assert Unit(2, 1, models, RankRules(cuts_mm=(), margin_mm=1, gap_mm=2)).row(1, 2).total_mm == 9


def test_a_check_wins_over_the_ruler_wherever_the_two_edges_meet() -> None:
    """Model 1's right on model 2's left: left to right, turned about, and front to back."""
    check = canonical(Check(2, "left", 1, "right", 0))
    unit = Unit(
        2, 2, [reach(-5, 5), reach(5, -5), None, None], _ONE_BAND._replace(turns="any"), checks=[check]
    )
    ways = [
        [Placed(1, 1, 1), Placed(2, 2, 1)],
        [Placed(2, 1, 1, 180), Placed(1, 2, 1, 180)],
        [Placed(1, 1, 1, 90), Placed(2, 1, 2, 90)],
        [Placed(2, 1, 1, 270), Placed(1, 1, 2, 270)],
    ]
    for placed in ways:
        assert unit.score(placed).total_mm == 0
    assert unit.score([Placed(1, 1, 1), Placed(2, 2, 1, 180)]).total_mm == 0
    assert unit.score([Placed(1, 1, 1), Placed(2, 1, 2)]).joints == ()


def test_a_checked_clash_is_no_claim_and_has_no_margin() -> None:
    """What hands found stands as it is."""
    rules = RankRules(cuts_mm=(), margin_mm=1)
    unit = Unit(2, 1, [reach(-5, -5), reach(-5, -5)], rules, checks=[Check(1, "right", 2, "left", 1.5)])
    (joint,) = unit.row(1, 2).joints
    assert (joint.mm, joint.checked) == (1.5, True)
    assert unit.plan().status == "no clash"


def test_a_check_on_another_base_says_nothing() -> None:
    """Rebased models meet anew."""
    check = Check(1, "right", 2, "left", 3, base="25x25")
    assert Unit(2, 1, [reach(-5, -5), reach(-5, -5)], checks=[check]).row(1, 2).total_mm == 0


def test_once_all_that_clashes_was_checked_claims_are_trusted_less() -> None:
    """Both orders claim something; the better one was found to clash, so the other is worth a try."""
    checks = [Check(1, "right", 2, "left", 4)]
    unit = Unit(2, 1, [reach(1, 2), reach(2, 5)], checks=checks)
    best = unit.plan()
    assert [placed.model_id for placed in best.placed] == [2, 1]
    assert best.trust < 1
    assert not best.joints[0].checked
    done = Unit(2, 1, [reach(1, 2), reach(2, 5)], checks=[*checks, Check(1, "left", 2, "right", 2)]).plan()
    assert (done.total_mm, done.is_known) == (2, True)


def test_measures_on_another_base_are_left_alone() -> None:
    """They are named, not used."""
    stale = RankModel(0, reach(9, 9), "25x25")
    unit = Unit(2, 1, [stale, reach(9, 9)])
    assert unit.row(1, 2).total_mm == 0
    assert unit.board().stale == {1}
    assert unit.board().measured == {2}


def test_surplus_models_wait_on_the_bench() -> None:
    """The plan chooses who stands."""
    best = Unit(2, 1, [reach(9, 9), reach(-5, -5), reach(-5, -5)]).plan()
    assert best.bench == (1,)
    assert best.status == "no clash"


def test_a_short_last_rank_stays_short() -> None:
    """The last places are empty, unless one is kept."""
    unit = Unit(3, 2, [None] * 4)
    assert [placed.place for placed in unit.plan().placed] == ["A1", "B1", "C1", "A2"]
    held = Unit(3, 2, [RankModel(0, place="C2"), None, None, None])
    assert {placed.place for placed in held.plan().placed} == {"A1", "B1", "C1", "C2"}


def test_kept_places_are_kept() -> None:
    """One place, and the front rank."""
    models: list[Reach | RankModel | None] = [
        RankModel(0, reach(6, 6), place="B1"),
        RankModel(0, reach(6, 6), place="rank 1"),
        reach(0, 0),
        reach(1, 1),
    ]
    best = {placed.model_id: placed for placed in Unit(2, 2, models).plan().placed}
    assert best[1].place == "B1"
    assert best[2].rank == 1


def test_a_filler_never_clashes_and_keeps_its_places() -> None:
    """Its neighbours may reach over it."""
    unit = Unit(4, 2, [reach(9, 9), reach(9, 9), reach(-5, -5), reach(-5, -5)])
    unit.notes = unit.notes._replace(blocks=(Block(1, "filler", 2, 1, 2, 2),))
    best = unit.plan()
    assert {placed.place for placed in best.placed} == {"A1", "D1", "A2", "D2"}
    assert best.status == "no clash"


def test_a_large_model_reaches_along_its_whole_side() -> None:
    """Both neighbours to its right are claimed."""
    unit = Unit(3, 2, [reach(-5, 6), None, None])
    unit.notes = unit.notes._replace(blocks=(Block(1, "large model", 1, 1, 2, 2, 1, 1),))
    unit.notes = unit.notes._replace(
        models=(
            *unit.notes.models[:1],
            RankModel(2, reach(0, 0), "20x20"),
            RankModel(3, reach(0, 0), "20x20"),
        )
    )
    assert sorted(joint.second for joint in unit.score().joints) == [2, 3]


def test_an_oblong_base_is_only_turned_by_half() -> None:
    """There "any" means half."""
    board = Unit(2, 1, [reach(1, 1), reach(1, 1)], _ONE_BAND._replace(turns="any"), base=OBLONG).board()
    assert {state.turn for state in board.states} == {0, 180}


def test_the_front_limit_is_kept_where_it_costs_no_clash() -> None:
    """The spear goes to the rear rank."""
    models = [reach(-5, -5, front=12), reach(-5, -5, front=0)]
    best = Unit(1, 2, models, _ONE_BAND._replace(front_most_mm=5, gap_mm=20)).plan()
    assert best.placed[0].model_id == 2
    assert best.front_mm == 0


@pytest.mark.parametrize(
    ("unit", "what"),
    [
        (Unit(0, 2, [None]), "0 files and 2 ranks are no unit"),
        (Unit(10, 10, [None] * 201), "201 models are too many"),
        (Unit(2, 1, [reach(-21, 0), None]), "21 mm short of the left edge"),
        (Unit(2, 1, [RankModel(0, place="B1"), RankModel(0, place="B1")]), "two models keep B1"),
        (Unit(1, 2, [RankModel(0, place="front"), RankModel(0, place="front")]), "2 models keep rank 1"),
        (Unit(2, 1, [RankModel(0, place="C1"), None]), "lies outside"),
        (Unit(2, 1, [RankModel(0, place="nowhere"), None]), "is no place"),
    ],
)
def test_what_cannot_be_is_one_line(unit: Unit, what: str) -> None:
    """A line that says where, what and how to mend."""
    with pytest.raises(DataError) as refusal:
        unit.board()
    assert what in str(refusal.value).replace('"-', '"').replace("-21", "21")
    assert "\n" not in str(refusal.value)


@pytest.mark.parametrize(
    "blocks",
    [
        (Block(1, "filler", 2, 2, 2, 2),),
        (Block(1, "filler", 1, 1, 2, 1), Block(2, "filler", 2, 1, 1, 1)),
        (Block(1, "filler", 0, 1, 1, 1),),
    ],
)
def test_blocks_that_do_not_fit_are_refused(blocks: tuple[Block, ...]) -> None:
    """Outside, overlapping, nowhere."""
    unit = Unit(2, 2, [None] * 4)
    unit.notes = unit.notes._replace(blocks=blocks)
    with pytest.raises(DataError):
        unit.board()


def _turned_about(placed: Placed, files: int, ranks: int) -> Placed:
    return placed._replace(
        file=files + 1 - placed.file, rank=ranks + 1 - placed.rank, turn=(placed.turn + 180) % 360
    )


@settings(max_examples=30, deadline=None)
@given(st.integers(0, 10**6))
def test_the_whole_unit_turned_about_clashes_as_much(seed: int) -> None:
    """Every model turned by half, every place to the opposite one."""
    random = Random(seed)
    unit = Unit(3, 2, [random_reach(random, bands=3) for _ in range(6)], RankRules(turns="half"))
    placed = [one._replace(turn=random.choice((0, 180))) for one in unit.now]
    random.shuffle(placed)
    about = [_turned_about(one, 3, 2) for one in placed]
    assert unit.score(placed).total_mm == unit.score(about).total_mm
    assert unit.score(placed).worst_mm == unit.score(about).worst_mm


@settings(max_examples=30, deadline=None)
@given(st.integers(0, 10**6))
def test_a_mirrored_unit_has_the_mirrored_plan(seed: int) -> None:
    """Left and right changed in every model and every place: the same worst and total clash, proved."""
    random = Random(seed)
    models = [random_reach(random) for _ in range(5)]
    mirrored = [Reach(one.front, one.left, one.back, one.right) for one in models]
    one, other = Unit(5, 1, models), Unit(5, 1, mirrored)
    assert (one.plan().worst_mm, one.plan().total_mm) == (other.plan().worst_mm, other.plan().total_mm)
    back = [placed._replace(file=6 - placed.file) for placed in one.plan().placed]
    assert other.score(back).total_mm == one.plan().total_mm


@settings(max_examples=30, deadline=None)
@given(st.integers(0, 10**6), st.permutations(range(5)))
def test_other_numbers_on_the_models_change_nothing(seed: int, order: list[int]) -> None:
    """The same models under other numbers: the same worst and total clash, proved."""
    random = Random(seed)
    models = [random_reach(random) for _ in range(5)]
    one, other = Unit(5, 1, models).plan(), Unit(5, 1, [models[i] for i in order]).plan()
    assert (one.worst_mm, one.total_mm) == (other.worst_mm, other.total_mm)


def test_the_same_seed_gives_the_same_plan() -> None:
    """And what the plan says of itself is what its order comes to."""
    random = Random(5)
    unit = Unit(5, 4, [random_reach(random, high=8) for _ in range(20)])
    best = unit.plan(3)
    assert best == unit.plan(3)
    assert unit.score(best.placed).total_mm == best.total_mm >= best.at_least_mm


def test_a_plan_never_clashes_more_than_the_order_as_it_stands() -> None:
    """It starts from there."""
    for seed in range(5):
        random = Random(seed)
        unit = Unit(5, 2, [random_reach(random, high=9) for _ in range(10)])
        assert unit.plan().worst_mm <= unit.score().worst_mm


def test_joints_are_found_between_places() -> None:
    """Edge to edge, either way round; not across a corner."""
    one, other, corner = Placed(1, 1, 1), Placed(2, 2, 1, 90), Placed(3, 2, 2)
    joint = joint_between(other, one)
    assert joint is not None
    assert (joint.first, joint.first_edge, joint.second, joint.second_edge) == (1, "right", 2, "back")
    behind = joint_between(other, corner)
    assert behind is not None
    assert not behind.beside
    assert joint_between(one, corner) is None


def test_an_arrangement_is_read_back_as_places() -> None:
    """Every model once."""
    unit = Unit(2, 2, [None] * 4)
    board = unit.board()
    first = [
        next(n for n, (piece, _) in enumerate(board.puzzle.states) if piece == cell) for cell in range(4)
    ]
    assert [one.place for one in placed_of(board, tuple(first))] == ["A1", "B1", "A2", "B2"]
