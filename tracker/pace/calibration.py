"""Whether the ranges hold on this person's own history, and how much wider they must be if they do not."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from tracker.pace import mixed
from tracker.pace.blocks import Block
from tracker.pace.mixed import Fit, Floats, Group

CHECKED_BLOCKS = 300
SEGMENTS = 3
FEWEST_BLOCKS = 40
LEVEL = 0.8
LEVEL_Z = 1.2815515655446004
LUCK = 1.96
PULL_BLOCKS = 50.0
"""Blocks' worth of belief that the model's ranges are right."""


def stretch(found: Fit, groups: Sequence[Group], blocks: Sequence[Block]) -> float:
    """By how much the ranges are widened; 1 when they hold as often as they say, or too few are known.

    The latter half of the log (at most the last `CHECKED_BLOCKS` blocks) is forecast in three pieces,
    each from what went before it. If the 80 % ranges held less often than luck allows (normal limit of the
    binomial), the factor is the conformal one (the k-th smallest standardised miss, k = ceil(0.8 (n + 1)),
    over 1.2816; Vovk 2005, Lei et al. 2018 JASA 113:1094-1111), pulled towards 1. It never narrows.

    The variances are those of the whole log; only the effects are learned anew at each piece.
    """
    n = len(blocks)
    checked = min(n // 2, CHECKED_BLOCKS)
    if n < FEWEST_BLOCKS:
        return 1.0
    misses = _misses(found, groups, blocks, n - checked)
    if misses.size < FEWEST_BLOCKS / 2:
        return 1.0
    held = int(np.sum(misses <= LEVEL_Z))
    expected = LEVEL * misses.size
    if held >= expected - LUCK * math.sqrt(expected * (1 - LEVEL)):
        return 1.0
    k = min(math.ceil(LEVEL * (misses.size + 1)), misses.size)
    factor = float(np.sort(misses)[k - 1]) / LEVEL_Z
    weight = misses.size / (misses.size + PULL_BLOCKS)
    return max(1.0, 1.0 + weight * (factor - 1.0))


def _misses(found: Fit, groups: Sequence[Group], blocks: Sequence[Block], first: int) -> Floats:
    """Absolute standardised misses of the exact blocks from `first` on, each forecast from before."""
    rows = found.block_design
    target = found.residual + rows @ found.posterior.mean
    precision = mixed.prior_precision(groups, found.tau2, found.posterior.mean.size)
    # Blocks come in the order of their evenings, so what lies before a cut was known then.
    cuts = np.linspace(first, len(blocks), SEGMENTS + 1).astype(int).tolist()
    out = []
    for start, stop in pairwise(cuts):
        known = mixed.posterior(rows[:start], found.weight[:start], target[:start], precision)
        ahead = rows[start:stop]
        variance = mixed.leverages(ahead, known.covariance) + found.block_variance[start:stop]
        miss = np.abs(target[start:stop] - ahead @ known.mean) / np.sqrt(variance)
        exact = np.array([not block.at_least for block in blocks[start:stop]])
        out.append(miss[exact])
    return np.concatenate(out)
