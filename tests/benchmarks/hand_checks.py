"""How many hand checks a plan needs: python -m tests.benchmarks.hand_checks [units] [processes].

For invented figures that nobody selected: the share of units without a true clash, after so many joints
were tried by hand, read by a ruler that errs; beside it a person who swaps the models themselves, and a
program that knows the solids. 60 units take tens of minutes. It prints figures and never fails.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Sequence
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from typing import NamedTuple

import numpy as np

from tests.ranking.hand_checks import (
    FREE_MM,
    Stage,
    best_by_truth,
    corner_mm,
    hand_check_loop,
    measured,
    muster,
    shares,
    swap_by_hand,
)
from tests.ranking.solids import READING_SD_MM
from tracker.domain.ranks import USUAL_CUTS_MM

CHECKS = (0, 10, 20, 40, 80)
TRIES = (0, 30, 100, 300, 3000)
"""Swaps by hand; the last is until nothing helps."""


class Setting(NamedTuple):
    """What is measured of units."""

    name: str
    cuts_mm: tuple[int, ...]


SETTINGS = (
    Setting("12 numbers", USUAL_CUTS_MM),
    Setting("4 numbers", ()),
)
UNITS = ((5, 2, "front"), (5, 4, "front"), (5, 2, "any"), (5, 4, "any"))
AT_ONCE = 5
"""Joints tried before the next plan."""


class Outcome(NamedTuple):
    """One unit."""

    loops: tuple[tuple[Stage, ...], ...]
    """Per setting."""
    by_hand: tuple[list[float], ...]
    """Clashes left after each number of tries."""
    by_truth: list[float]
    corner_mm: float
    """The deepest clash over a corner of the last plan of the first setting."""
    seconds: float
    plans: int


def outcome(files: int, ranks: int, turns: str, seed: int) -> Outcome:
    """Play one unit through."""
    company = muster(seed, files, ranks, base_mm=20 if seed % 2 else 25, turns=turns)
    start = time.process_time()
    loops = []
    for setting in SETTINGS:
        notes = measured(company, setting.cuts_mm, reading=np.random.default_rng((seed, 1)))
        loops.append(tuple(hand_check_loop(company, notes, CHECKS[-1], at_once=AT_ONCE)))
    seconds = time.process_time() - start
    by_hand = tuple(swap_by_hand(company, tries, np.random.default_rng((seed, 2))) for tries in TRIES)
    corner = corner_mm(company, loops[0][-1].standing)
    return Outcome(tuple(loops), by_hand, best_by_truth(company), corner, seconds, sum(map(len, loops)))


def tell(name: str, outcomes: Sequence[Outcome]) -> None:
    """Print one kind of unit."""
    _say(f"\n{name}, {len(outcomes)} units: % without a clash (% without one above 1 mm), clashes left")
    for index, setting in enumerate(SETTINGS):
        loops = [one.loops[index] for one in outcomes]
        free, nearly = shares(loops, CHECKS), shares(loops, CHECKS, 1.0)
        cells = [f"{a:4.0%} ({b:4.0%})" for a, b in zip(free, nearly, strict=True)]
        _say(f"  {setting.name:26}", *cells)
        first = np.mean([stages[0].clashing for stages in loops])
        last = np.mean([stages[-1].clashing for stages in loops])
        used = np.mean([stages[-1].checks for stages in loops])
        _say(f"  {'':26} clashes {first:.1f} -> {last:.1f}, {used:.0f} checks used on average")
    for index, tries in enumerate(TRIES):
        left = [one.by_hand[index] for one in outcomes]
        _say(f"  swapping by hand, {tries:4} tries", _free(left))
    _say("  the solids known", _free([one.by_truth for one in outcomes]))
    corners = [one.corner_mm for one in outcomes]
    bad = np.mean(np.array(corners) > FREE_MM)
    _say(f"  corners: {bad:.0%} of plans clash there, worst {max(corners):.1f} mm")
    cost = sum(one.seconds for one in outcomes) / sum(one.plans for one in outcomes)
    _say(f"  {cost:.2f} processor seconds a plan")


def _say(*words: object) -> None:
    sys.stdout.write(" ".join(map(str, words)) + "\n")
    sys.stdout.flush()


def _free(left: Sequence[Sequence[float]]) -> str:
    free = np.mean([max(clashes) == 0 for clashes in left])
    nearly = np.mean([max(clashes) <= 1 for clashes in left])
    count = np.mean([sum(mm > 0 for mm in clashes) for clashes in left])
    return f"{free:4.0%} ({nearly:4.0%}), clashes {count:.1f}"


def main(units: int = 60, processes: int = 2) -> None:
    """Measure and print."""
    _say("checks by hand:", *CHECKS, f"| reading error sd {READING_SD_MM} mm, margin 1 mm")
    with ProcessPoolExecutor(processes, mp_context=get_context("spawn")) as pool:
        for files, ranks, turns in UNITS:
            jobs = [pool.submit(outcome, files, ranks, turns, seed) for seed in range(units)]
            tell(f"{files} x {ranks}, turns: {turns}", [job.result() for job in jobs])


if __name__ == "__main__":
    main(*map(int, sys.argv[1:3]))
