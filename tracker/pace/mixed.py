"""A linear model with pooled effects on blocks of work: the engine under the pace.

Conventions (every shape and quantity in this room)
    m lines, n blocks, p columns, G groups of effects, C classes of noise.
    X        (m, p)  sparse design of the lines
    offset   (m,)    what is known beforehand of a line's log minutes
    beta     (p,)    effects on the log scale, prior N(0, P^-1)
    P        (p, p)  block diagonal: K_g / tau2_g with K_g fixed (identity unless given); flat = no block
    noise2   (C,)    variance of a line's log minutes around its mean, by class
    low, high (n,)   minutes of each block: equal = exact, high infinite = still in hand

    log minutes of line i     eta_i + e_i,  eta = offset + X beta,  e_i ~ N(0, noise2) or Student t
    log minutes of block b    log sum over its lines of exp(eta_i + e_i)

Given the variances the posterior of beta is normal: V = (X'WX + P)^-1. A block of several lines is
linearised at the present effects: every line has a share of it and its variance is Fenton's (1960, IRE
Trans. Commun. Syst. 8:57-67). A block of one exact line is ordinary regression, exactly.

A variance is learned by its fixed point (MacKay 1992, Neural Computation 4:415-447; Fellner 1986,
Technometrics 28:51-60), whose limit without a prior is the restricted maximum of the likelihood:

    tau2_g = (nu_g s2_g + beta_g' K_g beta_g) / (nu_g + q_g - tr(K_g V_gg) / tau2_g)

with a scaled inverse chi-squared prior of nu_g degrees of freedom around s2_g (nu_g = 0: none).
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
import scipy.linalg as la
import scipy.sparse as sp
from numpy.typing import NDArray
from scipy.special import log_ndtr

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
_TINY = 1e-14
_SMALL_ROWS = 400
"""Up to here the normal equations are not formed: QR keeps twice the digits, and costs little."""
_LOG_ROOT_2PI = 0.9189385332046727


class Group(NamedTuple):
    """Effects that share one learned spread."""

    name: str
    start: int
    stop: int
    """Columns start … stop - 1."""
    spread: float
    """Prior guess of their standard deviation on the log scale."""
    freedom: float
    """Degrees of freedom behind that guess; infinite = the spread is known, 0 = nothing is known."""
    structure: Floats | None = None
    """K, the precision at spread 1; none = identity."""

    @property
    def size(self) -> int:
        """How many effects."""
        return self.stop - self.start


class Noise(NamedTuple):
    """What is believed of the noise before the log is read."""

    spread: float = 1.0
    freedom: float = 0.0
    """Degrees of freedom behind the spread common to all classes; infinite = known."""
    pooling: float = np.inf
    """Degrees of freedom that pull each class to the common spread; infinite = one for all."""
    tail: float = np.inf
    """Degrees of freedom of the noise itself (Student t); infinite = normal."""
    cut: float = np.inf
    """Spreads beyond which a block's weight falls off with the fourth power: it belongs to no evening."""


class Sample(NamedTuple):
    """The blocks as numbers; see the conventions for shapes."""

    design: sp.csr_array
    offset: Floats
    block: Ints
    """(m,) block of each line, 0 … n-1."""
    noise_class: Ints
    """(m,) class of each line, 0 … C-1."""
    low: Floats
    high: Floats
    known_noise2: Floats | None = None
    """(m,) noise variances that are given and not learned."""


class Posterior(NamedTuple):
    """Normal posterior of the effects at given variances."""

    mean: Floats
    covariance: Floats
    factor: Floats
    """(p, p) upper triangular R with R'R = X'WX + P."""


class Fit(NamedTuple):
    """The effects, the learned variances and what they rest on."""

    posterior: Posterior
    tau2: Floats
    """(G,)"""
    noise2: Floats
    """(C,)"""
    common_noise2: float
    group_squares: Floats
    group_effective: Floats
    noise_squares: Floats
    noise_effective: Floats
    block_design: sp.csr_array
    """(n, p) linearised design of the blocks."""
    residual: Floats
    """(n,) working response minus its mean."""
    weight: Floats
    """(n,) precision of each working response."""
    leverage: Floats
    """(n,) posterior variance of each block's mean."""
    block_mean: Floats
    """(n,) mean of each block's log minutes."""
    block_variance: Floats
    """(n,) variance of each block's log minutes around its mean, tails aside."""
    rounds: int
    converged: bool


