"""Learn the pace from blocks: solve, then keep joint draws of everything that is uncertain.

The learned variances are uncertain too, most of all early on. Each keeps its own posterior, scaled
inverse chi-squared with the degrees of freedom that its fixed point rests on; for each of a few draws
of all variances the effects' normal posterior is solved anew and drawn from. What is kept is the
draws: an answer then needs no solver, and the total of several lines is the total of joint draws.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence

import numpy as np
import scipy.linalg as la

from tracker.pace import mixed
from tracker.pace.blocks import Block
from tracker.pace.calibration import stretch
from tracker.pace.design import Design, build, grain
from tracker.pace.effects import GROUPS, unit_key
from tracker.pace.guesses import guess_habit
from tracker.pace.mixed import Fit, Floats, Group, Noise
from tracker.pace.pace import Pace
from tracker.pace.priors import Priors, Spread
from tracker.pace.surprise import Heaps

DRAWS = 1024
VARIANCE_DRAWS = 128
"""Draws of all variances; the effects are drawn `DRAWS / VARIANCE_DRAWS` times at each."""
FEW_VARIANCE_DRAWS = 32
"""Likewise where there are so many columns that the log has settled the variances anyway."""
MANY_COLUMNS = 200
UPPER_LINES = 30.0
"""Lines' worth of belief in the trade's upper spread."""
UPPER_SPREAD = 0.92
"""Long surprises against short ones: an evening ends, a forgotten lamp does not. From memory."""
ODD = 4.0
ODD_TIMES = 3.0
"""An evening this much longer or shorter than expected is worth a question; less is a mood."""
ODD_MOST = 3
_STILL = 1e-9
_ROUNDS = 100
_GRID_DIGITS = 3
_SEED = 20_260_401
"""The fit's own draws: the same log always gives the same pace."""


def fit(blocks: Sequence[Block], priors: Priors | None = None, start: Pace | None = None) -> Pace:
    """The pace that these blocks teach, on top of what the trade believes.

    start: an earlier pace to begin the search from (same answer, sooner).
    """
    priors = priors or Priors()
    if not blocks:
        return _untaught(priors)
    rounding = grain([b.minutes for b in blocks if not b.at_least])
    design = build(blocks, priors, rounding)
    noise = Noise(
        priors.noise.sd, priors.noise.freedom, priors.noise_pooling, priors.noise_tail, priors.noise_cut
    )
    found = _settled(design, noise, _from_earlier(design, start, priors))
    rng = np.random.default_rng(_SEED)
    effects, spreads, step_sd, common_sd = _draws(found, design.groups, noise, rng)
    upper = _upper_spread(found)
    return Pace(
        priors=priors,
        columns=design.columns,
        noise_classes=design.noise_classes,
        effects=effects.astype(np.float32),
        spreads=_all_spreads(spreads, priors, rng, effects.shape[0]),
        step_sd=step_sd,
        common_sd=common_sd,
        upper=upper,
        heaps=_heaps(blocks),
        guess=guess_habit(blocks, found, rng, effects.shape[0]),
        lines_of_step=_count_lines(blocks),
        lines_of=_count_kinds_and_units(blocks),
        batch_of_step=_usual_batches(blocks),
        grain_minutes=rounding,
        best=(found.posterior.mean, found.tau2, found.noise2),
        group_names=tuple(g.name for g in design.groups),
        blocks=len(blocks),
        stretch=stretch(found, design.groups, blocks),
        odd_evenings=_odd_evenings(blocks, found),
        drift_memory=design.drift_memory,
    )


def _settled(design: Design, noise: Noise, start: tuple[Floats, Floats, Floats] | None) -> Fit:
    """The solution, the same to the last digit wherever the search began.

    The search goes on until nothing moves any more; then the variances are laid on a fine grid and
    held, so that what is left of the way that was taken is rounded away.
    """
    found = mixed.solve(design.sample, design.groups, noise, start=start, tolerance=_STILL, rounds=_ROUNDS)
    tau2, noise2 = (np.exp(np.round(np.log(part), _GRID_DIGITS)) for part in (found.tau2, found.noise2))
    held = (found.posterior.mean, tau2, noise2)
    return mixed.solve(
        design.sample, design.groups, noise, start=held, hold=True, tolerance=_STILL, rounds=_ROUNDS
    )


