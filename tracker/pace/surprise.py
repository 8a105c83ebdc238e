"""What a single line of work holds in store: skewed surprises, and the round figures people write down."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Draws = NDArray[np.float32]
LOWER_TAIL = 4.0
"""Student t degrees of freedom of short surprises."""
LOWER_MOST = 4.0
HEAP_REACH = 0.2
"""How far, in log minutes, a round figure draws minutes to itself."""
HEAP_FREE = 0.02


class Heaps(NamedTuple):
    """The round figures that a person logs in."""

    log_minutes: Floats
    weight: Floats


def surprise(upper: float, rng: np.random.Generator, size: int) -> Draws:
    """Standardised surprises (size,) of two pieces: normal above the median, heavier-tailed below."""
    above = rng.standard_normal(size, dtype=np.float32)
    below = np.minimum(above, 0)
    above -= below
    above *= upper
    out = _heavier(below)
    np.maximum(out, -LOWER_MOST, out=out)
    out += above
    return out


def _heavier(z: Draws) -> Draws:
    """Student t from a standard normal of the same level (Cornish and Fisher, two terms).

    z + (z^3 + z) / (4 nu) + (5 z^5 + 16 z^3 + 3 z) / (96 nu^2); monotone, and one draw instead of two.
    """
    one, two = 1 / (4 * LOWER_TAIL), 1 / (96 * LOWER_TAIL**2)
    square = z * z
    out = square * (5 * two)
    out += one + 16 * two
    out *= square
    out += 1 + one + 3 * two
    out *= z
    return out


def to_heaps(drawn: Floats, heaps: Heaps, rng: np.random.Generator) -> Floats:
    """Each log minute moved to a near round figure, chosen by use and nearness, or left as it is."""
    at = np.clip(np.searchsorted(heaps.log_minutes, drawn), 0, heaps.log_minutes.size - 1)
    near = np.clip(at[:, None] + np.arange(-4, 5), 0, heaps.log_minutes.size - 1)
    # Clipping repeats an end figure; count it once.
    first = np.concatenate([np.ones((near.shape[0], 1), dtype=bool), np.diff(near, axis=1) > 0], axis=1)
    gap = (drawn[:, None] - heaps.log_minutes[near]) / HEAP_REACH
    weight = np.where(first, heaps.weight[near] * np.exp(-0.5 * gap**2), 0.0)
    cumulated = np.cumsum(np.column_stack([weight, np.full(drawn.size, HEAP_FREE)]), axis=1)
    pick = (cumulated < rng.random(drawn.size)[:, None] * cumulated[:, -1:]).sum(axis=1)
    moved = heaps.log_minutes[near[np.arange(drawn.size), np.minimum(pick, near.shape[1] - 1)]]
    return np.where(pick < near.shape[1], moved, drawn)