def solve(
    sample: Sample,
    groups: Sequence[Group],
    noise: Noise,
    *,
    start: tuple[Floats, Floats, Floats] | None = None,
    restricted: bool = True,
    hold: bool = False,
    tolerance: float = 1e-3,
    rounds: int = 200,
) -> Fit:
    """Effects and variances from the blocks.

    start: (beta, tau2, noise2) to begin from, as an earlier fit left them.
    restricted: variances by the restricted likelihood (flat columns integrated out) or, if false,
    by the ordinary one. hold: leave the variances as `start` has them. tolerance: largest change of a
    log variance (and of a mean effect, in posterior standard deviations) in the last round. Raises
    numpy.linalg.LinAlgError when flat columns are not determined by the log.
    """
    tau2 = np.array([g.spread**2 for g in groups], dtype=float)
    classes = int(sample.noise_class.max()) + 1
    noise2 = np.full(classes, noise.spread**2)
    beta = np.zeros(sample.design.shape[1])
    if start is not None:
        beta, tau2, noise2 = (part.copy() for part in start)
    step: _Round | None = None
    converged = False
    count = 0
    while count < rounds and not converged:
        count += 1
        step = _round(sample, groups, noise, (beta, tau2, noise2), restricted)
        if hold:
            step = step._replace(tau2=tau2, noise2=noise2)
        moved = _moved(step, beta, tau2, noise2)
        beta, tau2, noise2 = step.found.mean, step.tau2, step.noise2
        converged = moved < tolerance
    assert step is not None  # noqa: S101 - rounds >= 1
    return Fit(
        step.found, tau2, noise2, step.common, step.squares, step.effective, step.noise_squares,
        step.noise_effective, step.rows, step.residual, step.weight, step.leverage, step.mean,
        step.variance, count,
        converged,
    )  # fmt: skip


class _Round(NamedTuple):
    found: Posterior
    tau2: Floats
    noise2: Floats
    common: float
    squares: Floats
    effective: Floats
    noise_squares: Floats
    noise_effective: Floats
    rows: sp.csr_array
    residual: Floats
    weight: Floats
    leverage: Floats
    mean: Floats
    variance: Floats


def _moved(step: _Round, beta: Floats, tau2: Floats, noise2: Floats) -> float:
    spread = np.sqrt(np.maximum(np.diag(step.found.covariance), _TINY))
    moves = [np.max(np.abs(step.found.mean - beta) / spread, initial=0.0)]
    for new, old in ((step.tau2, tau2), (step.noise2, noise2)):
        moves.append(np.max(np.abs(np.log(np.maximum(new, _TINY) / np.maximum(old, _TINY))), initial=0.0))
    return float(max(moves))


def _round(
    sample: Sample,
    groups: Sequence[Group],
    noise: Noise,
    present: tuple[Floats, Floats, Floats],
    restricted: bool,
) -> _Round:
    beta, tau2, noise2 = present
    line_noise2 = sample.known_noise2 if sample.known_noise2 is not None else noise2[sample.noise_class]
    shape = linearise(sample, beta, line_noise2)
    working = _working_response(sample, shape.mean, shape.variance, noise)
    target = working.response - shape.mean + shape.rows @ beta
    precision = prior_precision(groups, tau2, beta.size)
    found = posterior(shape.rows, working.weight, target, precision)
    flat = np.ones(beta.size, dtype=bool)
    for group in groups:
        flat[group.start : group.stop] = False
    covariance = found.covariance
    if not restricted and flat.any():
        covariance = _without_flat(shape.rows, working.weight, precision, flat)
    leverage = leverages(shape.rows, covariance)
    residual = target - shape.rows @ found.mean
    updates = [group_update(g, t, found.mean, covariance) for g, t in zip(groups, tau2, strict=True)]
    squares, effective = _noise_parts(sample, shape, working, (residual, leverage), line_noise2)
    common, new_noise2 = _noise_update(noise, squares, effective, noise2)
    return _Round(
        found,
        np.array([u[0] for u in updates]),
        new_noise2,
        common,
        np.array([u[1] for u in updates]),
        np.array([u[2] for u in updates]),
        squares,
        effective,
        shape.rows,
        residual,
        working.weight,
        leverage,
        shape.mean + shape.rows @ (found.mean - beta),
        shape.variance,
    )


class Linearised(NamedTuple):
    """Blocks as straight lines in the effects around the present ones."""

    rows: sp.csr_array
    """(n, p)"""
    share: Floats
    """(m,) of its block; 1 for a block of one line."""
    mean: Floats
    """(n,) mean log minutes at the present effects."""
    variance: Floats
    """(n,)"""


