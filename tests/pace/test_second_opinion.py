"""The kept draws against the whole posterior of a small log, by a sampler that shares none of our code.

Gibbs sampling (Gelfand and Smith 1990, JASA 85:398-409) over effects, every variance, the Student t
weights (Lange, Little and Taylor 1989, JASA 84:881-896) and how an evening's total falls into its lines.
It makes no linearisation and no normal approximation: given time it is exact. Only the model's
statement is taken over: design, priors and offsets.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
import pytest

from tests.builders import did, evening, log_of, planned
from tracker.pace import learn
from tracker.pace.blocks import blocks_of
from tracker.pace.design import Design, build, design_matrix
from tracker.pace.mixed import Floats
from tracker.pace.priors import Priors

PRIORS = Priors()
CHAINS, SWEEPS, BURNT = 64, 1200, 200
# Twelve blocks of three steps on two units: eight timed lines, four evenings with only a total.
LOG = log_of(
    evening(did("spears", "cleaning", 5, 52), did("spears", "assembly", 5, 71)),
    evening(did("riders", "cleaning", 3, 33), did("spears", "base colours", 5, 143)),
    evening(did("riders", "assembly", 3), did("spears", "cleaning", 5), minutes=97),
    evening(did("riders", "base colours", 3, 88), did("riders", "cleaning", 4, 47)),
    evening(did("spears", "assembly", 4), did("riders", "base colours", 4), minutes=173),
    evening(did("spears", "base colours", 5), did("riders", "assembly", 4), minutes=219),
    evening(did("riders", "base colours", 2, 31)),
    evening(did("spears", "cleaning", 6), did("spears", "base colours", 2), minutes=104),
    evening(did("riders", "assembly", 5, 113)),
)
ASKED = [
    planned(unit, step) for unit in ("spears", "riders") for step in ("cleaning", "assembly", "base colours")
]


class State(NamedTuple):
    """One point of every chain; the first axis is the chain."""

    beta: Floats
    tau2: Floats
    noise2: Floats
    common: Floats
    logit: Floats
    """Share of the first of two lines in each block with only a total."""


class Sampler:
    """Gibbs sweeps over many chains at once."""

    def __init__(self, design: Design, rng: np.random.Generator) -> None:
        self.rng, sample = rng, design.sample
        self.x, self.offset, self.classes = sample.design.toarray(), sample.offset, sample.noise_class
        assert (sample.low == sample.high).all()
        sizes = np.bincount(sample.block)
        assert sizes.max() == 2
        self.minutes = sample.low[sample.block]
        self.pairs = np.array([np.flatnonzero(sample.block == b) for b in np.flatnonzero(sizes == 2)])
        self.groups = design.groups
        # The autoregression of one period is the identity, so that no group has a structure here.
        assert all(g.structure is None or g.size == 1 for g in self.groups)

    def start(self) -> State:
        chains = CHAINS
        tau2 = np.tile([g.spread**2 for g in self.groups], (chains, 1))
        beta = 0.1 * self.rng.standard_normal((chains, self.x.shape[1]))
        noise2 = np.full((chains, int(self.classes.max()) + 1), PRIORS.noise.sd**2)
        return State(beta, tau2, noise2, noise2[:, 0].copy(), np.zeros((chains, len(self.pairs))))

    def sweep(self, now: State) -> State:
        scale2 = now.noise2[:, self.classes]
        mean = self.offset + now.beta @ self.x.T
        logit = self._split(now.logit, mean, scale2)
        y = self._log_minutes(logit)
        tail = PRIORS.noise_tail
        weight = self.rng.gamma((tail + 1) / 2, 2 / (tail + (y - mean) ** 2 / scale2))
        beta = self._effects(y - self.offset, weight / scale2, now.tau2)
        left2 = weight * (y - self.offset - beta @ self.x.T) ** 2
        noise2 = self._noise(left2, now.common)
        return State(beta, self._spreads(beta), noise2, self._common(now.common, noise2), logit)

    def _log_minutes(self, logit: Floats) -> Floats:
        y = np.tile(np.log(self.minutes), (CHAINS, 1))
        y[:, self.pairs[:, 0]] -= np.log1p(np.exp(-logit))
        y[:, self.pairs[:, 1]] -= np.log1p(np.exp(logit))
        return y

    def _split(self, logit: Floats, mean: Floats, scale2: Floats) -> Floats:
        """Metropolis steps on the shares; their Jacobian cancels the densities' 1 / (t1 t2)."""
        height = self._pair_height(logit, mean, scale2)
        for _ in range(3):
            new = logit + 0.8 * self.rng.standard_normal(logit.shape)
            other = self._pair_height(new, mean, scale2)
            taken = np.log(self.rng.random(logit.shape)) < other - height
            logit, height = np.where(taken, new, logit), np.where(taken, other, height)
        return logit

    def _pair_height(self, logit: Floats, mean: Floats, scale2: Floats) -> Floats:
        tail = PRIORS.noise_tail
        z2 = (self._log_minutes(logit) - mean) ** 2 / scale2
        each = -(tail + 1) / 2 * np.log1p(z2 / tail)
        return np.asarray(each[:, self.pairs].sum(axis=2))

    def _effects(self, target: Floats, weight: Floats, tau2: Floats) -> Floats:
        precision = np.einsum("ij,ci,ik->cjk", self.x, weight, self.x, optimize=True)
        for g, group in enumerate(self.groups):
            where = np.arange(group.start, group.stop)
            precision[:, where, where] += 1 / tau2[:, g, None]
        right = (weight * target) @ self.x
        lower = np.linalg.cholesky(precision)
        fresh = self.rng.standard_normal(right.shape)
        mean = np.linalg.solve(precision, right[..., None])
        return np.asarray((mean + np.linalg.solve(np.swapaxes(lower, 1, 2), fresh[..., None]))[..., 0])

    def _spreads(self, beta: Floats) -> Floats:
        out = np.empty((CHAINS, len(self.groups)))
        for g, group in enumerate(self.groups):
            if np.isinf(group.freedom):
                out[:, g] = group.spread**2
            else:
                squares = np.sum(beta[:, group.start : group.stop] ** 2, axis=1)
                chi2 = self.rng.chisquare(group.freedom + group.size, CHAINS)
                out[:, g] = (group.freedom * group.spread**2 + squares) / chi2
        return out

    def _noise(self, left2: Floats, common: Floats) -> Floats:
        pooling = PRIORS.noise_pooling
        classes = int(self.classes.max()) + 1
        squares = np.stack([left2[:, self.classes == c].sum(axis=1) for c in range(classes)], axis=1)
        count = np.bincount(self.classes, minlength=classes)
        chi2 = self.rng.chisquare(pooling + count, squares.shape)
        return np.asarray((pooling * common[:, None] + squares) / chi2)

    def _common(self, common: Floats, noise2: Floats) -> Floats:
        """Metropolis on the log: scaled inverse chi-squared prior, and each class around it."""
        pooling, (spread, freedom) = PRIORS.noise_pooling, PRIORS.noise

        def height(u: Floats) -> Floats:
            prior = -freedom / 2 * (u + spread**2 / np.exp(u))
            return np.asarray(
                prior + np.sum(pooling / 2 * (u[:, None] - np.exp(u)[:, None] / noise2), axis=1)
            )

        u = np.log(common)
        for _ in range(3):
            new = u + 0.4 * self.rng.standard_normal(CHAINS)
            u = np.where(np.log(self.rng.random(CHAINS)) < height(new) - height(u), new, u)
        return np.exp(u)


