"""A few changes to the order as it stands: the person would rather move three models than twenty."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from tracker.ranking.puzzle import Arrangement, Puzzle, Value, value_of

ACTS_MOST = 12


def mended(puzzle: Puzzle, start: Arrangement) -> Arrangement:
    """The order after best single exchanges or turns, one after the other, until none betters it.

    Worst and total clash are bettered, then dislike; it stops after a dozen acts.
    """
    now = list(start)
    poses: dict[int, list[int]] = {}
    for state, (piece, _) in enumerate(puzzle.states):
        poses.setdefault(piece, []).append(state)
    value = value_of(puzzle, now)
    for _ in range(ACTS_MOST):
        if not value.total:
            break
        best = min(_tries(puzzle, now, poses), default=None, key=lambda tried: tried[0])
        if best is None or best[0] >= value:
            break
        value, now = best
    return tuple(now)


def _tries(
    puzzle: Puzzle, now: Sequence[int], poses: dict[int, list[int]]
) -> Iterator[tuple[Value, list[int]]]:
    """Every exchange of a model that clashes with another one, and every other pose of it."""
    for cell in _clashing(puzzle, now):
        piece = puzzle.states[now[cell]][0]
        for state in poses[piece]:
            if state != now[cell]:
                yield _with(puzzle, now, {cell: state})
        for other in range(len(now)):
            mover = puzzle.states[now[other]][0]
            if other != cell and _may(puzzle, piece, other) and _may(puzzle, mover, cell):
                yield _with(puzzle, now, {cell: now[other], other: now[cell]})


def _with(puzzle: Puzzle, now: Sequence[int], changed: dict[int, int]) -> tuple[Value, list[int]]:
    after = list(now)
    for cell, state in changed.items():
        after[cell] = state
    return value_of(puzzle, after), after


def _may(puzzle: Puzzle, piece: int, cell: int) -> bool:
    allowed = puzzle.allowed[piece]
    return allowed is None or cell in allowed


def _clashing(puzzle: Puzzle, now: Sequence[int]) -> list[int]:
    return sorted(
        {
            cell
            for link in puzzle.links
            if puzzle.tables[link.table][now[link.first]][now[link.second]]
            for cell in (link.first, link.second)
        }
    )
