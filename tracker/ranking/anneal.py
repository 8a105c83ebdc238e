"""Annealing: swaps and turns taken by chance, worse ones ever more rarely (Kirkpatrick and others 1983)."""

from __future__ import annotations

from collections.abc import Sequence
from math import log
from random import Random
from typing import NamedTuple

from tracker.ranking.wiring import Rows, Wiring

STAGES = 40
"""Steps in which it cools."""


class Annealed(NamedTuple):
    """Where a run came to."""

    arrangement: list[int]
    """The cheapest it met."""
    cost: int
    moves: int


class Heat(NamedTuple):
    """First and last temperature, in units of cost; falls by the same share at each stage."""

    first: float
    last: float

    def stages(self) -> list[float]:
        """The temperature of each stage."""
        fall = (self.last / self.first) ** (1 / (STAGES - 1))
        return [self.first * fall**stage for stage in range(STAGES)]


class Costs(NamedTuple):
    """What an arrangement costs: rows per kind of link, and what a state costs in a cell by itself."""

    rows: Sequence[Rows]
    alone: Sequence[Sequence[int]]


Near = Sequence[Sequence[tuple[int, Rows]]]


def anneal(  # noqa: C901, PLR0912, PLR0915 - one loop: a call in it would cost as much as a move
    wiring: Wiring, costs: Costs, start: Sequence[int], random: Random, *, moves: int, heat: Heat
) -> Annealed:
    """The cheapest arrangement met in so many moves; stops early at a cost of nothing.

    A move swaps two cells, or turns one piece where pieces have poses. One that is worse by d is taken with
    probability exp(-d / temperature). `here` keeps what each cell costs, so only the new costs are summed.
    """
    alone, may = costs.alone, wiring.may
    near: Near = [[(other, costs.rows[kind]) for other, kind in cell] for cell in wiring.near]
    beside = [dict(cell) for cell in near]
    turns = [[pose for pose in wiring.poses[piece] if pose != s] for s, piece in enumerate(wiring.piece_of)]
    turning = 0.5 if any(turns) else 0.0
    now = list(start)
    here = [_cost_of(near, alone, now, cell) for cell in range(len(now))]
    cost = (sum(here) + sum(alone[cell][state] for cell, state in enumerate(now))) // 2
    best, best_cost, made = now[:], cost, 0
    movable, leading = _movable(wiring, costs)
    chance, many, leaders = random.random, len(movable), len(leading)
    for temperature in heat.stages() if leaders and cost > 0 else ():
        for _ in range(moves // STAGES):
            a = leading[int(chance() * leaders)]
            old_a = now[a]
            if turning and chance() < turning:
                poses = turns[old_a]
                if not poses:
                    continue
                b, new_a = -1, poses[int(chance() * len(poses))]
                cost_a = alone[a][new_a]
                for other, rows in near[a]:
                    cost_a += rows[new_a][now[other]]
                worse = cost_a - here[a]
            else:
                b = movable[int(chance() * many)]
                new_a = now[b]
                if a == b or not may[a][new_a] or not may[b][old_a]:
                    continue
                now[a], now[b] = new_a, old_a
                cost_a, cost_b = alone[a][new_a], alone[b][old_a]
                for other, rows in near[a]:
                    cost_a += rows[new_a][now[other]]
                for other, rows in near[b]:
                    cost_b += rows[old_a][now[other]]
                worse = cost_a + cost_b - here[a] - here[b]
                if b in beside[a]:  # their own link was counted from both sides
                    rows = beside[a][b]
                    worse += rows[old_a][new_a] - rows[new_a][old_a]
            if worse > 0 and worse >= -temperature * log(1.0 - chance()):
                if b >= 0:
                    now[a], now[b] = old_a, new_a
                continue
            cost += worse
            now[a] = new_a
            for other, rows in near[a]:
                seen = now[other]
                here[other] += rows[new_a][seen] - rows[old_a][seen]
            if b >= 0:
                for other, rows in near[b]:
                    seen = now[other]
                    here[other] += rows[old_a][seen] - rows[new_a][seen]
                here[b] = cost_b
            here[a] = cost_a
            if cost < best_cost:
                best, best_cost = now[:], cost
                if cost <= 0:
                    return Annealed(best, best_cost, made + moves // STAGES)
        made += moves // STAGES
    return Annealed(best, best_cost, made)


def _cost_of(near: Near, alone: Sequence[Sequence[int]], now: Sequence[int], cell: int) -> int:
    """What a cell costs: its links and its state by itself."""
    state = now[cell]
    return alone[cell][state] + sum(rows[state][now[other]] for other, rows in near[cell])


def _movable(wiring: Wiring, costs: Costs) -> tuple[list[int], list[int]]:
    """Cells whose piece or pose can change, and those of them where it can matter."""
    fixed = {
        next(iter(cells))
        for piece, cells in enumerate(wiring.puzzle.allowed)
        if cells is not None and len(cells) == 1 and len(wiring.poses[piece]) == 1
    }
    movable = [cell for cell in range(wiring.puzzle.cells) if cell not in fixed]
    leading = [cell for cell in movable if wiring.near[cell] or any(costs.alone[cell])]
    return movable, leading
