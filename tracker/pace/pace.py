"""The learned pace: joint draws of everything uncertain, and minutes of planned lines from them."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from tracker.domain.answers import PlannedLine
from tracker.domain.steps import find_step
from tracker.pace.effects import Columns, effects_of
from tracker.pace.guesses import GuessHabit
from tracker.pace.priors import Priors, expected_log_minutes

Floats = NDArray[np.float64]
LONGEST_LOG_MINUTES = math.log(60 * 24 * 60)
"""No line is believed to take more than sixty days and nights."""
LOWER_TAIL = 4.0
"""Student t degrees of freedom of short surprises."""
LOWER_MOST = 4.0
HEAP_REACH = 0.2
"""How far, in log minutes, a round figure draws minutes to itself."""
HEAP_FREE = 0.02
NEW_BATCH_MODELS = 10.0


class Heaps(NamedTuple):
    """The round figures that a person logs in."""

    log_minutes: Floats
    weight: Floats


class Pace(NamedTuple):
    """This person's pace. Arrays have D joint draws in their first axis."""

    priors: Priors
    columns: Columns | None
    noise_classes: dict[str, int]
    effects: NDArray[np.float32]
    """(D, p)"""
    spreads: dict[str, Floats]
    """Group -> (D,)"""
    step_sd: Floats
    """(D, C)"""
    common_sd: Floats
    """(D,)"""
    upper: float
    heaps: Heaps | None
    guess: GuessHabit | None
    lines_of_step: dict[str, int]
    lines_of: dict[str, int]
    """Lines by "kind <kind>" and "unit <key>"."""
    batch_of_step: dict[str, float]
    grain_minutes: float
    best: tuple[Floats, Floats, Floats] | None
    """Effects, group variances and noise variances where the search ended."""
    group_names: tuple[str, ...]
    blocks: int
    odd_evenings: tuple[tuple[int, float], ...] = ()
    """Running numbers of evenings that do not fit, and how many times the expected minutes they took."""
    stretch: float = 1.0
    """How much wider the ranges are than the model alone would have them; never below 1."""
    drift_memory: float = 0.0
    """Autocorrelation of the drift from the log's last period to what comes; 0 = nothing is logged."""

    @classmethod
    def untaught(cls, priors: Priors, spreads: dict[str, Floats], common_sd: Floats) -> Pace:
        """What the trade believes, with nothing logged."""
        size = common_sd.size
        return cls(
            priors, None, {}, np.zeros((size, 0), dtype=np.float32), spreads, np.zeros((size, 0)),
            common_sd, 0.87, None, None, {}, {}, {}, 1.0, None, (), 0,
        )  # fmt: skip

    def draw(
        self, lines: Sequence[PlannedLine], rng: np.random.Generator, n: int, *, as_logged: bool = False
    ) -> Floats:
        """Joint draws (n, lines) of the minutes that planned lines still take.

        as_logged: in the round figures this person would write down; totals hardly feel it.

        A line of more models than this person usually moves at once is drawn as several batches. The
        total of lines is the total along a row. Minutes already spent are behind: what comes is how
        much longer it takes, given that it has taken as long as it has.
        """
        parts, owner = self._batches(lines)
        which = np.arange(n) % self.common_sd.size
        mean = self._stretched(self.mean_log_minutes(parts, rng))[which]
        sd = self.stretch * self._spread_of(parts, rng)[which]
        drawn = mean + sd * self._surprise(mean.shape, rng)
        for j, line in enumerate(parts):
            if line.spent_minutes > 0:
                drawn[:, j] = self._beyond(line.spent_minutes, mean[:, j], sd[:, j], rng)
            elif line.guess_minutes and self.guess is not None:
                drawn[:, j] = self.guess.draw(line.guess_minutes, mean[:, j], which, rng)
        if as_logged and self.heaps is not None:
            for j, line in enumerate(parts):
                if not line.guess_minutes and not line.spent_minutes:
                    drawn[:, j] = _to_heaps(drawn[:, j], self.heaps, rng)
        minutes = np.exp(np.minimum(drawn, LONGEST_LOG_MINUTES))
        minutes -= np.array([line.spent_minutes for line in parts])
        out = np.zeros((n, len(lines)))
        np.add.at(out.T, owner, minutes.T)
        return out

    def mean_log_minutes(self, lines: Sequence[PlannedLine], rng: np.random.Generator) -> Floats:
        """(D, lines) log of the median minutes of each line, effects uncertain, surprise not yet in.

        Effects that the log does not know are drawn from their group's spread, one draw for all lines
        that share them. The drift is the next period's.
        """
        size = self.common_sd.size
        fresh: dict[tuple[str, str], Floats] = {}
        drift = self._next_drift(rng)
        out = np.empty((size, len(lines)))
        for j, line in enumerate(lines):
            total = drift + expected_log_minutes(line, self.priors)
            for group, name, scale in effects_of(line):
                column = self.columns.places[group].get(name) if self.columns else None
                if column is not None:
                    total += scale * self.effects[:, column]
                else:
                    if (group, name) not in fresh:
                        fresh[group, name] = self.spreads[group] * rng.standard_normal(size)
                    total += scale * fresh[group, name]
            out[:, j] = total
        return out

    def middle_log_minutes(self, line: PlannedLine) -> float:
        """Mean log minutes of a line over the draws; the drift and effects nobody has met yet left out."""
        total = expected_log_minutes(line, self.priors)
        for group, name, scale in effects_of(line):
            column = self.columns.places[group].get(name) if self.columns else None
            if column is not None:
                total += scale * float(self.effects[:, column].mean(dtype=np.float64))
        return total

    def _stretched(self, mean: Floats) -> Floats:
        if self.stretch == 1.0:
            return mean
        middle = np.median(mean, axis=0)
        return np.asarray(middle + self.stretch * (mean - middle))

    def _next_drift(self, rng: np.random.Generator) -> Floats:
        memory = self.drift_memory
        now = self.effects[:, -1].astype(float) if self.columns else np.zeros(self.common_sd.size)
        new = math.sqrt(1 - memory**2) * self.spreads["drift"] * rng.standard_normal(now.size)
        return memory * now + new

    def _spread_of(self, lines: Sequence[PlannedLine], rng: np.random.Generator) -> Floats:
        """(D, lines) standard deviation of each line's log minutes around its mean."""
        pooling = self.priors.noise_pooling
        out = np.empty((self.common_sd.size, len(lines)))
        fresh: dict[str, Floats] = {}
        for j, line in enumerate(lines):
            name = line.step.casefold()
            known = self.noise_classes.get(name)
            if known is not None:
                out[:, j] = self.step_sd[:, known]
            else:
                if name not in fresh:
                    chi2 = rng.chisquare(pooling, self.common_sd.size)
                    fresh[name] = self.common_sd * np.sqrt(pooling / chi2)
                out[:, j] = fresh[name]
        return out

    def _surprise(self, shape: tuple[int, ...], rng: np.random.Generator) -> Floats:
        """Standardised surprises of two pieces: normal above the median, heavier-tailed below."""
        plain = rng.standard_normal(shape)
        return np.where(plain > 0, self.upper * plain, np.maximum(_heavier(plain), -LOWER_MOST))

    def _beyond(self, spent: float, mean: Floats, sd: Floats, rng: np.random.Generator) -> Floats:
        """Log minutes given that they exceed what was already spent, by drawing until they do."""
        bound = math.log(spent)
        out = mean + sd * self._surprise(mean.shape, rng)
        for _ in range(12):
            short = out <= bound
            if not short.any():
                return out
            out[short] = mean[short] + sd[short] * self._surprise((int(short.sum()),), rng)
        # So far beyond what was expected that nothing is left of it: another sixth, give or take.
        short = out <= bound
        out[short] = bound + np.log1p(rng.exponential(1 / 6, int(short.sum())))
        return out

    def _batches(self, lines: Sequence[PlannedLine]) -> tuple[list[PlannedLine], list[int]]:
        """Lines split into the batches this person works in, and the line each batch belongs to."""
        parts: list[PlannedLine] = []
        owner: list[int] = []
        for j, line in enumerate(lines):
            for part in self._split(line):
                parts.append(part)
                owner.append(j)
        return parts, owner

    def _split(self, line: PlannedLine) -> list[PlannedLine]:
        step = find_step(line.step)
        usual = self.batch_of_step.get(line.step.casefold())
        if usual is None:
            at_once = step is not None and step.counting in ("batch", "unit")
            usual = math.inf if at_once else max(self.batch_of_step.get("", 0.0), NEW_BATCH_MODELS)
        if line.models <= 1.5 * usual or line.guess_minutes or line.spent_minutes:
            return [line]
        batches = max(round(line.models / usual), 1)
        sizes = [line.models // batches + (i < line.models % batches) for i in range(batches)]
        starts = np.concatenate([[0], np.cumsum(sizes)[:-1]])
        return [
            line._replace(models=size, done_before=line.done_before + int(start))
            for size, start in zip(sizes, starts, strict=True)
        ]


def _heavier(z: Floats) -> Floats:
    """Student t from a standard normal of the same level (Cornish and Fisher, two terms).

    z + (z^3 + z) / (4 nu) + (5 z^5 + 16 z^3 + 3 z) / (96 nu^2); monotone, and one draw instead of two.
    """
    square = z * z
    first = (square + 1) / (4 * LOWER_TAIL)
    second = ((5 * square + 16) * square + 3) / (96 * LOWER_TAIL**2)
    return z * (1 + first + second)


def _to_heaps(drawn: Floats, heaps: Heaps, rng: np.random.Generator) -> Floats:
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