def linearise(sample: Sample, beta: Floats, line_noise2: Floats) -> Linearised:
    """Fenton's lognormal for each block's sum, and its slope in the effects.

    With e_i = exp(eta_i + v_i / 2), M = sum e_i and share w_i = e_i / M:
    variance s2 = log(1 + sum w_i^2 (exp(v_i) - 1)), mean = log M - s2 / 2, slope = sum w_i x_i.
    """
    eta = sample.offset + sample.design @ beta
    lines, blocks = eta.size, sample.low.size
    if lines == blocks:
        order = np.argsort(sample.block)
        return Linearised(sample.design[order], np.ones(lines), eta[order], line_noise2[order])
    # Long minutes are bounded so that one wild early round cannot overflow.
    expected = np.exp(np.minimum(eta + line_noise2 / 2, 30.0))
    total = np.bincount(sample.block, expected, blocks)
    share = expected / total[sample.block]
    variance = np.log1p(np.bincount(sample.block, share**2 * np.expm1(line_noise2), blocks))
    gather = sp.csr_array((share, (sample.block, np.arange(lines))), shape=(blocks, lines))
    return Linearised((gather @ sample.design).tocsr(), share, np.log(total) - variance / 2, variance)


class _Working(NamedTuple):
    response: Floats
    weight: Floats
    pull: Floats
    """(n,) squared standardised pull of each block (delta^2), tail weight included."""
    told: Floats
    """(n,) how much a block tells of the spread: 1 exact, towards 0 the less its minutes say."""
    counted: Floats
    """(n,) 1, or towards 0 the further a block lies beyond the cut."""


def _working_response(sample: Sample, mean: Floats, variance: Floats, noise: Noise) -> _Working:
    """Newton's working response and weight of each block at the present mean.

    For minutes known to lie between low and high, z = log minutes and a, b the bounds standardised:
    delta = (phi(a) - phi(b)) / (Phi(b) - Phi(a)), 1 - var = delta^2 - (a phi(a) - b phi(b)) / (...),
    weight = (1 - var) / s2, response = mean + s delta / (1 - var).
    """
    spread = np.sqrt(variance)
    with np.errstate(divide="ignore", invalid="ignore"):
        response = (np.log(sample.low) + np.log(sample.high)) / 2
    told = np.ones(mean.size)
    weight = 1 / variance
    exact = sample.low == sample.high
    wide = ~exact
    if wide.any():
        delta, kept = _truncated(
            (np.log(sample.low[wide]) - mean[wide]) / spread[wide],
            (np.log(sample.high[wide]) - mean[wide]) / spread[wide],
        )
        told[wide] = kept
        response[wide] = mean[wide] + spread[wide] * delta / kept
        weight[wide] = kept / variance[wide]
    pull = ((response - mean) / spread * told) ** 2
    counted = np.ones(mean.size)
    if np.isfinite(noise.tail):
        counted = np.minimum((noise.cut**2 / np.maximum(pull, _TINY)) ** 2, 1.0)
        kept_weight = (noise.tail + 1) / (noise.tail + pull) * counted
        # A block still in hand is a bound and no outlier, however far the bound is.
        bound = np.isinf(sample.high)
        counted[bound] = kept_weight[bound] = 1.0
        weight, pull = weight * kept_weight, pull * kept_weight
    return _Working(response, weight, pull, told, counted)


def _truncated(low: Floats, high: Floats) -> tuple[Floats, Floats]:
    """Mean (delta) and 1 - variance of a standard normal between low and high (high may be infinite)."""
    # On the side of the lighter tail the logarithms stay accurate.
    flip = low > 0
    a, b = np.where(flip, -high, low), np.where(flip, -low, high)
    log_mass = log_ndtr(b) + np.log1p(-np.exp(np.minimum(log_ndtr(a) - log_ndtr(b), -1e-15)))
    density_a = np.exp(-0.5 * np.square(a) - _LOG_ROOT_2PI - log_mass)
    density_b = np.exp(-0.5 * np.square(b) - _LOG_ROOT_2PI - log_mass)
    delta = density_a - density_b
    ends = np.where(np.isfinite(a), a, 0.0) * density_a - np.where(np.isfinite(b), b, 0.0) * density_b
    kept = np.clip(delta**2 - ends, 1e-6, 1.0)
    return np.where(flip, -delta, delta), kept


def prior_precision(groups: Sequence[Group], tau2: Floats, columns: int) -> Floats:
    """P (p, p): each group's structure over its variance; columns in no group get none (flat)."""
    precision = np.zeros((columns, columns))
    for group, variance in zip(groups, tau2, strict=True):
        where = slice(group.start, group.stop)
        structure = np.eye(group.size) if group.structure is None else group.structure
        precision[where, where] = structure / max(variance, _TINY)
    return precision


def posterior(rows: sp.csr_array, weight: Floats, target: Floats, precision: Floats) -> Posterior:
    """Normal posterior of the effects from n weighted rows and the prior precision (p, p).

    Raises numpy.linalg.LinAlgError when a flat column is not determined.
    """
    if rows.shape[0] <= _SMALL_ROWS:
        return _posterior_by_qr(rows, weight, target, precision)
    weighted = rows.multiply(weight[:, None]).tocsr()
    factor = la.cholesky((rows.T @ weighted).toarray() + precision, check_finite=False)
    return _from_factor(factor, la.cho_solve((factor, False), weighted.T @ target, check_finite=False))


