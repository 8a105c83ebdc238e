"""What ranking up a unit costs: python -m tests.benchmarks.ranking [UNITS].

Processor time of solving, by family and number of models, as multiples of a floor measured in between: the
value of one arrangement of 20 models reckoned 2,000 times. "Again" solves from the answer as a start, as
after a check by hand. Never passes or fails.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable, Iterator
from statistics import mean, median
from typing import NamedTuple

from tests.ranking.families import SHAPES, additive, figures, unselected, unstructured
from tracker.ranking.puzzle import Arrangement, Puzzle, value_of
from tracker.ranking.solve import solve

UNITS = 20
FLOOR_ROUNDS = 2_000

FAMILIES: dict[str, Callable[[int, int], Puzzle]] = {
    "figures, front only": lambda seed, models: figures(seed, models).puzzle,
    "figures, 4 turns": lambda seed, models: figures(seed, models, 4).puzzle,
    "half clash": lambda seed, models: unstructured(seed, models, 0.5).puzzle,
    "most clash": lambda seed, models: unstructured(seed, models, 0.7).puzzle,
    "one tight band": lambda seed, models: additive(seed, models, 1).puzzle,
    "three tight bands": lambda seed, models: additive(seed, models, 3).puzzle,
    "unselected, front only": lambda seed, models: unselected(seed, *SHAPES[models]),
    "unselected, 4 turns": lambda seed, models: unselected(seed, *SHAPES[models], 4),
}


class Solved(NamedTuple):
    """One unit: whether it ended without clash, seconds of processor, and seconds of solving it again."""

    clear: bool
    seconds: float
    again_seconds: float


def floor_seconds() -> float:
    """Processor seconds of the floor."""
    planted = figures(1, 20)
    begun = time.process_time()
    for _ in range(FLOOR_ROUNDS):
        value_of(planted.puzzle, planted.arrangement)
    return time.process_time() - begun


def timed(puzzle: Puzzle, seed: int, start: Arrangement | None = None) -> tuple[Arrangement, int, float]:
    """Arrangement, total and processor seconds."""
    begun = time.process_time()
    found = solve(puzzle, seed=seed, start=start)
    return found.arrangement, found.value.total, time.process_time() - begun


def solved(family: str, models: int, units: int) -> Iterator[Solved]:
    """So many units of a family."""
    for seed in range(units):
        puzzle = FAMILIES[family](seed, models)
        arrangement, total, seconds = timed(puzzle, seed)
        yield Solved(total == 0, seconds, timed(puzzle, seed + 1, arrangement)[2])


def main(units: int) -> None:
    """Print a line per family and size, then the floor."""
    floors = []
    sys.stdout.write(f"{'family':<26}{'n':>3}  clear   mean s   max s   mean x   max x  again x\n")
    for family in FAMILIES:
        for models in SHAPES:
            floors.append(floor_seconds())
            runs = list(solved(family, models, units))
            seconds, again = [run.seconds for run in runs], [run.again_seconds for run in runs]
            sys.stdout.write(
                f"{family:<26}{models:>3} {sum(run.clear for run in runs):>3}/{units:<3}"
                f"{mean(seconds):8.3f}{max(seconds):8.3f}{mean(seconds) / floors[-1]:9.2f}"
                f"{max(seconds) / floors[-1]:8.2f}{mean(again) / floors[-1]:9.2f}\n"
            )
            sys.stdout.flush()
    sys.stdout.write(f"the floor: {1000 * median(floors):.1f} ms\n")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else UNITS)
