"""Published orders of jobs, and what the program makes of them."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations, permutations
from math import inf

import pytest

from tracker.forecast.order import (
    Job,
    Order,
    completions,
    cost_of,
    earliest_due,
    family_blocks,
    fewest_late,
    greatest_lateness,
    in_chains,
    smith,
)
from tracker.forecast.order_search import best_order


def jobs_of(minutes: Sequence[float], weights: Sequence[float]) -> list[Job]:
    return [Job(p, w) for p, w in zip(minutes, weights, strict=True)]


def dated(minutes: Sequence[float], due: Sequence[float]) -> list[Job]:
    return [Job(p, due_minutes=d) for p, d in zip(minutes, due, strict=True)]


def weighted(order: Order, jobs: Sequence[Job], set_ups: dict[str, float] | None = None) -> float:
    return cost_of(order, jobs, set_ups or {}).weighted_minutes


def test_two_jobs_of_a_textbook() -> None:
    # Kleinberg & Tardos, Algorithm Design, ch. 4 exercise: times 1, 3, weights 10, 2: 18 against 46.
    jobs = jobs_of((1, 3), (10, 2))
    assert smith(jobs) == (0, 1)
    assert (weighted((0, 1), jobs), weighted((1, 0), jobs)) == (18, 46)


def test_smiths_rule_is_the_best_of_all_orders() -> None:
    # Smith 1956; worked by hand and by every order: 243 is the least, 387 the most.
    jobs = jobs_of((3, 4, 2, 6, 5), (6, 2, 5, 9, 4))
    assert "".join("ABCDE"[i] for i in smith(jobs)) == "CADEB"
    costs = [weighted(order, jobs) for order in permutations(range(5))]
    assert (weighted(smith(jobs), jobs), min(costs), max(costs)) == (243, 243, 387)
    assert best_order(jobs, {}) == smith(jobs)


def test_chains_of_a_textbook() -> None:
    # Pinedo, Scheduling, Example 3.1.4, from memory; 1967 by every order that keeps the chains.
    one = jobs_of((3, 6, 6, 5), (6, 18, 12, 8))
    two = jobs_of((4, 8, 10), (8, 17, 18))
    names = ((1, 2, 3, 4), (5, 6, 7))
    order = in_chains([one, two])
    assert [names[chain][place] for chain, place in order] == [1, 2, 5, 6, 3, 7, 4]
    all_jobs = [*one, *two]
    assert weighted(tuple(chain * 4 + place for chain, place in order), all_jobs) == 1967
    assert weighted(smith(all_jobs), all_jobs) == 1942  # what it would be if chains did not matter
    kept = [
        [next(first) if i in ones else next(second) for i in range(7)]
        for ones in combinations(range(7), 4)
        for first, second in [(iter(range(4)), iter(range(4, 7)))]
    ]
    assert min(weighted(tuple(order), all_jobs) for order in kept) == 1967


@pytest.mark.parametrize(
    ("minutes", "due", "late"),
    [
        # Pinedo, Scheduling, Example 3.3.3, from memory.
        ((7, 8, 4, 6, 6), (9, 17, 18, 19, 21), 2),
        # A published exercise on Moore's algorithm with ten jobs.
        ((19, 23, 5, 31, 17, 8, 32, 41, 26, 18), (48, 75, 170, 215, 205, 240, 85, 67, 100, 95), 2),
        # Stevenson, Operations Management, ch. 16, and Heizer & Render, ch. 15, from memory.
        ((2, 8, 4, 10, 5, 12), (7, 16, 4, 17, 15, 18), 3),
        ((6, 2, 8, 3, 9), (8, 6, 18, 15, 23), 1),
    ],
)
def test_fewest_late(minutes: tuple[float, ...], due: tuple[float, ...], late: int) -> None:
    jobs = dated(minutes, due)
    on_time, given_up = fewest_late(jobs)
    assert len(given_up) == late
    assert cost_of((*on_time, *given_up), jobs, {}).late == late
    assert all(
        at <= jobs[i].due_minutes for at, i in zip(completions(on_time, jobs, {}), on_time, strict=True)
    )


def test_earliest_due_date_is_least_late() -> None:
    # Jackson 1955; p 4 2 6 5, due 8 12 11 10: order 1 4 3 2, greatest lateness 5.
    jobs = dated((4, 2, 6, 5), (8, 12, 11, 10))
    assert earliest_due(jobs) == (0, 3, 2, 1)
    assert greatest_lateness(earliest_due(jobs), jobs) == 5
    assert min(greatest_lateness(order, jobs) for order in permutations(range(4))) == 5


# Mean time until ready, mean tardiness, mean number of jobs there, from memory and worked by hand.
STEVENSON = ((2, 8, 4, 10, 5, 12), (7, 16, 4, 17, 15, 18))  # Operations Management, ch. 16
HEIZER = ((6, 2, 8, 3, 9), (8, 6, 18, 15, 23))  # Heizer & Render, Operations Management, ch. 15


@pytest.mark.parametrize(
    ("table", "rule", "said"),
    [
        (STEVENSON, "as they came", (20.00, 9.00, 2.93)),
        (STEVENSON, "shortest", (18.00, 6.67, 2.63)),
        (STEVENSON, "due", (18.33, 6.33, 2.68)),
        (HEIZER, "as they came", (15.4, 2.2, 2.75)),
        (HEIZER, "shortest", (13.0, 1.8, 2.32)),
        (HEIZER, "due", (13.6, 1.2, 2.42)),
        (HEIZER, "longest", (20.6, 9.6, 3.68)),
    ],
)
def test_dispatch_rules(
    table: tuple[tuple[float, ...], tuple[float, ...]], rule: str, said: tuple[float, float, float]
) -> None:
    jobs = dated(*table)
    order = {
        "as they came": tuple(range(len(jobs))),
        "shortest": smith(jobs),
        "due": earliest_due(jobs),
        "longest": smith(jobs)[::-1],
    }[rule]
    ready = completions(order, jobs, {})
    tardy = [max(at - jobs[i].due_minutes, 0) for at, i in zip(ready, order, strict=True)]
    means = sum(ready) / len(jobs), sum(tardy) / len(jobs), sum(ready) / ready[-1]
    assert means == pytest.approx(said, abs=0.01)  # one of them is printed cut, not rounded


SET_UPS = {"a": 15.0, "b": 20.0, "c": 10.0}
FAMILIES = [
    Job(30, 2, family="a"), Job(20, 3, family="a"), Job(15, 2, family="b"), Job(40, 1, family="b"),
    Job(25, 4, family="c"),
]  # fmt: skip


def test_a_shared_set_up() -> None:
    # The rule for whole families: Webster & Baker 1995. Figures of this case by every order: least 995
    # (finished at 175), next 1045; Smith's rule as if set-ups were none 1070 (finished at 210).
    best = family_blocks(FAMILIES, SET_UPS)
    assert [("a1", "a2", "b1", "b2", "c1")[i] for i in best] == ["c1", "a2", "a1", "b1", "b2"]
    assert (weighted(best, FAMILIES, SET_UPS), completions(best, FAMILIES, SET_UPS)[-1]) == (995, 175)
    blind = smith(FAMILIES)
    assert (weighted(blind, FAMILIES, SET_UPS), completions(blind, FAMILIES, SET_UPS)[-1]) == (1070, 210)
    costs = sorted({weighted(order, FAMILIES, SET_UPS) for order in permutations(range(5))})
    assert costs[:2] == [995, 1045]
    assert best_order(FAMILIES, SET_UPS) == best


def test_no_weight_comes_last() -> None:
    assert smith(jobs_of((1, 50), (0, 1))) == (1, 0)
    assert Job(1).due_minutes == inf
