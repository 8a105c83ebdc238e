"""A patient person at the table: the best change for the worst model, until no change helps."""

from __future__ import annotations

from random import Random

from tracker.ranking.puzzle import Puzzle


def swapped(puzzle: Puzzle, seed: int) -> tuple[int, ...]:
    """From an order by chance: swaps or turns of the model that clashes most, best one first, until stuck."""
    random = Random(seed)
    poses: list[list[int]] = [[] for _ in range(puzzle.cells)]
    for state, (piece, _) in enumerate(puzzle.states):
        poses[piece].append(state)
    now = [random.choice(poses[piece]) for piece in random.sample(range(puzzle.cells), puzzle.cells)]
    while True:
        better = _changed(puzzle, now, poses)
        if better is None:
            return tuple(now)
        now = better


def _changed(puzzle: Puzzle, now: list[int], poses: list[list[int]]) -> list[int] | None:
    """The best single change for the model that clashes most; None = nothing helps."""
    cells = range(puzzle.cells)
    worst = max(cells, key=lambda cell: _clash(puzzle, now, (cell,)))
    changes = [_swap(now, worst, cell) for cell in cells if cell != worst]
    turned = [[*now] for _ in poses[puzzle.states[now[worst]][0]]]
    for pose, change in zip(poses[puzzle.states[now[worst]][0]], turned, strict=True):
        change[worst] = pose
    best = min(changes + turned, key=lambda change: _clash(puzzle, change, cells))
    return best if _clash(puzzle, best, cells) < _clash(puzzle, now, cells) else None


def _swap(now: list[int], first: int, second: int) -> list[int]:
    """The order with two cells changed over."""
    after = now[:]
    after[first], after[second] = now[second], now[first]
    return after


def _clash(puzzle: Puzzle, now: list[int], cells: range | tuple[int, ...]) -> int:
    """Micrometres of clash at the links of some cells."""
    return sum(
        puzzle.tables[link.table][now[link.first]][now[link.second]]
        for link in puzzle.links
        if link.first in cells or link.second in cells
    )
