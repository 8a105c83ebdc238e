"""The best arrangement that can be found: annealing and depth-first search in growing rounds.

Neither method wins everywhere: annealing is at once there when a unit is loose, and depth-first search
when it is so tight that few arrangements have no clash.
"""

from __future__ import annotations

from random import Random

from tracker.ranking.bound import NOTHING_KNOWN, Least
from tracker.ranking.exhaustive import First, Found, branch, count_of
from tracker.ranking.puzzle import Arrangement, Puzzle, is_legal
from tracker.ranking.search import Search
from tracker.ranking.wiring import any_arrangement, wire

__all__ = ["First", "Found", "solve"]

SMALL = 6_000
"""So many arrangements are simply all tried."""
MEDIUM = 4_000_000
"""So many are all tried at the end, unless the nodes run out."""
BRANCH_NODES = 200_000
ROUNDS = 3
"""Hunts for an arrangement without clash; one less when there is one to begin from."""
QUICK_SHARE = 0.5
"""Of the moves that lower the total, in a quick search."""


def solve(
    puzzle: Puzzle,
    *,
    seed: int = 0,
    first: First = "worst",
    start: Arrangement | None = None,
    effort: int = 1,
    quick: bool = False,
    least: Least = NOTHING_KNOWN,
) -> Found:
    """The best arrangement found; the same seed finds the same one, as it stops on moves, not on seconds.

    `first` = "worst": least worst link, then least total under that worst; "total": the other way round.
    Least dislike decides between equals. `start` is an arrangement to better, `effort` multiplies the moves;
    a `quick` search goes on from `start` with a fraction of them and leaves dislike as it comes. What is
    known to be `least` is not looked below.
    Raises ValueError when no arrangement keeps every piece where it may stand. With more than about eight
    pieces the answer is only known to be best when `proved` says so.
    """
    wiring = wire(puzzle)
    search = Search(wiring, Random(seed), first, effort)  # noqa: S311 - no secret
    search.keep(start if start and is_legal(puzzle, start) else any_arrangement(wiring, search.random))
    count = count_of(wiring)
    if count <= SMALL:
        return branch(wiring, first, search.best)
    rounds = 1 if quick else ROUNDS - (start is not None)
    if not least.total and not least.worst:
        search.within(0, rounds)
    if search.value.total and first == "worst":
        search.lower_worst(least.worst)
    if search.value.total and count <= MEDIUM and not quick:
        tried = branch(wiring, first, search.best, BRANCH_NODES * effort)
        search.moves += tried.moves
        if tried.proved:
            return tried._replace(moves=search.moves)
        search.keep(tried.arrangement)
    if search.value.total:
        search.lower_total(rounds, least.total, QUICK_SHARE if quick else 1.0)
    if not quick:
        search.please()
    return Found(tuple(search.best), search.value, search.value.total == 0, search.moves)
