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
    """Fill the cell with fewest states left, state by state in random order, going back when a cell has none.

    Stops after so many nodes; begin again with other luck, as a bad first choice is never undone in time
    (restarts: Gomes, Selman and Kautz 1998). A branch is also given up when a piece has no cell left.
    """
    chosen: list[int] = [-1] * wiring.puzzle.cells
    pieces = [fits.own[poses[0]] for poses in wiring.poses]
    spent = 0

    def fill(domains: list[int], cells: list[int], left: list[int]) -> bool:
        nonlocal spent
        if not cells:
            return True
        cell = min(cells, key=lambda at: domains[at].bit_count())
        rest = [other for other in cells if other != cell]
        for state in _states(domains[cell], random):
            if spent >= nodes:
                return False
            spent += 1
            own = fits.own[state]
            others = [piece for piece in left if piece != own]
            narrowed = [domain & ~own for domain in domains]
            for other, kind in wiring.near[cell]:
                narrowed[other] &= fits.beside[kind][state]
            if not all(map(narrowed.__getitem__, rest)) or not _all_seated(narrowed, rest, others):
                continue
            chosen[cell] = state
            if fill(narrowed, rest, others):
                return True
        return False

    order = list(range(wiring.puzzle.cells))
    random.shuffle(order)
    possible = all(fits.within) and _all_seated(fits.within, order, pieces)
    found = possible and fill(list(fits.within), order, pieces)
    return Hunted(chosen if found else None, found or spent < nodes, spent)


def _states(bits: int, random: Random) -> list[int]:
    """The states of a set in random order."""
    states = []
    while bits:
        low = bits & -bits
        states.append(low.bit_length() - 1)
        bits ^= low
    random.shuffle(states)
    return states


def _all_seated(domains: list[int], cells: list[int], pieces: list[int]) -> bool:
    """Whether every piece still has a cell."""
    union = 0
    for cell in cells:
        union |= domains[cell]
    return all(union & piece for piece in pieces)
