"""Looking at a unit from another side, or numbering its models otherwise, changes no clash."""

from __future__ import annotations

from random import Random

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.ranking.families import unit, unselected
from tracker.ranking.puzzle import Link, Puzzle, Table, value_of
from tracker.ranking.solve import First, solve

SHAPES = st.sampled_from([(3, 2, 1), (2, 3, 1), (5, 1, 1), (6, 1, 1), (3, 1, 2), (2, 2, 2)])
"""Small enough that every answer is proved."""
FIRSTS = st.sampled_from(["worst", "total"])


def flipped(table: Table) -> Table:
    """Who is first and who is second changed over."""
    return tuple(zip(*table, strict=True))


def moved(puzzle: Puzzle, cells: list[int], tables: tuple[Table, ...]) -> Puzzle:
    """The puzzle with cell c at cells[c]; links run from the smaller cell, as in a block of ranks."""
    links = tuple(
        Link(min(ends), max(ends), link.table, link.weight)
        for link in puzzle.links
        for ends in [(cells[link.first], cells[link.second])]
    )
    return puzzle._replace(links=links, tables=tables)


def same_plan(puzzle: Puzzle, other: Puzzle, cells: list[int], first: First) -> None:
    """Both are proved, and either answer carried over to the other puzzle is worth as much there."""
    here, there = solve(puzzle, first=first), solve(other, first=first)
    assert here.proved
    assert there.proved
    assert here.value == there.value
    assert value_of(puzzle, [there.arrangement[cell] for cell in cells]) == there.value


@settings(deadline=None, max_examples=40)
@given(st.integers(0, 10_000), SHAPES, FIRSTS)
def test_the_whole_plan_turned_by_180(seed: int, shape: tuple[int, int, int], first: First) -> None:
    puzzle = unselected(seed, *shape)
    cells = [puzzle.cells - 1 - cell for cell in range(puzzle.cells)]
    # Who stood to the left now stands to the right, who stood in front now behind.
    same_plan(puzzle, moved(puzzle, cells, tuple(flipped(table) for table in puzzle.tables)), cells, first)


@settings(deadline=None, max_examples=40)
@given(st.integers(0, 10_000), SHAPES, FIRSTS)
def test_the_whole_plan_in_a_mirror(seed: int, shape: tuple[int, int, int], first: First) -> None:
    puzzle, files = unselected(seed, *shape), shape[0]
    cells = [cell - cell % files + files - 1 - cell % files for cell in range(puzzle.cells)]
    side, back = puzzle.tables
    same_plan(puzzle, moved(puzzle, cells, (flipped(side), back)), cells, first)


@settings(deadline=None, max_examples=40)
@given(st.integers(0, 10_000), SHAPES, FIRSTS, st.randoms(use_true_random=False))
def test_models_numbered_otherwise(
    seed: int, shape: tuple[int, int, int], first: First, shuffle: Random
) -> None:
    files, ranks, turns = shape
    random, models = Random(seed), files * ranks
    figures = [[[random.randint(-8, 7) for _ in range(2)] for _ in range(4)] for _ in range(models)]
    order = list(range(models))
    shuffle.shuffle(order)
    here = solve(unit(files, ranks, figures, turns), first=first)
    there = solve(unit(files, ranks, [figures[model] for model in order], turns), first=first)
    assert here.proved
    assert there.proved
    assert here.value == there.value
