"""Simulated hobbyists whose true minutes are known: slow and fast, tidy and erratic, timed or totals only.

A line's true log minutes are the trade's (`priors.log_minutes`) plus what is this person's own: a factor
shared by everything, one for each step, kind, material, standard and unit, a batch exponent, practice, a
slow drift and a surprise per line. Spreads are drawn per person around what the trade handbooks say.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from tracker.domain.answers import PlannedLine
from tracker.domain.records import KINDS, MATERIALS
from tracker.domain.routes import usual_route
from tracker.pace.blocks import Block
from tracker.pace.effects import effects_of
from tracker.pace.priors import log_minutes, practice

Floats = NDArray[np.float64]
OWN_KINDS = ("walking hut", "swarm")
TEN_KINDS = (*KINDS, *OWN_KINDS)
DRIFT_LINES = 20
DRIFT_MEMORY = 0.9


class Truth(NamedTuple):
    """One person's true spreads and the effects drawn from them so far."""

    spreads: dict[str, float]
    noise: float
    practice_slope: float
    effects: dict[tuple[str, str], float]
    totals_only: float
    """Share of evenings of which only the total is told."""
    batch: int
    kinds: tuple[str, ...]
    """The kinds of unit this person's army is made of."""
    material: str
    standard: str
    rng: np.random.Generator

    def effect(self, group: str, name: str) -> float:
        """The person's own effect, drawn when it is first needed."""
        key = (group, name)
        if key not in self.effects:
            self.effects[key] = self.spreads[group] * self.rng.standard_normal()
        return self.effects[key]

    def mean(self, line: PlannedLine, skip: str = "") -> float:
        """True log minutes of a line without drift and surprise; the effect of group `skip` left out."""
        total = log_minutes(line) + self.practice_slope * practice(line)
        for group, name, size in effects_of(line):
            if group not in (skip, "practice"):
                total += size * self.effect(group, name)
        return total


class Hobbyist(NamedTuple):
    """A person, what was logged, and how the drift stood when the log ended."""

    truth: Truth
    blocks: list[Block]
    drift: float


def draw_truth(rng: np.random.Generator, totals_only: float | None = None) -> Truth:
    """A person at random."""
    spreads = {
        "person": 0.5, "own steps": 0.5, "step": 0.35, "kind": 0.2, "material": 0.2, "standard": 0.2,
        "unit": 0.1 + 0.15 * rng.random(), "batch": 0.1, "drift": 0.1 + 0.15 * rng.random(),
    }  # fmt: skip
    erratic = rng.random()
    told = float(rng.choice([0.0, 0.5, 1.0])) if totals_only is None else totals_only
    slope = math.log2(0.9) + 0.05 * rng.standard_normal()
    kinds = tuple(map(str, rng.choice(TEN_KINDS, 3, replace=False)))
    material = str(rng.choice(MATERIALS, p=[0.5, 0.2, 0.1, 0.1, 0.1]))
    standard = str(rng.choice(["quick", "table-top", "good"], p=[0.3, 0.5, 0.2]))
    batch = int(rng.choice([5, 8, 10]))
    return Truth(spreads, 0.25 + 0.4 * erratic, slope, {}, told, batch, kinds, material, standard, rng)


def unit_lines(truth: Truth, number: int, rng: np.random.Generator) -> list[PlannedLine]:
    """Every line of one unit from first to last step, in this person's batches."""
    kind = str(rng.choice(truth.kinds, p=[0.6, 0.25, 0.15]))
    material = truth.material if rng.random() < 0.8 else str(rng.choice(MATERIALS))
    standard = truth.standard if rng.random() < 0.8 else "table-top"
    models = 1 if kind in {"monster", "vehicle", "character"} else int(rng.integers(4, 16))
    out = []
    for step in usual_route(kind, standard, material):
        for first in range(0, models, truth.batch):
            size = min(truth.batch, models - first)
            out.append(
                PlannedLine("army", f"unit {number}", step, size, None, kind, material, standard, first)
            )
    return out


def live(
    rng: np.random.Generator, evenings: int, totals_only: float | None = None, *, truth: Truth | None = None
) -> Hobbyist:
    """A person's log of so many evenings: one to four lines an evening, unit after unit."""
    truth = truth or draw_truth(rng, totals_only)
    waiting: list[PlannedLine] = []
    blocks: list[Block] = []
    drift = truth.spreads["drift"] * rng.standard_normal()
    lines_done = unit = 0
    memory = DRIFT_MEMORY ** (1 / DRIFT_LINES)
    for evening in range(evenings):
        count = int(rng.integers(1, 5))
        if len(waiting) < count:
            # Two units are on the desk at once, so that steps of both are met early.
            fresh = [unit_lines(truth, unit + i, rng) for i in range(2)]
            unit += 2
            waiting += [line for pair in _shuffled(fresh) for line in pair]
        tonight, waiting = waiting[:count], waiting[count:]
        minutes = []
        for line in tonight:
            drift = memory * drift + math.sqrt(1 - memory**2) * truth.spreads["drift"] * rng.standard_normal()
            minutes.append(math.exp(truth.mean(line) + drift + truth.noise * rng.standard_normal()))
            lines_done += 1
        if rng.random() < truth.totals_only:
            blocks.append(Block(tuple(tonight), sum(minutes), evening))
        else:
            blocks += [Block((line,), spent, evening) for line, spent in zip(tonight, minutes, strict=True)]
    return Hobbyist(truth, blocks, drift)


def _shuffled(routes: list[list[PlannedLine]]) -> list[list[PlannedLine]]:
    """Lines of several units taken in turn."""
    longest = max(map(len, routes))
    return [[route[i] for route in routes if i < len(route)] for i in range(longest)]


def next_unit(person: Hobbyist, rng: np.random.Generator) -> tuple[list[PlannedLine], float]:
    """A unit nobody has begun: its lines, and the minutes they come to in one future."""
    lines = unit_lines(person.truth, 9000 + int(rng.integers(1000)), rng)
    drift, memory = person.drift, DRIFT_MEMORY ** (1 / DRIFT_LINES)
    total = 0.0
    for line in lines:
        step = math.sqrt(1 - memory**2) * person.truth.spreads["drift"] * rng.standard_normal()
        drift = memory * drift + step
        total += math.exp(person.truth.mean(line) + drift + person.truth.noise * rng.standard_normal())
    return lines, total


def oracle(person: Hobbyist, lines: list[PlannedLine], rng: np.random.Generator, draws: int) -> Floats:
    """Totals (draws,) as somebody sees them who knows every parameter that is true of the person.

    What stays open is chance: the new unit's own effect, how the drift stands, and the surprises.
    """
    truth, memory = person.truth, DRIFT_MEMORY ** (1 / DRIFT_LINES)
    mean = np.array([truth.mean(line, skip="unit") for line in lines])
    unit = truth.spreads["unit"] * rng.standard_normal(draws)
    drift, total = truth.spreads["drift"] * rng.standard_normal(draws), np.zeros(draws)
    for value in mean:
        drift = memory * drift + math.sqrt(1 - memory**2) * truth.spreads["drift"] * rng.standard_normal(
            draws
        )
        total += np.exp(value + unit + drift + truth.noise * rng.standard_normal(draws))
    return total


def as_asked(lines: list[PlannedLine]) -> list[PlannedLine]:
    """One planned line a step, as the forecast asks: the pace cuts it into this person's batches."""
    steps: dict[str, list[PlannedLine]] = {}
    for line in lines:
        steps.setdefault(line.step, []).append(line)
    return [same[0]._replace(models=sum(line.models for line in same)) for same in steps.values()]
