"""In which order units put most on the table soonest, and keep their goals.

A job is what is left of a unit: expected minutes p, weight w (points, or models), the minutes that
there are by its goal date. Units that share a set-up (paints, primer, varnish on the desk) are a family;
it is paid whenever the family before was another. What is minimised, the first entry first:

    (goals late in a middling future, goals late in a bad one, sum of w x C)      C = minutes until ready

Here are the rules that theory proves best for one of these alone; `order_search` weighs all of them. Waits
are left out: the dates beside a suggestion come from the simulation, which knows them.

Sources: W. E. Smith 1956 (Naval Res. Logist. Q. 3:59-66); J. R. Jackson 1955 (earliest due date);
J. M. Moore 1968 (Manag. Sci. 15:102-109); S. Webster and K. R. Baker 1995 (Oper. Res. 43:692-703); chains:
M. Pinedo, Scheduling, ch. 3.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import inf
from typing import NamedTuple

_LEAST_MINUTES = 1e-9

Order = tuple[int, ...]
"""Numbers of jobs, the first to be done first."""


class Job(NamedTuple):
    """What is left of one unit."""

    minutes: float
    """Expected hands-on minutes, its family's set-up not counted."""
    weight: float = 1.0
    """What it is worth on the table: points, or models."""
    due_minutes: float = inf
    """Minutes that a middling future has by its goal date; inf = no goal."""
    safe_minutes: float = inf
    """Minutes that 8 futures in 10 have by then."""
    family: str = ""


class Cost(NamedTuple):
    """What an order comes to; less is better, the first entry first."""

    late: int
    """Goals that a middling future misses."""
    unsafe: int
    """Goals that a bad future (1 in 5) misses."""
    weighted_minutes: float
    """Sum over jobs of weight times minutes until it is ready."""

    def is_less(self, other: Cost) -> bool:
        """Whether it is better by more than the last digits of a sum."""
        if self[:2] != other[:2]:
            return self < other
        return self.weighted_minutes < other.weighted_minutes * (1 - 1e-9)


SetUps = Mapping[str, float]
"""Set-up minutes by family; none = 0."""


def completions(order: Order, jobs: Sequence[Job], set_ups: SetUps) -> list[float]:
    """Minutes until each job of the order is ready, in that order."""
    out, clock, family = [], 0.0, None
    for i in order:
        clock += jobs[i].minutes + (set_ups.get(jobs[i].family, 0.0) if jobs[i].family != family else 0.0)
        family = jobs[i].family
        out.append(clock)
    return out


def cost_of(order: Order, jobs: Sequence[Job], set_ups: SetUps) -> Cost:
    """What an order comes to."""
    ready = list(zip(completions(order, jobs, set_ups), (jobs[i] for i in order), strict=True))
    return Cost(
        sum(at > job.due_minutes for at, job in ready),
        sum(at > job.safe_minutes for at, job in ready),
        sum(at * job.weight for at, job in ready),
    )


def smith(jobs: Sequence[Job]) -> Order:
    """By minutes per weight, least first: minimises the sum of w x C where nothing else matters."""
    return tuple(sorted(range(len(jobs)), key=lambda i: (_ratio(jobs[i].minutes, jobs[i].weight), i)))


def _ratio(minutes: float, weight: float) -> float:
    return minutes / weight if weight > 0 else inf


def earliest_due(jobs: Sequence[Job]) -> Order:
    """By due minutes: minimises the greatest lateness (Jackson's rule)."""
    return tuple(sorted(range(len(jobs)), key=lambda i: (jobs[i].due_minutes, i)))


def greatest_lateness(order: Order, jobs: Sequence[Job]) -> float:
    """The most by which a job of the order is ready after it is due; below 0 = all are early."""
    ready = completions(order, jobs, {})
    return max(at - jobs[i].due_minutes for at, i in zip(ready, order, strict=True))


def fewest_late(jobs: Sequence[Job]) -> tuple[Order, Order]:
    """(on time by due date, late): as few late jobs as can be (Moore and Hodgson).

    By due date; whenever one is late, the longest so far is given up. Other sets of the same size may
    be on time as well.
    """
    kept: list[int] = []
    late: list[int] = []
    clock = 0.0
    for i in earliest_due(jobs):
        kept.append(i)
        clock += jobs[i].minutes
        if clock > jobs[i].due_minutes:
            longest = max(kept, key=lambda j: jobs[j].minutes)
            kept.remove(longest)
            late.append(longest)
            clock -= jobs[longest].minutes
    return tuple(kept), tuple(late)


def in_chains(chains: Sequence[Sequence[Job]]) -> tuple[tuple[int, int], ...]:
    """(chain, place) in the order that minimises the sum of w x C, every chain in its own order.

    Repeatedly the beginning of a chain with the most weight per minute is done, as far as that grows.
    """
    at = [0] * len(chains)
    out: list[tuple[int, int]] = []
    while True:
        open_ones = [c for c, chain in enumerate(chains) if at[c] < len(chain)]
        if not open_ones:
            return tuple(out)
        best = {c: _best_beginning(chains[c][at[c] :]) for c in open_ones}
        c = max(open_ones, key=lambda one: best[one][0])
        out += [(c, place) for place in range(at[c], at[c] + best[c][1])]
        at[c] += best[c][1]


def _best_beginning(chain: Sequence[Job]) -> tuple[float, int]:
    """(weight per minute, length) of the beginning of a chain with the most weight per minute."""
    minutes = weight = 0.0
    best = (-1.0, 0)
    for length, job in enumerate(chain, start=1):
        minutes, weight = minutes + job.minutes, weight + job.weight
        best = max(best, (weight / max(minutes, _LEAST_MINUTES), length))
    return best


def family_blocks(jobs: Sequence[Job], set_ups: SetUps) -> Order:
    """Whole families by (set-up + minutes) per weight, Smith's rule inside: best when none is taken apart."""
    by_family: dict[str, list[int]] = {}
    for i in smith(jobs):
        by_family.setdefault(jobs[i].family, []).append(i)
    blocks = []
    for place, (name, block) in enumerate(by_family.items()):
        minutes = set_ups.get(name, 0.0) + sum(jobs[i].minutes for i in block)
        blocks.append((_ratio(minutes, sum(jobs[i].weight for i in block)), place, block))
    return tuple(i for _, _, block in sorted(blocks) for i in block)
