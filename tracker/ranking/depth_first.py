"""Depth-first search for an arrangement in which no link is above a limit, on sets of states kept as bits."""

from __future__ import annotations

from collections.abc import Sequence
from random import Random
from typing import NamedTuple

from tracker.ranking.wiring import Wiring, rows_of


class Hunted(NamedTuple):
    """What a search found."""

    arrangement: list[int] | None
    """Every link within the limit; None = not found."""
    finished: bool
    """Whether every case was looked at: then none found means there is none."""
    nodes: int
    """States put into a cell."""


class Fits(NamedTuple):
    """Which states go together, as bits of a whole number."""

    beside: list[list[int]]
    """Per kind of link and state: the states that may stand across it."""
    within: list[int]
    """Per cell: the states that may stand in it."""
    own: list[int]
    """Per state: all states of its piece."""


def fits_within(wiring: Wiring, limit: int) -> Fits:
    """Which states may stand beside which, when no link may be above the limit."""
    own = [sum(1 << pose for pose in wiring.poses[piece]) for piece in wiring.piece_of]
    over = rows_of(wiring, lambda value: int(value > limit))
    return Fits(
        [[_bits(row) & ~own[state] for state, row in enumerate(rows)] for rows in over],
        [_bits([int(not may) for may in cell]) for cell in wiring.may],
        own,
    )


def _bits(over: Sequence[int]) -> int:
    """A set bit for every nought."""
    return int("".join("0" if value else "1" for value in reversed(over)) or "0", 2)


def depth_first(wiring: Wiring, fits: Fits, random: Random, *, nodes: int) -> Hunted:
    """Fill the cell with fewest states left, hardest states first, going back when a cell has none.

    A state is hard when few others may stand beside it: left to the end, it would fit nowhere. Stops after so
    many nodes; then begin again with other luck, as a bad first choice is never undone in time (restarts:
    Gomes, Selman and Kautz 1998). A branch is also given up when a piece has no cell left.
    """
    chosen: list[int] = [-1] * wiring.puzzle.cells
    ease = [
        sum(beside[state].bit_count() for beside in fits.beside) * random.uniform(0.95, 1.05)
        for state in range(len(fits.own))
    ]
    spent = 0

    def fill(domains: list[int], cells: list[int], pieces: list[int]) -> bool:
        nonlocal spent
        if not cells:
            return True
        cell = min(cells, key=lambda at: domains[at].bit_count())
        rest = [other for other in cells if other != cell]
        for state in sorted(_states(domains[cell]), key=ease.__getitem__):
            if spent >= nodes:
                return False
            spent += 1
            own = fits.own[state]
            left = [piece for piece in pieces if piece != own]
            narrowed = [domain & ~own for domain in domains]
            for other, kind in wiring.near[cell]:
                narrowed[other] &= fits.beside[kind][state]
            if not _open(narrowed, rest, left):
                continue
            chosen[cell] = state
            if fill(narrowed, rest, left):
                return True
        return False

    domains, cells = list(fits.within), random.sample(range(len(chosen)), len(chosen))
    pieces = [fits.own[poses[0]] for poses in wiring.poses]
    found = _open(domains, cells, pieces) and fill(domains, cells, pieces)
    return Hunted(chosen if found else None, found or spent < nodes, spent)


def _states(bits: int) -> list[int]:
    """The states of a set."""
    states = []
    while bits:
        low = bits & -bits
        states.append(low.bit_length() - 1)
        bits ^= low
    return states


def _open(domains: list[int], cells: list[int], pieces: list[int]) -> bool:
    """Whether every cell still has a state and every piece a cell."""
    union = 0
    for cell in cells:
        if not domains[cell]:
            return False
        union |= domains[cell]
    return all(map(union.__and__, pieces))
