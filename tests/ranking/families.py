"""Units made by chance: with an arrangement without clash planted in them, or with none known.

Whole mm of reach per edge and height band; a clash is the largest sum of two facing reaches, never below 0.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from operator import add
from random import Random
from typing import NamedTuple

from tracker.ranking.puzzle import UM_PER_MM, Link, Puzzle

FRONT, RIGHT, BACK, LEFT = range(4)
SHAPES = {5: (5, 1), 10: (5, 2), 20: (5, 4), 40: (10, 4)}
"""Files and ranks of a unit of so many models."""

Reaches = list[list[int]]
"""Per edge, per band."""
Draw = Callable[[Random], int]


class Planted(NamedTuple):
    """A puzzle and an arrangement of it without clash."""

    puzzle: Puzzle
    arrangement: tuple[int, ...]


def links(files: int, ranks: int) -> tuple[Link, ...]:
    """Left to right by table 0, front to back by table 1; cells rank by rank."""
    return tuple(
        link
        for rank in range(ranks)
        for file in range(files)
        for link in (
            Link(rank * files + file, rank * files + file + 1, 0),
            Link(rank * files + file, rank * files + file + files, 1),
        )
        if (link.table == 0 and file + 1 < files) or (link.table == 1 and rank + 1 < ranks)
    )


def unit(files: int, ranks: int, figures: Sequence[Reaches], turns: int = 1) -> Puzzle:
    """The puzzle of such figures; `turns` = 1, 2 (0 and 180) or 4; a turned model is disliked a little."""
    step = 4 // turns
    states = [(piece, step * turn) for piece in range(len(figures)) for turn in range(turns)]
    seen = [[figures[piece][(edge - turn) % 4] for edge in range(4)] for piece, turn in states]
    tables = tuple(
        tuple(tuple(clash_um(mine[near], yours[far]) for yours in seen) for mine in seen)
        for near, far in ((RIGHT, LEFT), (BACK, FRONT))
    )
    return puzzle(files, ranks, tuple((piece, turn) for piece, turn in states), tables)


def puzzle(
    files: int,
    ranks: int,
    states: tuple[tuple[int, int], ...],
    tables: tuple[tuple[tuple[int, ...], ...], ...],
) -> Puzzle:
    """A block of files and ranks where everything may stand everywhere."""
    cells = files * ranks
    dislike = tuple(int(pose != 0) for _, pose in states)
    return Puzzle(states, cells, links(files, ranks), tables, (None,) * cells, (dislike,) * cells)


def clash_um(mine: Sequence[int], yours: Sequence[int]) -> int:
    """The clash of two facing edges in micrometres."""
    most_mm: int = max(0, *map(add, mine, yours))
    return UM_PER_MM * most_mm


def figure_reach(random: Random) -> int:
    """Reach in one band: mostly well inside the base, one in four pokes out."""
    return random.randint(1, 7) if random.random() < 0.25 else -random.randint(1, 8)


class Recipe(NamedTuple):
    """How the reaches of a planted unit are drawn."""

    bands: int
    turns: int
    reach: Draw
    slack: Draw | None = None
    """How far the second edge of a joint stays short of the first; None = drawn until it clears it."""


def planted_unit(random: Random, models: int, recipe: Recipe) -> Planted:
    """Figures drawn so that the arrangement they are drawn in has no clash.

    The second edge of a joint is drawn by what the first leaves it. Then the figures are shuffled and turned.
    """
    (files, ranks), turns = SHAPES[models], recipe.turns
    cells = files * ranks
    stand = [[[recipe.reach(random) for _ in range(recipe.bands)] for _ in range(4)] for _ in range(cells)]
    for link in links(files, ranks):
        near, far = (RIGHT, LEFT) if link.table == 0 else (BACK, FRONT)
        stand[link.second][far] = [_facing(random, mine, recipe) for mine in stand[link.first][near]]
    order = random.sample(range(cells), cells)
    turned = [random.randrange(turns) for _ in range(cells)]
    figures: list[Reaches] = [[] for _ in range(cells)]
    for cell, piece in enumerate(order):
        quarter = turned[cell] * 4 // turns
        figures[piece] = [stand[cell][(edge + quarter) % 4] for edge in range(4)]
    arrangement = tuple(piece * turns + turn for piece, turn in zip(order, turned, strict=True))
    return Planted(unit(files, ranks, figures, turns), arrangement)


def _facing(random: Random, mine: int, recipe: Recipe) -> int:
    """A reach that clears the one it faces."""
    if recipe.slack is not None:
        return -mine - recipe.slack(random)
    yours = recipe.reach(random)
    while mine + yours > 0:
        yours = recipe.reach(random)
    return yours


def figures(seed: int, models: int, turns: int = 1) -> Planted:
    """Figures in two bands, picked so that an arrangement without clash exists."""
    return planted_unit(Random(seed), models, Recipe(2, turns, figure_reach))


def additive(seed: int, models: int, bands: int, turns: int = 1) -> Planted:
    """Reaches where most planted joints just fit, so that few arrangements do."""
    recipe = Recipe(
        bands,
        turns,
        lambda random: random.randint(-6, 6),
        lambda random: random.choice((0, 0, 0, 4, 9)),
    )
    return planted_unit(Random(seed), models, recipe)


def unstructured(seed: int, models: int, share: float) -> Planted:
    """Tables where every pair clashes with the same chance, but for the pairs of one arrangement."""
    random, (files, ranks) = Random(seed), SHAPES[models]
    tables = [
        [
            [UM_PER_MM * random.randint(1, 9) if random.random() < share else 0 for _ in range(models)]
            for _ in range(models)
        ]
        for _ in range(2)
    ]
    order = random.sample(range(models), models)
    for link in links(files, ranks):
        tables[link.table][order[link.first]][order[link.second]] = 0
    fixed = tuple(tuple(tuple(row) for row in table) for table in tables)
    return Planted(puzzle(files, ranks, tuple((piece, 0) for piece in range(models)), fixed), tuple(order))


def unselected(seed: int, files: int, ranks: int, turns: int = 1) -> Puzzle:
    """Figures as they come, in three bands: about half of all pairs clash."""
    random = Random(seed)
    made = [[[figure_reach(random) for _ in range(3)] for _ in range(4)] for _ in range(files * ranks)]
    return unit(files, ranks, made, turns)


def clash_share(puzzle: Puzzle) -> float:
    """Share of pairs of different pieces that clash, over the tables of the puzzle."""
    pairs = [
        value > 0
        for table in puzzle.tables
        for (mine, _), row in zip(puzzle.states, table, strict=True)
        for (yours, _), value in zip(puzzle.states, row, strict=True)
        if mine != yours
    ]
    return sum(pairs) / len(pairs)
