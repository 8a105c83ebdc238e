"""A unit that nearly stands is mended with few acts."""

from __future__ import annotations

from random import Random

from tests.ranking.units import Unit, random_reach, reach
from tracker.domain.ranks import RankRules
from tracker.ranking.mend import mended
from tracker.ranking.puzzle import is_legal, value_of
from tracker.ranking.swaps import swaps_between


def test_one_swap_is_enough_where_one_is_enough() -> None:
    """Twenty models, two of which clash; the others stay where they are."""
    models = [reach(-9, -9) for _ in range(20)]
    models[6], models[7] = reach(-9, 8), reach(8, -9)
    unit = Unit(5, 4, models)
    best = unit.plan()
    assert best.status == "no clash"
    assert len(swaps_between(unit.now, best.placed)) == 1


def test_it_never_gets_worse_and_stays_legal() -> None:
    """On units nobody selected, with turns and kept places."""
    for seed in range(20):
        random = Random(seed)
        unit = Unit(4, 2, [random_reach(random, high=8) for _ in range(8)], RankRules(turns="half"))
        first = unit.notes.models[0]._replace(place="rank 1")
        unit.notes = unit.notes._replace(models=(first, *unit.notes.models[1:]))
        puzzle = unit.board().puzzle
        states = {piece: state for state, (piece, pose) in enumerate(puzzle.states) if pose == 0}
        start = tuple(states[piece] for piece in range(8))
        after = mended(puzzle, start)
        assert is_legal(puzzle, after)
        assert value_of(puzzle, after) <= value_of(puzzle, start)
