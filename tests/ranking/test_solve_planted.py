"""Units in which an arrangement without clash is planted must be solved to none, family by family."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from tests.ranking.families import Planted, additive, clash_share, figures, unselected, unstructured
from tests.ranking.swapper import swapped
from tracker.ranking.puzzle import Puzzle, is_legal, value_of
from tracker.ranking.solve import solve

Make = Callable[[int], Planted]


def solved(make: Make, number: int) -> int:
    """How many of the family's first units are solved without clash."""
    clear = 0
    for seed in range(number):
        planted = make(seed)
        found = solve(planted.puzzle, seed=seed)
        assert is_legal(planted.puzzle, found.arrangement)
        clear += value_of(planted.puzzle, found.arrangement).total == 0
    return clear


def test_planted_arrangements_have_no_clash_and_pairs_clash_as_often_as_said() -> None:
    # Shares in which solvers of such units were compared: figures picked to fit 0.21-0.38, one tight band
    # about 0.36, three tight bands about 0.72. No source outside the project.
    for planted, least, most in (
        (figures(1, 20), 0.21, 0.38),
        (figures(1, 10, turns=4), 0.21, 0.38),
        (additive(1, 20, 1), 0.28, 0.44),
        (additive(1, 20, 3), 0.62, 0.82),
        (unstructured(1, 40, 0.7), 0.62, 0.75),
    ):
        assert is_legal(planted.puzzle, planted.arrangement)
        assert value_of(planted.puzzle, planted.arrangement)[:2] == (0, 0)
        assert least <= clash_share(planted.puzzle) <= most


@pytest.mark.parametrize("models", [5, 10, 20])
def test_figures_looking_to_the_front(models: int) -> None:
    assert solved(lambda seed: figures(seed, models), 200) == 200


def test_five_figures_that_may_be_turned() -> None:
    assert solved(lambda seed: figures(seed, 5, 4), 200) == 200


@pytest.mark.slow
@pytest.mark.parametrize(("models", "turns"), [(40, 1), (10, 4), (20, 4), (40, 4)])
def test_many_figures(models: int, turns: int) -> None:
    assert solved(lambda seed: figures(seed, models, turns), 200) == 200


@pytest.mark.parametrize("models", [10, 20, 40])
@pytest.mark.parametrize("share", [0.5, 0.7])
def test_unstructured_units(models: int, share: float) -> None:
    assert solved(lambda seed: unstructured(seed, models, share), 30) == 30


@pytest.mark.parametrize(("models", "bands"), [(10, 1), (20, 1), (40, 1), (10, 3), (20, 3)])
def test_units_where_most_joints_just_fit(models: int, bands: int) -> None:
    assert solved(lambda seed: additive(seed, models, bands), 30) == 30


FAMILIES: dict[str, Callable[[int], Puzzle]] = {
    "figures": lambda seed: figures(seed, 20).puzzle,
    "figures that turn": lambda seed: figures(seed, 10, 4).puzzle,
    "one tight band": lambda seed: additive(seed, 20, 1).puzzle,
    "three tight bands": lambda seed: additive(seed, 20, 3).puzzle,
    "half clash": lambda seed: unstructured(seed, 20, 0.5).puzzle,
    "most clash": lambda seed: unstructured(seed, 40, 0.7).puzzle,
    "unselected": lambda seed: unselected(seed, 5, 4),
}


@pytest.mark.parametrize("family", FAMILIES)
def test_better_than_swapping_until_stuck(family: str) -> None:
    ours = theirs = 0
    for seed in range(4):
        puzzle = FAMILIES[family](seed)
        mine, other = solve(puzzle, seed=seed).value, value_of(puzzle, swapped(puzzle, seed))
        assert mine[:2] <= other[:2]
        ours, theirs = ours + mine.total, theirs + other.total
    assert ours < theirs
