"""Against every arrangement there is, on small units as they come; most of them cannot be without clash."""

from __future__ import annotations

from itertools import permutations, product

import pytest

from tests.ranking.families import unselected
from tracker.ranking.exhaustive import exhaustive, key_of
from tracker.ranking.puzzle import Puzzle, value_of
from tracker.ranking.solve import First, solve

Key = tuple[int, int, int]

UNITS = [(5, 1, 1, 250), (3, 2, 1, 250), (3, 1, 4, 120), (4, 1, 2, 60), (2, 2, 2, 40)]
"""Files, ranks, turns and how many of them: 720 together."""


def all_tried(puzzle: Puzzle) -> tuple[Key, Key]:
    """Least (worst, total, dislike) and least (total, worst, dislike) of all arrangements, one by one."""
    poses = [
        [state for state, (piece, _) in enumerate(puzzle.states) if piece == number]
        for number in range(puzzle.cells)
    ]
    tables, links = puzzle.tables, [link[:3] for link in puzzle.links]
    worst_first: Key = (10**9, 0, 0)
    total_first: Key = (10**9, 0, 0)
    for order in permutations(poses):
        for placed in product(*order):
            clashes = [tables[table][placed[first]][placed[second]] for first, second, table in links]
            worst, total = max(clashes), sum(clashes)
            if worst > worst_first[0] and total > total_first[0]:
                continue
            dislike = sum(puzzle.dislike[cell][state] for cell, state in enumerate(placed))
            worst_first = min(worst_first, (worst, total, dislike))
            total_first = min(total_first, (total, worst, dislike))
    return worst_first, total_first


def found(puzzle: Puzzle, first: First) -> Key:
    """What the solver says, checked against its own arrangement."""
    answer = solve(puzzle, first=first)
    assert answer.value == value_of(puzzle, answer.arrangement)
    return key_of(answer.value, first)


@pytest.mark.parametrize(("files", "ranks", "turns", "number"), UNITS)
def test_small_units_are_solved_to_the_best_there_is(files: int, ranks: int, turns: int, number: int) -> None:
    for seed in range(number):
        puzzle = unselected(seed, files, ranks, turns)
        assert (found(puzzle, "worst"), found(puzzle, "total")) == all_tried(puzzle)


@pytest.mark.slow
@pytest.mark.parametrize(
    ("files", "ranks", "turns", "number"),
    [(5, 1, 1, 60), (3, 2, 1, 60), (3, 1, 4, 40), (4, 1, 2, 30), (2, 2, 2, 20), (4, 2, 1, 12)],
)
def test_the_search_alone_finds_the_best_as_well(
    files: int, ranks: int, turns: int, number: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    # Without trying all arrangements, and with fewer moves than usual: larger units have only the search.
    monkeypatch.setattr("tracker.ranking.solve.SMALL", 0)
    monkeypatch.setattr("tracker.ranking.solve.MEDIUM", 0)
    monkeypatch.setattr("tracker.ranking.search.TOTAL_MOVES", 12_000)
    clashing = both = 0
    for seed in range(number):
        puzzle = unselected(seed, files, ranks, turns)
        best = all_tried(puzzle)
        worst, total = found(puzzle, "worst"), found(puzzle, "total")
        assert (worst[0], total[0]) == (best[0][0], best[1][0])
        both += (worst[1], total[1]) == (best[0][1], best[1][1])
        clashing += best[0][0] > 0
    assert both >= 0.9 * number
    assert turns > 1 or clashing > number / 4


def test_exhaustive_search_proves_what_it_finds() -> None:
    for seed in range(20):
        puzzle = unselected(seed, 3, 2)
        for first, best in zip(("worst", "total"), all_tried(puzzle), strict=True):
            answer = exhaustive(puzzle, "worst" if first == "worst" else "total")
            assert answer.proved
            assert key_of(answer.value, "worst" if first == "worst" else "total") == best


def test_ten_models_are_mostly_proved() -> None:
    proved = [solve(unselected(seed, 5, 2), seed=seed).proved for seed in range(6)]
    assert sum(proved) >= 5
