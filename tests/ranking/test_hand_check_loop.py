"""Measuring, planning and trying doubtful joints by hand, played through on invented solids.

The figures are drawn by `solids`, so what is found holds of them and of nothing else. What must hold by
logic is asserted of every unit, shares only with room for luck. The whole curve:
python -m tests.benchmarks.hand_checks.
"""

from __future__ import annotations

from functools import lru_cache
from itertools import pairwise, permutations

import numpy as np
import pytest

from tests.ranking.hand_checks import (
    FREE_MM,
    Company,
    Stage,
    best_by_truth,
    board_of,
    corner_mm,
    hand_check_loop,
    measured,
    muster,
    shares,
    swap_by_hand,
    true_clashes,
)
from tests.ranking.solids import capsule, profile_of, truth_of
from tracker.ranking.plan import score

SMALL_UNITS = range(30)
"""3 x 2 models: every order is tried, so that the planner's luck is out of it."""


@lru_cache
def small(seed: int) -> Company:
    return muster(seed, 3, 2)


@lru_cache
def small_loop(seed: int) -> tuple[Stage, ...]:
    """Twelve exact numbers for each figure, played through one check at a time."""
    return tuple(hand_check_loop(small(seed), measured(small(seed)), 80))


def test_what_the_program_calls_free_is_free() -> None:
    # By construction: an exact ruler never misses a clash, and a check is the truth.
    for seed in SMALL_UNITS:
        for stage in small_loop(seed):
            if not stage.plan.joints:
                assert stage.plan.status == "no clash"
                assert stage.clashing == 0


def test_the_loop_ends_by_itself_free_or_with_every_clash_known() -> None:
    # It ends when no flagged joint is untried; an exact ruler flags every joint that clashes.
    for seed in SMALL_UNITS:
        last = small_loop(seed)[-1]
        known_mm = max((joint.mm for joint in last.plan.joints if joint.checked), default=0.0)
        assert last.checks < 80
        assert last.worst_mm <= known_mm + 0.1  # hands tell tenths


def test_the_loop_never_ends_worse_than_it_began() -> None:
    # By all that is known at the end, and every order tried: the last plan is at least as good as the first.
    for seed in SMALL_UNITS:
        first, last = small_loop(seed)[0], small_loop(seed)[-1]
        then = score(board_of(small(seed), last.notes), first.plan.placed)
        assert (last.plan.worst_mm, last.plan.total_mm) <= (then.worst_mm, then.total_mm)


def test_nothing_is_tried_twice() -> None:
    for seed in SMALL_UNITS:
        joints = [(c.first, c.first_edge, c.second, c.second_edge) for c in small_loop(seed)[-1].notes.checks]
        assert len(set(joints)) == len(joints)


def test_checks_free_more_units_up_to_what_can_be() -> None:
    loops = [small_loop(seed) for seed in SMALL_UNITS]
    found = shares(loops, [0, 10, 20, 40])
    can_be = np.mean([max(best_by_truth(small(seed))) == 0 for seed in SMALL_UNITS])
    assert all(later >= earlier - 0.1 for earlier, later in pairwise(found))
    assert found[-1] > found[0] + 0.1
    assert can_be - 0.1 <= found[-1] <= can_be


def test_turned_models_are_nearly_all_free_from_the_start() -> None:
    units = [muster(seed, 5, 2, turns="any") for seed in range(8)]
    loops = [hand_check_loop(unit, measured(unit), 20, at_once=5) for unit in units]
    assert shares(loops, [20])[0] >= 7 / 8


def test_the_program_that_knows_the_solids_finds_the_least_worst_clash() -> None:
    # Against every order of six figures, tried one by one.
    for seed in range(4):
        orders = permutations([(figure, 0) for figure in range(6)])
        least = min(max(true_clashes(small(seed), order)) for order in orders)
        assert max(best_by_truth(small(seed))) == pytest.approx(least, abs=0.01)


def test_swapping_by_hand_never_makes_it_worse() -> None:
    for seed in range(6):
        unit = muster(seed, 5, 2)
        left = [sum(swap_by_hand(unit, tries, np.random.default_rng(seed))) for tries in (0, 30, 100, 300)]
        assert left == sorted(left, reverse=True)


def test_corners_meet_where_two_rods_point_at_each_other() -> None:
    # Geometry: rods along the diagonal from both sides, on bases of 20 mm, one place apart both ways; their
    # tips are 9.5 * sqrt(2) from either middle and the middles 20 * sqrt(2) apart: 1.41 mm between the tips,
    # less two radii of 1.
    ahead = (capsule([0, 0, 5], [9.5, 9.5, 5], 1),)
    post = (capsule([0, 0, 5], [0, 0, 6], 1),)
    back = (capsule([0, 0, 5], [-9.5, -9.5, 5], 1),)
    figures = (post, back, ahead, post)
    profiles = tuple(profile_of(figure, 20) for figure in figures)
    unit = Company(2, 2, 20, figures, profiles, truth_of(profiles), "front")
    standing = [(figure, 0) for figure in range(4)]
    assert corner_mm(unit, standing) == pytest.approx(2 - 2**0.5)
    assert max(true_clashes(unit, standing)) <= FREE_MM
    assert corner_mm(unit, [(0, 0), (2, 0), (1, 0), (3, 0)]) == 0


@pytest.mark.slow
@pytest.mark.parametrize("half", [0, 1])
def test_forty_checks_free_many_more_units_that_all_look_to_the_front(half: int) -> None:
    # 30 units of 4 x 2, read with an error of 0.7 mm, five joints tried before the next plan.
    units = [muster(seed, 4, 2, base_mm=20 + 5 * half) for seed in range(30 * half, 30 * half + 30)]
    loops = [
        hand_check_loop(unit, measured(unit, reading=np.random.default_rng(seed)), 40, at_once=5)
        for seed, unit in enumerate(units)
    ]
    found = shares(loops, [0, 10, 20, 40])
    can_be = float(np.mean([max(best_by_truth(unit)) == 0 for unit in units]))
    assert all(later >= earlier - 0.1 for earlier, later in pairwise(found))
    assert found[-1] > found[0] + 0.15
    assert found[-1] > can_be - 0.2