def _untaught(priors: Priors) -> Pace:
    """The trade's pace: nothing logged yet."""
    rng = np.random.default_rng(_SEED)
    size = DRAWS
    common = priors.noise.sd * np.sqrt(priors.noise.freedom / rng.chisquare(priors.noise.freedom, size))
    return Pace.untaught(priors, _all_spreads({}, priors, rng, size), common)


def _from_earlier(
    design: Design, earlier: Pace | None, priors: Priors
) -> tuple[Floats, Floats, Floats] | None:
    """An earlier fit's effects and variances laid onto this design's columns."""
    if earlier is None or earlier.best is None or earlier.columns is None:
        return None
    mean, tau2, noise2 = earlier.best
    beta = np.zeros(design.columns.size)
    for group in GROUPS:
        for name, column in design.columns.places[group].items():
            old = earlier.columns.places[group].get(name)
            if old is not None:
                beta[column] = mean[old]
    shared = min(design.columns.periods, earlier.columns.periods)
    new_first = design.columns.size - design.columns.periods
    old_first = earlier.columns.size - earlier.columns.periods
    beta[new_first : new_first + shared] = mean[old_first : old_first + shared]
    beta[new_first + shared :] = mean[-1]
    known = dict(zip(earlier.group_names, tau2, strict=True))
    variances = np.array([known.get(g.name, g.spread**2) for g in design.groups])
    noise = np.full(len(design.noise_classes), priors.noise.sd**2)
    for name, i in design.noise_classes.items():
        if name in earlier.noise_classes:
            noise[i] = noise2[earlier.noise_classes[name]]
    return beta, variances, noise


