"""Published quadratic assignment problems through the same engine: flows as a table, distances as weights.

Tables as printed by their authors and collected in QAPLIB (Burkard, Karisch and Rendl 1997, Journal of Global
Optimization 10); the known values and permutations are the optima given there.
Volumes and pages are named from memory.
"""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from tests.published.quadratic_assignment_longer import Instance, puzzle_of, totals
from tracker.ranking.puzzle import value_of


def symmetric(upper: str) -> list[list[int]]:
    """A matrix from the rows above its diagonal, which is nought."""
    rows = [[int(number) for number in line.split()] for line in upper.strip().splitlines()]
    size = len(rows) + 1
    return [[0 if i == j else rows[min(i, j)][abs(i - j) - 1] for j in range(size)] for i in range(size)]


def city_blocks(files: int, ranks: int) -> list[list[int]]:
    """Distances on a grid, walked along its lines."""
    cells = [(cell // files, cell % files) for cell in range(files * ranks)]
    return [[abs(a - c) + abs(b - d) for c, d in cells] for a, b in cells]


def cube_corners(bits: int) -> list[list[int]]:
    """One less than the edges between corners of a cube of so many dimensions."""
    corners = range(1 << bits)
    return [[max(0, (a ^ b).bit_count() - 1) for b in corners] for a in corners]


# Nugent, Vollmann and Ruml (1968), Operations Research 16, 150-173: 12 places, 3 rows of 4.
NUGENT_12 = """
    5 2 4 1 0 0 6 2 1 1 1
    3 0 2 2 2 0 4 5 0 0
    0 0 0 0 5 5 2 2 2
    5 2 2 10 0 0 5 5
    10 0 0 0 5 1 1
    5 1 1 5 4 0
    10 5 2 3 3
    0 0 5 0
    0 10 10
    5 0
    2
"""
# The same: 15 places, 3 rows of 5.
NUGENT_15 = """
    10 0 5 1 0 1 2 2 2 2 0 4 0 0
    1 3 2 2 2 3 2 0 2 0 10 5 0
    10 2 0 2 5 4 5 2 2 5 5 5
    1 1 5 0 0 2 1 0 2 5 0
    3 5 5 5 1 0 3 0 5 5
    2 2 1 5 0 0 2 5 10
    6 0 1 5 5 5 1 0
    5 2 10 0 5 0 0
    0 10 5 10 0 2
    0 4 0 0 5
    5 0 5 0
    3 3 0
    10 2
    4
"""
# Hadley, Rendl and Wolkowicz (1992), Mathematics of Operations Research 17, 727-739: 12 places.
HADLEY_12_NEAR = """
    1 2 2 3 4 4 5 3 5 6 7
    1 1 2 3 3 4 2 4 5 6
    2 1 2 2 3 1 3 4 5
    1 2 2 3 3 3 4 5
    1 1 2 2 2 3 4
    2 3 3 1 2 3
    1 3 1 2 3
    4 2 1 2
    4 5 6
    1 2
    1
"""
HADLEY_12_FLOW = """
    3 4 6 8 5 6 6 5 1 4 6
    6 3 7 9 9 2 2 7 4 7
    2 6 4 4 4 2 6 3 6
    5 5 3 3 9 4 3 6
    4 3 4 5 7 6 7
    8 5 5 5 7 5
    6 8 4 6 7
    1 5 5 3
    4 5 2
    7 7
    9
"""
# Eschermann and Wunderlich (1990), testing of sequential circuits: 16 codes, ten of them used.
ESCHERMANN_16A = """
    2 1 1 2 1 1 2 2 3
    1 1 1 0 0 1 1 2
    1 0 0 0 1 1 1
    0 0 1 1 1 1
    1 1 1 1 2
    1 1 1 1
    1 1 1
    2 2
    2
"""


def padded(matrix: list[list[int]], size: int) -> list[list[int]]:
    """With noughts up to a size."""
    return [[*row, *[0] * (size - len(row))] for row in matrix] + [[0] * size] * (size - len(matrix))


INSTANCES = {
    "nug12": (
        Instance("nug12", city_blocks(4, 3), symmetric(NUGENT_12), 578),
        (12, 7, 9, 3, 4, 8, 11, 1, 5, 6, 10, 2),
    ),
    "nug15": (
        Instance("nug15", city_blocks(5, 3), symmetric(NUGENT_15), 1150),
        (1, 2, 13, 8, 9, 4, 3, 14, 7, 11, 10, 15, 6, 5, 12),
    ),
    "had12": (
        Instance("had12", symmetric(HADLEY_12_NEAR), symmetric(HADLEY_12_FLOW), 1652),
        (3, 10, 11, 2, 12, 5, 6, 7, 8, 1, 4, 9),
    ),
    "esc16a": (
        Instance("esc16a", padded(symmetric(ESCHERMANN_16A), 16), cube_corners(4), 68),
        (2, 14, 10, 16, 5, 3, 7, 8, 4, 6, 12, 11, 15, 13, 9, 1),
    ),
}


@pytest.mark.parametrize("name", INSTANCES)
def test_the_known_permutation_has_the_known_value(name: str) -> None:
    instance, known = INSTANCES[name]
    puzzle = puzzle_of(instance.near, instance.flow)
    assert value_of(puzzle, from_one(known)).total == instance.known


def from_one(permutation: Sequence[int]) -> list[int]:
    """A permutation counted from 1, as published, counted from 0."""
    return [place - 1 for place in permutation]


@pytest.mark.parametrize("name", INSTANCES)
def test_the_known_value_is_reached_within_ten_runs(name: str) -> None:
    instance = INSTANCES[name][0]
    best = 10**9
    for total in totals(instance):
        best = min(best, total)
        assert total >= instance.known  # proved optimal: nothing below it
        if total == instance.known:
            break
    assert best == instance.known