class Opinion(NamedTuple):
    """Draws (sweeps, chains, …) of the sampler after it has settled."""

    means: Floats
    """Mean log minutes of each asked line, without what the trade says."""
    beta: Floats
    common_sd: Floats


@pytest.fixture(scope="module")
def opinion() -> Opinion:
    design = build(blocks_of(LOG), PRIORS, 1.0)
    sampler = Sampler(design, np.random.default_rng(20))
    rows = design_matrix(ASKED, design.columns, [0] * len(ASKED)).toarray()
    state, means, betas, commons = sampler.start(), [], [], []
    for number in range(SWEEPS):
        state = sampler.sweep(state)
        if number >= BURNT:
            means.append(state.beta @ rows.T)
            betas.append(state.beta)
            commons.append(np.sqrt(state.common))
    return Opinion(np.array(means), np.array(betas), np.array(commons))


def test_the_sampler_has_settled(opinion: Opinion) -> None:
    # Gelman and Rubin 1992, Stat. Sci. 7:457-472: chains agree within 1 % of the spread.
    for draws in (opinion.means, opinion.beta):
        within, between = draws.var(axis=0).mean(axis=0), draws.mean(axis=0).var(axis=0)
        assert np.sqrt(1 + between / within).max() < 1.02


def compare(ours: Floats, theirs: Floats) -> tuple[Floats, Floats]:
    """Difference of means in posterior sds, ratio of sds; for each column."""
    flat = theirs.reshape(-1, theirs.shape[-1])
    return (ours.mean(axis=0) - flat.mean(axis=0)) / flat.std(axis=0), ours.std(axis=0) / flat.std(axis=0)


def test_log_minutes_of_each_unit_and_step(opinion: Opinion) -> None:
    pace = learn(LOG)
    assert pace.columns is not None
    rows = design_matrix(ASKED, pace.columns, [0] * len(ASKED)).toarray()
    shift, ratio = compare(pace.effects @ rows.T, opinion.means)
    assert np.abs(shift).max() < 0.1
    assert np.abs(ratio - 1).max() < 0.1


def test_the_effects_of_person_steps_and_units(opinion: Opinion) -> None:
    pace = learn(LOG)
    assert pace.columns is not None
    wanted = [
        column for group in ("person", "step", "unit") for column in pace.columns.places[group].values()
    ]
    shift, ratio = compare(pace.effects[:, wanted].astype(float), opinion.beta[..., wanted])
    assert np.abs(shift).max() < 0.1
    assert np.abs(ratio - 1).max() < 0.1


def test_the_common_noise(opinion: Opinion) -> None:
    shift, ratio = compare(learn(LOG).common_sd[:, None], opinion.common_sd[..., None])
    assert np.abs(shift).max() < 0.25
    assert np.abs(ratio - 1).max() < 0.15
