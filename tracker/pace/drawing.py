"""Minutes of planned lines drawn from a learned pace, line by line, each line with its own luck."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from tracker.domain.answers import PlannedLine
from tracker.domain.steps import find_step
from tracker.pace.effects import effects_of, unit_key
from tracker.pace.luck import Luck
from tracker.pace.priors import expected_log_minutes
from tracker.pace.surprise import Draws, surprise, to_heaps

if TYPE_CHECKING:
    from tracker.pace.pace import Pace

Floats = NDArray[np.float64]
LONGEST_LOG_MINUTES = math.log(60 * 24 * 60)
"""No line is believed to take more than sixty days and nights."""
NEW_BATCH_MODELS = 10.0
_OF_THE_BATCH = ("batch", "practice")


class Drawing:
    """Joint draws of lines from one pace: D draws of what is uncertain, repeated for n rows.

    What the log does not know (the effect of a new unit, the noise of a new step, the next period's
    drift) is drawn once under its own name and shared by every line that has it.
    """

    def __init__(self, pace: Pace, rng: np.random.Generator, n: int) -> None:
        self._pace, self._n = pace, n
        self._size = pace.common_sd.size
        # Whole rounds of the D draws, cut to n at the end: the rows then need no index.
        self._rounds = -(-n // self._size)
        self._luck = Luck(rng)
        self._effects: dict[tuple[str, str], Draws] = {}
        self._noise: dict[str, Draws] = {}
        self._asked: dict[tuple[str, str, str], int] = {}
        self._drift = self._next_drift()
        # Batches of one line differ in little; what they share is summed once.
        self._usual: list[tuple[str, str, float]] | None = None
        self._usual_sum = self._drift

    def minutes(self, line: PlannedLine, *, as_logged: bool = False) -> Floats | Draws:
        """Minutes (n,) that the line still takes, batch by batch of this person's usual size."""
        rng = self._luck.of("line", *self._name_of(line))
        batches = split(line, self._pace.batch_of_step)
        round_figures = as_logged and self._pace.heaps is not None
        if line.spent_minutes > 0 or line.guess_minutes or round_figures:
            parts = [self._batch_with_more(batch, rng, round_figures) for batch in batches]
            return np.asarray(np.sum(parts, axis=0))
        return self._plain(batches, rng)

    def _plain(self, batches: list[PlannedLine], rng: np.random.Generator) -> Draws:
        """Minutes (n,) of batches of one line that nothing is known of but its kind of work."""
        shape = (len(batches), self._rounds, self._size)
        drawn = surprise(self._pace.upper, rng, math.prod(shape)).reshape(shape)
        drawn *= self._spread(batches[0])
        for i, batch in enumerate(batches):
            drawn[i] += self._stretched(self.mean_log_minutes(batch))
        np.minimum(drawn, LONGEST_LOG_MINUTES, out=drawn)
        np.exp(drawn, out=drawn)
        total: Draws = drawn[0]
        for i in range(1, len(batches)):
            total += drawn[i]
        return total.reshape(-1)[: self._n]

    def mean_log_minutes(self, line: PlannedLine) -> Draws:
        """(D,) log of the line's median minutes, effects uncertain, surprise not yet in."""
        effects = effects_of(line)
        usual = [effect for effect in effects if effect[0] not in _OF_THE_BATCH]
        if usual != self._usual:
            self._usual, self._usual_sum = usual, self._added(self._drift, usual)
        total = self._usual_sum + np.float32(expected_log_minutes(line, self._pace.priors))
        return self._added(total, [effect for effect in effects if effect[0] in _OF_THE_BATCH])

    def _added(self, total: Draws, effects: list[tuple[str, str, float]]) -> Draws:
        out = total.copy()
        for group, name, scale in effects:
            effect = self._effect(group, name)
            out += effect if scale == 1 else np.float32(scale) * effect
        return out

    def _name_of(self, line: PlannedLine) -> tuple[str, ...]:
        """The line's name; lines that are told apart by nothing else are numbered."""
        key = (unit_key(line), line.step.casefold(), line.kind)
        self._asked[key] = self._asked.get(key, 0) + 1
        return (*key, str(self._asked[key]))

    def _batch_with_more(self, line: PlannedLine, rng: np.random.Generator, round_figures: bool) -> Floats:
        """Minutes (n,) of a batch that is begun, guessed, or told in round figures."""
        pace, n = self._pace, self._n
        mean = np.resize(self._stretched(self.mean_log_minutes(line)), n).astype(np.float64)
        sd = np.resize(self._spread(line), n).astype(np.float64)
        if line.spent_minutes > 0:
            drawn = self._beyond(line.spent_minutes, mean, sd, rng)
        elif line.guess_minutes and pace.guess is not None:
            drawn = pace.guess.draw(line.guess_minutes, mean, np.arange(n) % self._size, rng)
        else:
            drawn = mean + sd * surprise(pace.upper, rng, n)
        if round_figures and pace.heaps is not None and not line.guess_minutes and not line.spent_minutes:
            drawn = to_heaps(drawn, pace.heaps, rng)
        return np.asarray(np.exp(np.minimum(drawn, LONGEST_LOG_MINUTES)) - line.spent_minutes)

    def _effect(self, group: str, name: str) -> Draws:
        """(D,) an effect as the log knows it, or from its group's spread."""
        found = self._effects.get((group, name))
        if found is None:
            columns = self._pace.columns
            column = columns.places[group].get(name) if columns else None
            if column is None:
                fresh = self._luck.of("effect", group, name).standard_normal(self._size)
                found = (self._pace.spreads[group] * fresh).astype(np.float32)
            else:
                found = np.ascontiguousarray(self._pace.effects[:, column], dtype=np.float32)
            self._effects[group, name] = found
        return found

    def _next_drift(self) -> Draws:
        pace, memory = self._pace, self._pace.drift_memory
        now = pace.effects[:, -1].astype(float) if pace.columns else np.zeros(self._size)
        fresh = self._luck.of("drift").standard_normal(self._size)
        new = math.sqrt(1 - memory**2) * pace.spreads["drift"] * fresh
        return np.asarray(memory * now + new, dtype=np.float32)

    def _spread(self, line: PlannedLine) -> Draws:
        """(D,) standard deviation of the line's log minutes around its mean."""
        name = line.step.casefold()
        found = self._noise.get(name)
        if found is None:
            pace = self._pace
            known = pace.noise_classes.get(name)
            if known is not None:
                sd = pace.step_sd[:, known]
            else:
                pooling = pace.priors.noise_pooling
                chi2 = self._luck.of("noise", name).chisquare(pooling, self._size)
                sd = pace.common_sd * np.sqrt(pooling / chi2)
            found = self._noise[name] = (pace.stretch * sd).astype(np.float32)
        return found

    def _stretched(self, mean: Draws) -> Draws:
        stretch = self._pace.stretch
        if stretch == 1.0:
            return mean
        middle = np.partition(mean, mean.size // 2)[mean.size // 2]
        mean -= middle
        mean *= stretch
        mean += middle
        return mean

    def _beyond(self, spent: float, mean: Floats, sd: Floats, rng: np.random.Generator) -> Floats:
        """Log minutes given that they exceed what was already spent, by drawing until they do."""
        bound, upper = math.log(spent), self._pace.upper
        out = mean + sd * surprise(upper, rng, mean.size)
        for _ in range(12):
            short = out <= bound
            if not short.any():
                return out
            out[short] = mean[short] + sd[short] * surprise(upper, rng, int(short.sum()))
        # So far beyond what was expected that nothing is left of it: another sixth, give or take.
        short = out <= bound
        out[short] = bound + np.log1p(rng.exponential(1 / 6, int(short.sum())))
        return out


def split(line: PlannedLine, batch_of_step: dict[str, float]) -> list[PlannedLine]:
    """The line in the batches this person works in; what is begun or guessed stays whole."""
    usual = batch_of_step.get(line.step.casefold())
    if usual is None:
        step = find_step(line.step)
        at_once = step is not None and step.counting in ("batch", "unit")
        usual = math.inf if at_once else max(batch_of_step.get("", 0.0), NEW_BATCH_MODELS)
    if line.models <= 1.5 * usual or line.guess_minutes or line.spent_minutes:
        return [line]
    batches = max(round(line.models / usual), 1)
    sizes = [line.models // batches + (i < line.models % batches) for i in range(batches)]
    starts = [sum(sizes[:i]) for i in range(batches)]
    return [
        line._replace(models=size, done_before=line.done_before + start)
        for size, start in zip(sizes, starts, strict=True)
    ]