def _posterior_by_qr(rows: sp.csr_array, weight: Floats, target: Floats, precision: Floats) -> Posterior:
    root = np.sqrt(weight)
    held = np.flatnonzero(np.diag(precision))
    prior = np.zeros((held.size, precision.shape[0]))
    prior[:, held] = la.cholesky(precision[np.ix_(held, held)], check_finite=False)
    stacked = np.vstack([rows.toarray() * root[:, None], prior])
    if stacked.shape[0] < stacked.shape[1]:
        raise np.linalg.LinAlgError("fewer blocks than flat effects")
    orthogonal, factor = la.qr(stacked, mode="economic", check_finite=False)
    scale = np.abs(np.diag(factor))
    if scale.min() <= np.finfo(float).eps * stacked.shape[0] * scale.max() * 1e-3:
        raise np.linalg.LinAlgError("the log does not determine every flat effect")
    right = orthogonal.T @ np.concatenate([target * root, np.zeros(held.size)])
    return _from_factor(factor, la.solve_triangular(factor, right, check_finite=False))


def _from_factor(factor: Floats, mean: Floats) -> Posterior:
    inverse = la.solve_triangular(factor, np.eye(factor.shape[0]), check_finite=False)
    return Posterior(mean, inverse @ inverse.T, factor)


def _without_flat(rows: sp.csr_array, weight: Floats, precision: Floats, flat: NDArray[np.bool_]) -> Floats:
    """Posterior covariance of the pooled effects with the flat ones taken as known."""
    pooled = np.flatnonzero(~flat)
    covariance = np.zeros_like(precision)
    if pooled.size:
        part = rows[:, pooled]
        target = np.zeros(rows.shape[0])
        inner = posterior(part.tocsr(), weight, target, precision[np.ix_(pooled, pooled)])
        covariance[np.ix_(pooled, pooled)] = inner.covariance
    return covariance


def leverages(rows: sp.csr_array, covariance: Floats) -> Floats:
    """x_b' V x_b (n,), the posterior variance of each block's mean."""
    out = np.empty(rows.shape[0])
    for start in range(0, rows.shape[0], 4096):
        part = rows[start : start + 4096]
        out[start : start + 4096] = np.asarray(part.multiply(part @ covariance).sum(axis=1)).ravel()
    return out


def group_update(group: Group, tau2: float, mean: Floats, covariance: Floats) -> tuple[float, float, float]:
    """One fixed-point step for a group: (new variance, sum of squares, effective number of effects)."""
    where = slice(group.start, group.stop)
    effects, block = mean[where], covariance[where, where]
    if group.structure is None:
        squares, trace = float(effects @ effects), float(np.trace(block))
    else:
        squares = float(effects @ group.structure @ effects)
        trace = float(np.sum(group.structure * block))
    effective = min(max(group.size - trace / max(tau2, _TINY), _TINY), float(group.size))
    if np.isinf(group.freedom):
        return group.spread**2, squares, effective
    total = group.freedom * group.spread**2 + squares
    return max(total / (group.freedom + effective), _TINY), squares, effective


def _noise_parts(
    sample: Sample, shape: Linearised, working: _Working, left: tuple[Floats, Floats], line_noise2: Floats
) -> tuple[Floats, Floats]:
    """Sums of squares and effective numbers of lines, by noise class.

    A block's surprise is given to its lines in proportion to what each adds to its variance:
    share^2 * noise2 / variance, which is 1 for a block of one line.
    """
    residual, leverage = left
    told = np.maximum(working.told * working.counted - working.weight * leverage, 0.0)
    # For exact minutes the residual at the new effects; else the pull at the ones before.
    square = np.where(working.told >= 1.0, residual**2 * working.weight, working.pull)
    part = shape.share**2 * line_noise2 / shape.variance[sample.block]
    size = int(sample.noise_class.max()) + 1
    squares = np.bincount(sample.noise_class, part * line_noise2 * square[sample.block], size)
    effective = np.bincount(sample.noise_class, part * told[sample.block], size)
    return squares.astype(float), effective.astype(float)


def _noise_update(noise: Noise, squares: Floats, effective: Floats, noise2: Floats) -> tuple[float, Floats]:
    if np.isinf(noise.freedom):
        return noise.spread**2, np.full(noise2.size, noise.spread**2)
    total = noise.freedom * noise.spread**2 + squares.sum()
    common = float(max(total / max(noise.freedom + effective.sum(), _TINY), _TINY))
    if np.isinf(noise.pooling):
        return common, np.full(noise2.size, common)
    return common, (noise.pooling * common + squares) / (noise.pooling + effective)