def _draws(
    found: Fit, groups: Sequence[Group], noise: Noise, rng: np.random.Generator
) -> tuple[Floats, dict[str, Floats], Floats, Floats]:
    """Joint draws: effects (D, p), spreads by group (D,), noise by class (D, C), common noise (D,)."""
    columns = found.posterior.mean.size
    rows = found.block_design
    moment = rows.T @ (found.weight * (found.residual + rows @ found.posterior.mean))
    gram = found.posterior.factor.T @ found.posterior.factor
    gram -= mixed.prior_precision(groups, found.tau2, columns)
    variance_draws = VARIANCE_DRAWS if columns < MANY_COLUMNS else FEW_VARIANCE_DRAWS
    each = DRAWS // variance_draws
    # A block under Student's t tells less than its weight says: the expected information.
    told = (noise.tail + 1) / (noise.tail + 3) if np.isfinite(noise.tail) else 1.0
    effects = np.empty((DRAWS, columns))
    spreads = {g.name: np.empty(effects.shape[0]) for g in groups}
    step_sd = np.empty((effects.shape[0], found.noise2.size))
    common_sd = np.empty(effects.shape[0])
    for k in range(variance_draws):
        part = slice(k * each, (k + 1) * each)
        tau2 = np.array(
            [
                _inverse_chi2(g.freedom, g.spread**2, s, e, rng)
                for g, s, e in zip(groups, found.group_squares, found.group_effective, strict=True)
            ]
        )
        common = _inverse_chi2(
            noise.freedom, noise.spread**2, found.noise_squares.sum(), found.noise_effective.sum(), rng
        )
        by_class = (noise.pooling * common + found.noise_squares) / rng.chisquare(
            noise.pooling + found.noise_effective
        )
        # All weights move with the common noise; what single steps add to it is second order.
        scale = found.common_noise2 / common
        precision = mixed.prior_precision(groups, tau2, columns)
        factor = la.cholesky(gram * scale + precision, check_finite=False)
        mean = la.cho_solve((factor, False), moment * scale, check_finite=False)
        wider = la.cholesky(gram * (scale * told) + precision, check_finite=False)
        half = rng.standard_normal((columns, each // 2))
        # Pairs to either side of the mean, so that the draws' mean is the mean.
        whirl = la.solve_triangular(wider, np.hstack([half, -half]), check_finite=False)
        effects[part] = mean + whirl.T
        for group, variance in zip(groups, tau2, strict=True):
            spreads[group.name][part] = math.sqrt(variance)
        step_sd[part] = np.sqrt(by_class)
        common_sd[part] = math.sqrt(common)
    return effects, spreads, step_sd, common_sd


def _inverse_chi2(
    freedom: float, prior2: float, squares: float, effective: float, rng: np.random.Generator
) -> float:
    """A variance from its scaled inverse chi-squared posterior; a known one as it is."""
    if np.isinf(freedom):
        return prior2
    return float((freedom * prior2 + squares) / rng.chisquare(freedom + effective))


def _all_spreads(
    known: dict[str, Floats], priors: Priors, rng: np.random.Generator, size: int
) -> dict[str, Floats]:
    """Spreads of every group: learned where the log has it, else the trade's."""
    out = {}
    for group in (*GROUPS, "drift"):
        prior: Spread = getattr(priors, group.replace(" ", "_"))
        if group in known:
            out[group] = known[group]
        elif np.isinf(prior.freedom):
            out[group] = np.full(size, prior.sd)
        else:
            out[group] = prior.sd * np.sqrt(prior.freedom / rng.chisquare(prior.freedom, size))
    return out


def _upper_spread(found: Fit) -> float:
    """How far long surprises reach against the learned spread; short ones reach 1.

    Root mean square of the positive standardised surprises, cut at 3, pulled to the trade's figure.
    """
    loo = found.residual / np.sqrt(np.maximum(1 - found.leverage * found.weight, 0.3))
    standard = np.minimum(loo * np.sqrt(found.weight), 3.0)
    above = standard[standard > 0]
    total = UPPER_LINES * UPPER_SPREAD**2 + float(np.sum(above**2))
    return math.sqrt(total / (UPPER_LINES + above.size))


def _odd_evenings(blocks: Sequence[Block], found: Fit) -> tuple[tuple[int, float], ...]:
    """Evenings whose minutes lie beyond `ODD` spreads (and `ODD_TIMES`) of what the rest of the log expects.

    The spread here is the plain one of the block: the weight of an odd block is already low.
    """
    left = np.maximum(1 - found.leverage * found.weight, 0.3)
    surprise, spread = found.residual / left, np.sqrt(found.block_variance / left)
    exact = np.array([not block.at_least for block in blocks])
    far = np.abs(surprise) > np.maximum(ODD * spread, math.log(ODD_TIMES))
    odd = np.flatnonzero(exact & far).tolist()
    worst = sorted(odd, key=lambda i: -abs(surprise[i]) / spread[i])[:ODD_MOST]
    return tuple((blocks[i].evening, float(np.exp(surprise[i]))) for i in worst)


def _heaps(blocks: Sequence[Block]) -> Heaps | None:
    """The round figures this person logs in, if six in ten lines fall on figures used again and again."""
    minutes = [round(b.minutes, 2) for b in blocks if len(b.lines) == 1 and not b.at_least]
    if len(minutes) < 10:
        return None
    figures, counts = np.unique(minutes, return_counts=True)
    again = counts >= max(3, 0.03 * len(minutes))
    if counts[again].sum() < 0.6 * len(minutes):
        return None
    return Heaps(np.log(figures), counts / (len(minutes) + 10.0))


def _count_lines(blocks: Sequence[Block]) -> dict[str, int]:
    out: dict[str, int] = {}
    for block in blocks:
        for line in block.lines:
            out[line.step.casefold()] = out.get(line.step.casefold(), 0) + 1
    return out


def _count_kinds_and_units(blocks: Sequence[Block]) -> dict[str, int]:
    lines = [line for block in blocks for line in block.lines]
    return dict(Counter(f"kind {x.kind.casefold()}" for x in lines)) | dict(
        Counter(f"unit {unit_key(x)}" for x in lines)
    )


def _usual_batches(blocks: Sequence[Block]) -> dict[str, float]:
    """Median models of a line, by step; the whole log's under the empty name."""
    sizes: dict[str, list[int]] = {}
    for block in blocks:
        for line in block.lines:
            if line.models > 0:
                sizes.setdefault(line.step.casefold(), []).append(line.models)
                sizes.setdefault("", []).append(line.models)
    return {step: float(np.median(models)) for step, models in sizes.items()}
