"""The suggested order against every order."""

from __future__ import annotations

from itertools import permutations
from math import inf

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tracker.forecast.order import Cost, Job, cost_of, fewest_late, greatest_lateness, smith
from tracker.forecast.order_search import SEARCHED_MOST, best_order

SET_UPS = {"a": 15.0, "b": 40.0}
dues = st.one_of(st.just((inf, inf)), st.floats(10, 400).map(lambda due: (due, 0.7 * due)))
jobs_of_units = st.builds(
    lambda minutes, weight, due, family: Job(minutes, weight, due[0], due[1], family),
    st.floats(1, 120), st.integers(0, 9).map(float), dues, st.sampled_from("abc"),
)  # fmt: skip


def least_of_all(jobs: list[Job]) -> Cost:
    return min(cost_of(order, jobs, SET_UPS) for order in permutations(range(len(jobs))))


@settings(max_examples=60, deadline=None)
@given(st.lists(jobs_of_units, min_size=1, max_size=6))
def test_nothing_is_better_than_the_suggestion(jobs: list[Job]) -> None:
    found = best_order(jobs, SET_UPS)
    assert sorted(found) == list(range(len(jobs)))
    assert not least_of_all(jobs).is_less(cost_of(found, jobs, SET_UPS))


@settings(max_examples=3, deadline=None)
@given(st.lists(jobs_of_units, min_size=8, max_size=8))
def test_nothing_is_better_than_the_suggestion_for_eight_units(jobs: list[Job]) -> None:
    assert not least_of_all(jobs).is_less(cost_of(best_order(jobs, SET_UPS), jobs, SET_UPS))


@settings(max_examples=60, deadline=None)
@given(st.lists(jobs_of_units, min_size=1, max_size=30))
def test_the_own_order_wins_where_none_is_better(jobs: list[Job]) -> None:
    own = tuple(reversed(range(len(jobs))))
    found = best_order(jobs, SET_UPS, own)
    assert sorted(found) == sorted(own)
    assert found == own or cost_of(found, jobs, SET_UPS).is_less(cost_of(own, jobs, SET_UPS))
    assert best_order(jobs, SET_UPS, found) == found


@settings(max_examples=60, deadline=None)
@given(st.lists(jobs_of_units, min_size=1, max_size=6))
def test_moore_and_hodgson_against_every_order(jobs: list[Job]) -> None:
    late = min(cost_of(order, jobs, {}).late for order in permutations(range(len(jobs))))
    assert len(fewest_late(jobs)[1]) == late
    assert len(fewest_late(jobs)[0]) == len(jobs) - late


def test_a_goal_comes_before_points() -> None:
    quick, slow = Job(10, 50), Job(100, 1, due_minutes=100, safe_minutes=90)
    assert best_order([quick, slow], {}) == (1, 0)
    # A goal that no order keeps holds nothing up.
    assert best_order([quick, slow._replace(due_minutes=99)], {}) == (0, 1)


def test_what_a_bad_future_keeps_comes_before_points() -> None:
    quick, slow = Job(10, 50), Job(80, 1, due_minutes=200, safe_minutes=85)
    assert best_order([quick, slow], {}) == (1, 0)


def test_more_units_than_are_searched_come_close() -> None:
    # Twelve units in three families, of which the best order is known: whole families by their ratio,
    # since every set-up is longer than all the work.
    jobs = [Job(1.0 + i % 4, 2.0, family="abc"[i // 4]) for i in range(12)]
    long_ones = {"a": 500.0, "b": 400.0, "c": 300.0}
    assert len(jobs) > SEARCHED_MOST
    assert best_order(jobs, long_ones) == (8, 9, 10, 11, 4, 5, 6, 7, 0, 1, 2, 3)


def test_lateness_of_a_smith_order() -> None:
    jobs = [Job(5, 1, 4.0), Job(1, 1, 10.0)]
    assert greatest_lateness(smith(jobs), jobs) == pytest.approx(2.0)
