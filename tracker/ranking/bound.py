"""What no arrangement can better, by matching neighbours pair by pair.

Side joints need so many left-right pairs, and every model is the left one of a pair at most once and the
right one at most once. The cheapest such pairs, each at its best turns, cost no more than any arrangement
has there; the same for joints front to back. Their sum is below the total of every arrangement, and the
least worst pair below its worst joint. Turns make the bound weaker, since a pair may take turns that its
other neighbours forbid.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from tracker.ranking.assignment import cheapest_pairs, largest
from tracker.ranking.puzzle import Puzzle


class Least(NamedTuple):
    """What no arrangement is below, in the units of the tables."""

    total: int
    worst: int


NOTHING_KNOWN = Least(0, 0)


def least_of(puzzle: Puzzle) -> Least:
    """Both bounds."""
    sides = _sides(puzzle)
    return Least(_total(sides), _worst(sides))


class _Side(NamedTuple):
    """One way of meeting: what each pair of pieces costs at its best, and how many pairs there must be."""

    costs: list[list[int | None]]
    pairs: int


def least_total(puzzle: Puzzle) -> int:
    """A total that no arrangement is below, in the units of the tables."""
    return _total(_sides(puzzle))


def least_worst(puzzle: Puzzle) -> int:
    """A worst link that no arrangement is below, in the units of the tables."""
    return _worst(_sides(puzzle))


def _total(sides: Sequence[_Side]) -> int:
    return sum(cheapest_pairs(side.costs, side.pairs) or 0 for side in sides)


def _worst(sides: Sequence[_Side]) -> int:
    out = 0
    for side in sides:
        values = sorted({cost for row in side.costs for cost in row if cost is not None})
        low, high = 0, len(values) - 1
        while low < high:
            middle = (low + high) // 2
            if largest(_under(side, values[middle]))[0] >= side.pairs:
                high = middle
            else:
                low = middle + 1
        if values:
            out = max(out, values[low])
    return out


def blockers(puzzle: Puzzle) -> frozenset[int]:
    """Pieces with too few neighbours that they do not clash with, where no arrangement is free of clashes."""
    out: set[int] = set()
    for side in _sides(puzzle):
        pairs, short = largest(_under(side, 0))
        if pairs < side.pairs:
            out |= short
    return frozenset(out)


def _under(side: _Side, limit: int) -> list[list[bool]]:
    return [[cost is not None and cost <= limit for cost in row] for row in side.costs]


def _sides(puzzle: Puzzle) -> list[_Side]:
    """Per table: pairs of pieces by their best poses. Links to a cell that has several alike are left out."""
    poses: list[list[int]] = [[] for _ in puzzle.allowed]
    for state, (piece, _) in enumerate(puzzle.states):
        poses[piece].append(state)
    out = []
    for number, table in enumerate(puzzle.tables):
        firsts, seconds, pairs, weight = set[int](), set[int](), 0, 0
        for link in puzzle.links:
            if link.table == number and link.first not in firsts and link.second not in seconds:
                firsts.add(link.first)
                seconds.add(link.second)
                pairs += 1
                weight = min(weight, link.weight) if weight else link.weight
        if pairs:
            costs = [
                [
                    None
                    if one == other or not (_may(puzzle, one, firsts) and _may(puzzle, other, seconds))
                    else weight * min(table[a][b] for a in poses[one] for b in poses[other])
                    for other in range(len(poses))
                ]
                for one in range(len(poses))
            ]
            out.append(_Side(costs, pairs))
    return out


def _may(puzzle: Puzzle, piece: int, cells: set[int]) -> bool:
    allowed: frozenset[int] | Sequence[int] | None = puzzle.allowed[piece]
    return allowed is None or not cells.isdisjoint(allowed)
