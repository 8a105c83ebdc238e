"""The bound is never above the best, and mostly proves that a unit cannot stand free."""

from __future__ import annotations

from random import Random

import pytest

from tests.ranking.hand_checks import measured, muster
from tests.ranking.units import SQUARE, Unit, random_reach, reach
from tracker.domain.ranks import Block, RankRules
from tracker.ranking.board import make_board
from tracker.ranking.bound import blockers, least_total, least_worst
from tracker.ranking.exhaustive import exhaustive
from tracker.ranking.puzzle import Puzzle
from tracker.ranking.solve import solve


def _puzzle(random: Random) -> Puzzle:
    """A small unit nobody selected: rows, turns, kept places, fillers, models too many or too few."""
    files, ranks = random.choice(((5, 1), (3, 2), (4, 1), (2, 3)))
    turns = random.choice(("front", "front", "half")) if files * ranks < 6 else "front"
    models = files * ranks + random.choice((-1, 0, 0, 1))
    rules = RankRules(turns=turns, margin_mm=random.choice((0.0, 1.0)))
    unit = Unit(files, ranks, [random_reach(random, bands=3, high=8) for _ in range(models)], rules)
    if random.random() < 0.3:
        unit.notes = unit.notes._replace(blocks=(Block(1, "filler", 1, ranks, 2, 1),))
    if random.random() < 0.3:
        first = unit.notes.models[0]._replace(place="rank 1")
        unit.notes = unit.notes._replace(models=(first, *unit.notes.models[1:]))
    return unit.board().puzzle


@pytest.mark.parametrize("seed", range(300))
def test_no_arrangement_is_below_the_bound(seed: int) -> None:
    """Source: every arrangement tried."""
    puzzle = _puzzle(Random(seed))
    assert least_total(puzzle) <= exhaustive(puzzle, "total").value.total
    assert least_worst(puzzle) <= exhaustive(puzzle, "worst").value.worst
    if blockers(puzzle):
        assert exhaustive(puzzle, "total").value.total > 0


@pytest.mark.parametrize(("files", "ranks", "units"), [(5, 1, 40), (5, 2, 40), (5, 4, 20)])
def test_most_units_that_cannot_stand_are_proved_so(files: int, ranks: int, units: int) -> None:
    """At least nine in ten of the units of invented figures for which no free order was found."""
    misfits = proved = 0
    for seed in range(units):
        models = list(range(1, files * ranks + 1))
        notes = measured(muster(seed, files, ranks))
        puzzle = make_board(files, ranks, SQUARE, "20x20", models, notes).puzzle
        if least_total(puzzle) > 0:
            misfits += 1
            proved += 1
        elif solve(puzzle, seed=seed).value.total > 0:
            misfits += 1
    assert misfits >= units // 4
    assert proved >= 0.9 * misfits


def test_the_models_that_block_are_named() -> None:
    """Two that reach far to the right have only one calm neighbour between them."""
    unit = Unit(4, 1, [reach(5, 9), reach(5, 9), reach(5, 9), reach(-9, -9)])
    named = blockers(unit.board().puzzle)
    assert named
    assert named <= {0, 1, 2}


def test_two_calm_models_are_no_proof() -> None:
    """Nothing clashes, nothing blocks."""
    puzzle = Unit(3, 1, [reach(-5, -5)] * 3).board().puzzle
    assert (least_total(puzzle), least_worst(puzzle), blockers(puzzle)) == (0, 0, frozenset())
