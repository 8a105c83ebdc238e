"""Published regressions and mixed models put to the engine of the pace.

A response becomes the log minutes of a block of one line, so that nothing stands between the published
model and the engine but the units: responses are divided by `SCALE_TO / max |y|` and results multiplied
back.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
import scipy.sparse as sp

from tracker.pace.mixed import Fit, Floats, Group, Noise, Sample, solve

SCALE_TO = 8.0
"""Largest log minutes of a rescaled response."""
TIGHT = 1e-11
MANY_ROUNDS = 20_000


class Solved(NamedTuple):
    """A fit in the units of the published response."""

    flat: Floats
    """Fixed effects, in the order of their columns."""
    flat_error: Floats
    """Their standard errors."""
    modes: list[Floats]
    """Effects of each group."""
    tau2: Floats
    noise2: float
    fit: Fit


def dummies(levels: Sequence[int] | np.ndarray[tuple[int], np.dtype[np.int64]]) -> Floats:
    """(n, levels) indicator columns of the levels 0, 1, 2 and so on."""
    labels = np.asarray(levels)
    return np.asarray(labels[:, None] == np.arange(labels.max() + 1), dtype=float)


def sample_of(
    design: Floats,
    log_minutes: Floats,
    block: Sequence[int] | None = None,
    known_noise2: Floats | None = None,
) -> Sample:
    """Lines with known log minutes, one to a block unless said otherwise, all of one class of noise."""
    lines = design.shape[0]
    minutes = np.exp(log_minutes)
    return Sample(
        sp.csr_array(design), np.zeros(lines), np.arange(lines) if block is None else np.array(block),
        np.zeros(lines, dtype=np.int64), minutes, minutes, known_noise2,
    )  # fmt: skip


def solve_linear(
    flat: Floats,
    response: Sequence[float] | Floats,
    pooled: Sequence[Floats] = (),
    *,
    restricted: bool = True,
    structures: Sequence[Floats | None] | None = None,
    tolerance: float = TIGHT,
) -> Solved:
    """Fixed effects in `flat` (n, k), one group of pooled effects for each further matrix."""
    y = np.asarray(response, dtype=float)
    scale = SCALE_TO / np.abs(y).max()
    groups, start = [], flat.shape[1]
    for i, columns in enumerate(pooled):
        stop = start + columns.shape[1]
        structure = None if structures is None else structures[i]
        groups.append(Group(f"group {i}", start, stop, 1.0, 0.0, structure))
        start = stop
    sample = sample_of(np.hstack([flat, *pooled]), y * scale)
    fit = solve(sample, groups, Noise(), restricted=restricted, tolerance=tolerance, rounds=MANY_ROUNDS)
    assert fit.converged
    mean = fit.posterior.mean / scale
    error = np.sqrt(np.diag(fit.posterior.covariance)) / scale
    k = flat.shape[1]
    modes = [mean[g.start : g.stop] for g in groups]
    return Solved(mean[:k], error[:k], modes, fit.tau2 / scale**2, float(fit.noise2[0]) / scale**2, fit)


def criterion(
    flat: Floats,
    response: Sequence[float] | Floats,
    pooled: Sequence[Floats],
    variances: Sequence[float],
    *,
    restricted: bool = True,
) -> float:
    """-2 log likelihood at given variances (the pooled groups', then the noise), from its definition.

    ln|V| + r'V^-1 r + n ln 2 pi, r at the generalised least squares estimate; restricted: n - k in
    place of n and + ln|X'V^-1 X|. Independent of the engine: V is formed whole.
    """
    y = np.asarray(response, dtype=float)
    total = variances[-1] * np.eye(y.size)
    for columns, variance in zip(pooled, variances, strict=False):
        total += variance * columns @ columns.T
    inverse = np.linalg.inv(total)
    information = flat.T @ inverse @ flat
    left = y - flat @ np.linalg.solve(information, flat.T @ inverse @ y)
    value = np.linalg.slogdet(total)[1] + left @ inverse @ left
    rows = y.size - flat.shape[1] if restricted else y.size
    if restricted:
        value += np.linalg.slogdet(information)[1]
    return float(value + rows * np.log(2 * np.pi))
