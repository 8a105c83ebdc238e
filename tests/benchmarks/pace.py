"""What learning the pace costs: python -m tests.benchmarks.pace.

The floor is `python -c "import scipy.optimize"`. Lines are fitted from 1,000 to 100,000 in processes of
their own, with their peak memory; "one evening more" starts from the pace before it. Never passes or fails.
"""

from __future__ import annotations

import os
import resource
import sys
import time
from collections.abc import Iterator

import numpy as np

from tests.benchmarks.measuring import interleaved, tell
from tracker.domain.answers import PlannedLine
from tracker.domain.steps import CATALOGUE
from tracker.pace.blocks import Block

SIZES = (1_000, 8_000, 30_000, 100_000)
UNITS = 150
STEPS = tuple(CATALOGUE)[:25]
KINDS = ("infantry", "cavalry", "monster", "character")
ROUNDS = 5


def blocks(lines: int, seed: int = 1) -> list[Block]:
    """So many lines on 150 units and 25 steps, half the evenings told only in total."""
    return list(_evenings(lines, np.random.default_rng(seed)))


def _evenings(lines: int, rng: np.random.Generator) -> Iterator[Block]:
    from tracker.pace.priors import log_minutes

    made = evening = 0
    while made < lines:
        tonight = [_line(rng) for _ in range(min(int(rng.integers(1, 6)), lines - made))]
        minutes = [float(np.exp(log_minutes(x) + 0.4 * rng.standard_normal())) for x in tonight]
        if rng.random() < 0.5:
            yield Block(tuple(tonight), sum(minutes), evening)
        else:
            yield from (Block((x,), spent, evening) for x, spent in zip(tonight, minutes, strict=True))
        made += len(tonight)
        evening += 1


def _line(rng: np.random.Generator) -> PlannedLine:
    unit = int(rng.integers(UNITS))
    step = STEPS[int(rng.integers(len(STEPS)))]
    kind, done = KINDS[unit % len(KINDS)], int(rng.integers(10))
    return PlannedLine("host", f"unit {unit}", step, int(rng.integers(1, 10)), kind=kind, done_before=done)


def one(lines: int) -> None:
    """Fit once in this process and print what it took."""
    from tracker.pace.fit import fit

    log = blocks(lines)
    began = time.process_time()
    pace = fit(log[:-3])
    cold = time.process_time() - began
    began = time.process_time()
    fit(log, start=pace)
    warm = time.process_time() - began
    most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    sys.stdout.write(f"{lines:>8,} lines {cold:7.2f} s, one evening more {warm:7.2f} s, {most:6.0f} MB\n")


def main(words: list[str]) -> None:
    """Print the ratio for ten years of lines, then how the cost grows."""
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    if words:
        one(int(words[0]))
        return
    program = [sys.executable, "-m", "tests.benchmarks.pace"]
    floor = "python -c 'import scipy.optimize'"
    seconds = interleaved(
        {
            floor: lambda _: [sys.executable, "-c", "import scipy.optimize"],
            "8,000 lines, fitted twice, all told": lambda _: [*program, "8000"],
        },
        ROUNDS,
    )
    tell(seconds, floor)
    for lines in SIZES:
        os.spawnv(os.P_WAIT, sys.executable, [*program, str(lines)])  # noqa: S606 - this very program


if __name__ == "__main__":
    main(sys.argv[1:])
