"""How this person's own guesses run: how often they are kept to the minute, and how far off else.

A guess is weighed against what the pace says of the same line without it. With g the log guess, a the
pace's log minutes (told without that very line) and x = g - a:

    P(logged exactly as guessed) = logistic(w0 + w1 min(x, 0) + w2 max(x, 0) + w3 (g - log 40))
    else log minutes = a + b0 + b1 min(x, 0) + b2 max(x, 0) + s * surprise

A guess below what the pace expects tells more than one above it. Both parts start from weak priors
(from memory of public task logs) and are learned per person. People log round, planned-for figures
(Halkjelsvik and Jorgensen 2012, Psychol. Bull. 138:238-271: work expands towards the estimate).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
from numpy.typing import NDArray

if TYPE_CHECKING:
    from tracker.pace.blocks import Block
    from tracker.pace.mixed import Fit

Floats = NDArray[np.float64]
_MIDDLE = math.log(40.0)
_KEPT_MEAN = np.array([0.0, -0.3, -1.5, -0.2])
_KEPT_SD = np.array([1.0, 0.5, 0.7, 0.5])
_MISS_MEAN = np.array([-0.1, 0.6, 0.35])
_MISS_SD = np.array([0.4, 0.3, 0.3])
_MISS_SPREAD2 = 0.45
_MISS_FREEDOM = 6.0
_TAIL = 6.0
SHARED_SPREAD = 0.18
"""Guesses made together err together; from memory."""


class GuessHabit(NamedTuple):
    """Joint draws of how guesses run."""

    kept: Floats
    """(D, 4) w"""
    miss: Floats
    """(D, 3) b"""
    spread: Floats
    """(D,) s"""
    shared: Floats
    """(D,) what all guesses made together are off by"""
    guesses: int
    """How many guesses speak for it."""
    kept_share: float
    log_bias: float
    """Mean of log(minutes / guess) over all of them."""

    def draw(
        self, guess_minutes: float, mean: Floats, which: NDArray[np.intp], rng: np.random.Generator
    ) -> Floats:
        """Log minutes (n,) of a line with a guess, where the pace alone says `mean` (n,)."""
        g = math.log(guess_minutes)
        middle = float(np.median(mean))
        logit = self.kept[which] @ _kept_features(np.array([g]), np.array([middle]))[0]
        x = g - mean
        miss = self.miss[which]
        missed = (
            mean
            + self.shared[which]
            + miss[:, 0]
            + miss[:, 1] * np.minimum(x, 0)
            + miss[:, 2] * np.maximum(x, 0)
        )
        surprise = np.clip(rng.standard_t(_TAIL, mean.size), -4.0, 2.0)
        missed += self.spread[which] * surprise
        return np.where(rng.random(mean.size) < 1 / (1 + np.exp(-logit)), g, missed)


def guess_habit(
    blocks: Sequence[Block], found: Fit, rng: np.random.Generator, draws: int
) -> GuessHabit | None:
    """The habit from all blocks whose every line had a guess; none when there are no guesses."""
    which = [
        i
        for i, block in enumerate(blocks)
        if not block.at_least and all(line.guess_minutes for line in block.lines)
    ]
    if not which:
        return None
    guess = np.array([sum(line.guess_minutes or 0.0 for line in blocks[i].lines) for i in which])
    minutes = np.array([blocks[i].minutes for i in which])
    without = found.residual / np.maximum(1 - found.leverage * found.weight, 0.1)
    y = (found.block_mean + found.residual)[which]
    a, g = y - without[which], np.log(guess)
    kept = np.abs(minutes - guess) < 0.5
    w, w_cov = _kept_fit(_kept_features(g, a), kept.astype(float))
    b, b_cov, spread2, freedom = _miss_fit((g - a)[~kept], (y - a)[~kept])
    return GuessHabit(
        rng.multivariate_normal(w, w_cov, draws),
        rng.multivariate_normal(b, b_cov, draws),
        np.sqrt(freedom * spread2 / rng.chisquare(freedom, draws)),
        SHARED_SPREAD * rng.standard_normal(draws),
        len(which),
        float(kept.mean()),
        float(np.mean(np.log(minutes) - g)),
    )


def _kept_features(g: Floats, a: Floats) -> Floats:
    x = g - a
    return np.column_stack([np.ones_like(g), np.minimum(x, 0), np.maximum(x, 0), g - _MIDDLE])


def _kept_fit(features: Floats, kept: Floats) -> tuple[Floats, Floats]:
    """Logistic regression with a normal prior by Newton's method: mode and covariance."""
    w = _KEPT_MEAN.copy()
    prior = 1 / _KEPT_SD**2
    hessian = np.diag(prior)
    for _ in range(30):
        p = 1 / (1 + np.exp(-(features @ w)))
        hessian = features.T @ (features * (p * (1 - p))[:, None]) + np.diag(prior)
        step = np.linalg.solve(hessian, features.T @ (kept - p) - prior * (w - _KEPT_MEAN))
        w = w + step
        if np.abs(step).max() < 1e-8:
            break
    return w, np.asarray(np.linalg.inv(hessian), dtype=np.float64)


def _miss_fit(x: Floats, y: Floats) -> tuple[Floats, Floats, float, float]:
    """Robust regression with normal priors: mode, covariance, spread^2 and its degrees of freedom."""
    rows = np.column_stack([np.ones_like(x), np.minimum(x, 0), np.maximum(x, 0)])
    prior = 1 / _MISS_SD**2
    weight: Floats
    weight, spread2 = np.ones(x.size), _MISS_SPREAD2
    b, covariance = _MISS_MEAN, np.diag(_MISS_SD**2)
    for _ in range(25):
        precision = rows.T @ (rows * (weight / spread2)[:, None]) + np.diag(prior)
        covariance = np.linalg.inv(precision)
        b = covariance @ (rows.T @ (weight * y) / spread2 + prior * _MISS_MEAN)
        square = (y - rows @ b) ** 2 + np.einsum("ij,jk,ik->i", rows, covariance, rows)
        weight = (_TAIL + 1) / (_TAIL + square / spread2)
        spread2 = (_MISS_FREEDOM * _MISS_SPREAD2 + float(weight @ square)) / (_MISS_FREEDOM + x.size)
    return b, covariance, spread2, _MISS_FREEDOM + x.size
