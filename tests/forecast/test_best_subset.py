"""The best subset against published knapsacks and against every subset there is."""

from __future__ import annotations

from datetime import timedelta
from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.forecast.people import ROUTE, TUESDAY, FixedPace, regular_weeks, small_army, worked
from tracker.forecast.best_subset import EXACT_UNITS, best_subset
from tracker.forecast.pick import pick_answer

# Knapsack instances P01, P07 and P08 of J. Burkardt's public collection (Florida State University,
# "KNAPSACK_01: Data for the 01 Knapsack Problem"), with their optimal values: all from memory. An ordinary
# knapsack is a single path on which there are as many minutes as it has room.
P01 = (
    165,
    (23, 31, 29, 44, 53, 38, 63, 85, 89, 82),
    (92, 57, 49, 68, 60, 43, 67, 84, 87, 72),
    309,
)
P07 = (
    750,
    (70, 73, 77, 80, 82, 87, 90, 94, 98, 106, 110, 113, 115, 118, 120),
    (135, 139, 149, 150, 156, 163, 173, 184, 192, 201, 210, 214, 221, 229, 240),
    1458,
)
P08 = (
    6404180,
    (382745, 799601, 909247, 729069, 467902, 44328, 34610, 698150, 823460, 903959, 853665, 551830,
     610856, 670702, 488960, 951111, 323046, 446298, 931161, 31385, 496951, 264724, 224916, 169684),
    (825594, 1677009, 1676628, 1523970, 943972, 97426, 69666, 1296457, 1679693, 1902996, 1844992, 1049289,
     1252836, 1319836, 953277, 2067538, 675367, 853655, 1826027, 65731, 901489, 577243, 466257, 369261),
    13549094,
)  # fmt: skip


@pytest.mark.parametrize("instance", [P01, P07, P08], ids=["P01", "P07", "P08"])
def test_published_knapsacks(instance: tuple[int, tuple[int, ...], tuple[int, ...], int]) -> None:
    room, weights, profits, optimum = instance
    choice = best_subset(np.array(profits, float), np.array([weights], float), np.array([room], float))
    assert choice.points == optimum
    assert sum(weights[place] for place in choice.chosen) <= room
    assert (choice.exact, choice.chance) == (True, 1.0)


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 12), st.integers(0, 2**32 - 1), st.sampled_from((1, 7, 40)), st.booleans())
def test_no_subset_is_better(units: int, seed: int, paths: int, like_hours: bool) -> None:
    rng = np.random.default_rng(seed)
    minutes = rng.integers(10, 100, (paths, units)).astype(float)
    points = np.rint(minutes.mean(axis=0) / 9) if like_hours else rng.integers(0, 9, units).astype(float)
    available = rng.uniform(0, 70 * units + 1, paths)
    choice = best_subset(points, minutes, available)
    best = 0.0
    for taken in product((0.0, 1.0), repeat=units):
        held = (minutes @ np.array(taken) <= available).mean()
        if held >= 0.8 - 1e-12 or not any(taken):
            best = max(best, float(points @ np.array(taken)))
    assert choice.points == best
    assert choice.exact
    if choice.chosen:
        assert choice.chance >= 0.8 - 1e-12
        assert choice.chance == (minutes[:, choice.chosen].sum(axis=1) <= available).mean()


@settings(max_examples=5, deadline=None)
@given(st.integers(0, 2**32 - 1))
def test_twenty_five_units_against_a_table_of_all_rooms(seed: int) -> None:
    rng = np.random.default_rng(seed)
    minutes, room = rng.integers(10, 99, EXACT_UNITS), int(rng.integers(0, 1500))
    points = np.rint(minutes / 4.0) + rng.integers(0, 3, EXACT_UNITS).astype(float)
    # The textbook table (Bellman 1957): the most points in each room, unit by unit.
    most = np.zeros(room + 1)
    for each, worth in zip(minutes, points, strict=True):
        most[each:] = np.maximum(most[each:], most[: max(room + 1 - each, 0)] + worth)
    same = np.tile(minutes.astype(float), (17, 1))
    # Of 17 paths, 3 may fail: those have no minute at all.
    available = np.where(np.arange(17) < 3, 0.0, float(room))
    choice = best_subset(points, same, available)
    assert choice.points == most[-1]
    assert choice.exact


def test_beyond_25_units_it_goes_by_points_for_the_hour_and_says_so() -> None:
    units = EXACT_UNITS + 5
    minutes = np.full((10, units), 60.0)
    points = np.arange(units, dtype=float)
    choice = best_subset(points, minutes, np.full(10, 185.0))
    assert choice.chosen == (27, 28, 29)
    assert not choice.exact


def test_more_time_is_never_worth_less() -> None:
    rng = np.random.default_rng(8)
    minutes, points = rng.uniform(20, 90, (50, 9)), rng.integers(1, 20, 9).astype(float)
    worth = [best_subset(points, minutes, np.full(50, room)).points for room in range(0, 700, 35)]
    assert worth == sorted(worth)
    assert worth[0] == 0
    assert worth[-1] == points.sum()


def test_a_pick_weighs_open_units_with_points() -> None:
    as_of = TUESDAY + timedelta(weeks=9)
    known = small_army([1, 2, 3, 2], regular_weeks(9))
    worth = (30.0, None, 20.0, 60.0)
    units = (unit._replace(points=points) for unit, points in zip(known.units, worth, strict=True))
    known = known._replace(units=tuple(units))
    for step in ROUTE:
        known = worked(known, 1, step, [1], 4)
    answer = pick_answer(known, FixedPace(), as_of, as_of + timedelta(days=300), draws=200)
    assert {one.unit for one in answer.picked} == {"unit 3", "unit 4"}
    assert [one.unit for one in answer.ready] == ["unit 1"]
    assert answer.without_points == ("unit 2",)
    assert answer.points == 110.0
    assert answer.chance >= 0.8
    tonight = pick_answer(known, FixedPace(), as_of, as_of, draws=200)
    assert tonight.picked == ()
    assert {one.unit for one in tonight.left_out} == {"unit 3", "unit 4"}
