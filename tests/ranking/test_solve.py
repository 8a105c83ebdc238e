"""The solver on units small enough to work out by hand, and what every answer must keep."""

from __future__ import annotations

from itertools import permutations

import pytest

from tests.ranking.families import Reaches, figures, puzzle, unit, unselected
from tracker.ranking.exhaustive import exhaustive, key_of
from tracker.ranking.puzzle import Arrangement, Link, Puzzle, is_legal, value_of
from tracker.ranking.solve import First, Found, solve

INSIDE = -5
FIRSTS: tuple[First, ...] = ("worst", "total")


def model(*, right: int = INSIDE, left: int = INSIDE) -> Reaches:
    """A model of one band that matters only to its neighbours in the rank."""
    return [[INSIDE], [right], [INSIDE], [left]]


# Worked out by hand: every order of the row summed on paper.
WHOLE = unit(3, 1, [model(left=-3, right=6), model(left=-6, right=-6), model(left=2, right=-3)])


def test_a_row_of_three_that_fits_in_four_of_its_six_orders() -> None:
    # By hand: only A's right (+6) against C's left (+2) clashes, by 8 mm.
    clash_mm = {order: value_of(WHOLE, order).worst / 1000 for order in permutations(range(3))}
    assert clash_mm == {
        (0, 1, 2): 0, (1, 2, 0): 0, (2, 0, 1): 0, (2, 1, 0): 0, (0, 2, 1): 8, (1, 0, 2): 8
    }  # fmt: skip
    assert solve(WHOLE).value == (0, 0, 0)
    assert solve(WHOLE).proved


def test_the_calm_model_goes_between_two_wide_ones() -> None:
    # By hand: +6 against -4 is 2 mm, +6 against +6 is 12 mm.
    wide = model(left=6, right=6)
    row = unit(3, 1, [wide, model(left=-4, right=-4), wide])
    for first in FIRSTS:
        found = solve(row, first=first)
        assert found.arrangement[1] == 1
        assert found.value == (2000, 4000, 0)
        assert found.proved
    assert sorted({value_of(row, order).worst for order in permutations(range(3))}) == [2000, 12000]


def test_two_that_reach_for_each_other_change_places() -> None:
    # By hand: A's right +5 against B's left +5 is 10 mm; the other way round both stop short.
    pair = [model(right=5), model(left=5)]
    assert value_of(unit(2, 1, pair), (0, 1)) == (10_000, 10_000, 0)
    assert solve(unit(2, 1, pair)).arrangement == (1, 0)
    turned = unit(2, 1, pair, turns=2)
    clear = [
        order
        for order in permutations(range(4), 2)
        if is_legal(turned, order) and value_of(turned, order).total == 0
    ]
    assert len(clear) == 6
    assert solve(turned).value == (0, 0, 0)


def test_bands_pass_over_one_another() -> None:
    # By hand: -7 + 6, -5 - 2 and 8 against nothing never meet; as one band it would be 8 + 6.
    nothing = -40
    a: Reaches = [[INSIDE] * 3, [-7, -5, 8], [INSIDE] * 3, [INSIDE] * 3]
    b: Reaches = [[INSIDE] * 3, [INSIDE] * 3, [INSIDE] * 3, [6, -2, nothing]]
    assert value_of(unit(2, 1, [a, b]), (0, 1)).worst == 0
    assert value_of(unit(2, 1, [model(right=8), model(left=6)]), (0, 1)).worst == 14_000


@pytest.mark.parametrize(("base_mm", "wing_mm", "stems"), [(40, 15, 2), (40, 25, 3), (25, 30, 4)])
def test_flyers_in_a_row_need_so_many_stem_heights(base_mm: int, wing_mm: int, stems: int) -> None:
    # By hand: wings of two at one height meet when 2 * reach is more than the bases between them, so a
    # height comes again after ceil(2 * reach / base) + 1 places and so many heights are needed.
    assert flyers(base_mm, wing_mm, stems).value.total == 0
    assert flyers(base_mm, wing_mm, stems - 1).value.total > 0


def flyers(base_mm: int, wing_mm: int, stems: int, models: int = 5) -> Found:
    """A row of flyers alike, each on any of so many stems; wings meet across whole bases too."""
    states = tuple((piece, stem) for piece in range(models) for stem in range(stems))
    tables = tuple(
        tuple(
            tuple(1000 * max(0, 2 * wing_mm - apart * base_mm) * (mine == yours) for _, yours in states)
            for _, mine in states
        )
        for apart in range(models - 1)
    )
    row = tuple(
        Link(first, second, second - first - 1)
        for first in range(models)
        for second in range(first + 1, models)
    )
    return solve(Puzzle(states, models, row, tables, (None,) * models, ((0,) * len(states),) * models))


