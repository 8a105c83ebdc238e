"""The matchings against a reference library."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import linear_sum_assignment

from tracker.ranking.assignment import cheapest_pairs, largest


@pytest.mark.parametrize("seed", range(60))
def test_full_matchings_cost_what_the_reference_says(seed: int) -> None:
    """Source: scipy.optimize.linear_sum_assignment, square and oblong."""
    rng = np.random.default_rng(seed)
    rows, columns = rng.integers(1, 9, 2)
    costs = rng.integers(0, 30, (rows, columns))
    one, other = linear_sum_assignment(costs)
    assert cheapest_pairs(costs.tolist(), min(rows, columns)) == costs[one, other].sum()


@pytest.mark.parametrize("seed", range(40))
def test_so_many_pairs_cost_what_the_reference_says(seed: int) -> None:
    """Source: the same, on a table made wider so that exactly k pairs are real; forbidden pairs cost much."""
    rng = np.random.default_rng(seed)
    rows, columns = rng.integers(2, 7, 2)
    costs = rng.integers(0, 30, (rows, columns))
    banned = rng.random((rows, columns)) < 0.2
    pairs = int(rng.integers(1, min(rows, columns) + 1))
    best: int | None = None
    much = 10**6
    wide = np.full((rows + columns - pairs, columns + rows - pairs), much)
    wide[:rows, :columns] = np.where(banned, much, costs)
    wide[:rows, columns:] = 0
    wide[rows:, :columns] = 0
    one, other = linear_sum_assignment(wide)
    total = int(wide[one, other].sum())
    best = None if total >= much else total
    table = [[None if banned[i, j] else int(costs[i, j]) for j in range(columns)] for i in range(rows)]
    assert cheapest_pairs(table, pairs) == best


def test_a_table_worked_by_hand() -> None:
    """Two rows that want the same column: the cheaper way round is 1 + 2."""
    assert cheapest_pairs([[1, 3], [1, 2]], 2) == 3
    assert cheapest_pairs([[1, 3], [1, 2]], 1) == 1
    assert cheapest_pairs([[1, 3], [1, 2]], 0) == 0
    assert cheapest_pairs([[1, 3]], 2) is None
    assert cheapest_pairs([[None, None], [1, 2]], 2) is None
    assert cheapest_pairs([], 1) is None


@pytest.mark.parametrize("seed", range(60))
def test_the_largest_matching_and_why_it_is_no_larger(seed: int) -> None:
    """Source: the same reference for the size; Hall 1935 for the rows that have too few columns."""
    rng = np.random.default_rng(seed)
    rows, columns = rng.integers(1, 9, 2)
    allowed = rng.random((rows, columns)) < 0.35
    pairs, short = largest(allowed.tolist())
    one, other = linear_sum_assignment(~allowed)
    assert pairs == allowed[one, other].sum()
    assert bool(short) == (pairs < rows)
    if short:
        assert allowed[sorted(short)].any(axis=0).sum() < len(short)