def test_weights_and_fixed_places() -> None:
    square = Puzzle(
        ((0, 0), (1, 0), (2, 0)),
        3,
        (Link(0, 1, 0, 3), Link(1, 2, 0)),
        (((0, 1, 5), (1, 0, 2), (5, 2, 0)),),
        (frozenset({2}), None, None),
        ((0, 0, 0),) * 3,
    )
    # By hand, piece 0 last: 2-1-0 is 3 * 2 + 1 = 7, 1-2-0 is 3 * 2 + 5 = 11.
    found = solve(square, first="total")
    assert found.arrangement == (2, 1, 0)
    assert found.value == (6, 7, 0)


def test_worst_first_and_total_first_may_differ() -> None:
    # By hand: 0-1-2 has one clash of 3 mm, 1-0-2 two of 2 mm; every other order is worse in both.
    clash_mm = [[0, 3, 2], [2, 0, 0], [9, 9, 0]]
    table = tuple(tuple(1000 * value for value in row) for row in clash_mm)
    states = tuple((piece, 0) for piece in range(3))
    row = puzzle(3, 1, states, (table, table))
    assert solve(row, first="worst").value == (2000, 4000, 0)
    assert solve(row, first="total").value == (3000, 3000, 0)


def test_dislike_decides_between_equals_only() -> None:
    loose = unit(3, 2, [model() for _ in range(6)], turns=4)
    assert solve(loose).value == (0, 0, 0)
    # By hand: 1 mm of clash unless the first piece is turned, and turning it is disliked.
    table = ((9, 9, 1000), (9, 9, 0), (1000, 0, 9))
    pair = puzzle(2, 1, ((0, 0), (0, 1), (1, 0)), (table, table))
    assert solve(pair).value == (0, 0, 1)


def test_the_least_disliked_of_many_arrangements_without_clash() -> None:
    planted = figures(3, 20, turns=4)
    found = solve(planted.puzzle)
    assert found.value.total == 0
    assert found.value.dislike < value_of(planted.puzzle, planted.arrangement).dislike


def held(seed: int) -> Puzzle:
    """A unit of 5x4 in which two models keep their places and three stand in front."""
    whole = unselected(seed, 5, 4)
    allowed: list[frozenset[int] | None] = [None] * 20
    allowed[3], allowed[7] = frozenset({0}), frozenset({13})
    for piece in (1, 2, 4):
        allowed[piece] = frozenset(range(5))
    return whole._replace(allowed=tuple(allowed))


@pytest.mark.parametrize("first", FIRSTS)
def test_fixed_places_are_kept(first: First) -> None:
    for seed in range(3):
        whole = held(seed)
        found = solve(whole, seed=seed, first=first)
        assert is_legal(whole, found.arrangement)
        assert found.arrangement[0] == 3
        assert found.arrangement[13] == 7
        assert value_of(whole, found.arrangement) == found.value


def test_places_that_leave_no_arrangement_are_refused() -> None:
    whole = unselected(0, 3, 2)._replace(allowed=(frozenset({0}), frozenset({0}), None, None, None, None))
    with pytest.raises(ValueError, match="no arrangement"):
        solve(whole)
    with pytest.raises(ValueError, match="no arrangement"):
        exhaustive(whole)


def test_places_on_the_bench_take_who_does_not_fit() -> None:
    # By hand: piece 0 clashes with everyone on either side, so it stays out of the row of three.
    loud = [model(left=9, right=9), model(), model(), model()]
    row = unit(3, 1, loud[:3])
    table = unit(4, 1, loud).tables
    bench = Puzzle(tuple((piece, 0) for piece in range(4)), 4, row.links, table, (None,) * 4, ((0,) * 4,) * 4)
    found = solve(bench)
    assert found.value.total == 0
    assert found.arrangement[3] == 0


@pytest.mark.parametrize("first", FIRSTS)
def test_the_same_seed_gives_the_same_plan(first: First) -> None:
    for whole in (unselected(5, 5, 4), unselected(6, 5, 4, turns=4), held(4)):
        assert solve(whole, seed=3, first=first) == solve(whole, seed=3, first=first)


@pytest.mark.parametrize("first", FIRSTS)
def test_a_start_is_never_made_worse(first: First) -> None:
    for seed in range(3):
        whole = unselected(seed, 5, 4)
        before = solve(whole, seed=1, first=first)
        after = solve(whole, seed=2, first=first, start=before.arrangement)
        assert key_of(after.value, first) <= key_of(before.value, first)


def test_a_start_that_breaks_the_rules_is_left_aside() -> None:
    whole = held(0)
    wrong: Arrangement = tuple(range(20))
    assert not is_legal(whole, wrong)
    assert is_legal(whole, solve(whole, start=wrong).arrangement)


def test_a_unit_without_links_or_without_models() -> None:
    lone = puzzle(1, 1, ((0, 0),), (((0,),), ((0,),)))
    assert solve(lone).value == (0, 0, 0)
    assert solve(Puzzle((), 0, (), (), (), ())).arrangement == ()
