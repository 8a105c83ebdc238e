"""The pace as answers: minutes per model of every step, minutes of planned lines."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from datetime import date
from typing import Literal

import numpy as np

from tracker.domain.answers import (
    LEVELS,
    EstimateAnswer,
    GuessesAnswer,
    GuessesOfStep,
    LineEstimate,
    PaceAnswer,
    PlannedLine,
    StepPace,
)
from tracker.domain.records import Records
from tracker.domain.steps import CATALOGUE
from tracker.pace.blocks import blocks_of
from tracker.pace.doubts import line_doubts, pace_doubts
from tracker.pace.pace import Pace

USUAL_BATCH = 5
"""Models in a line of the answer where the log does not say how many this person takes along."""
_DRAWS = 4000
GUESSES_OF_STEP_LEAST = 5
KEPT_WITHIN = 0.005
"""A guess counts as kept when the minutes are the guess to this share."""
_YOU = (8, 0.35)
_MOSTLY_YOU = (3, 0.55)


def pace_answer(records: Records, pace: Pace, as_of: date, seed: int) -> PaceAnswer:
    """Minutes per model of each step, for a new unit of the commonest kind in this person's usual batch.

    Quantiles at LEVELS of draw / models. `lines` counts the lines of the log whose minutes are known,
    alone or together with others.
    """
    steps = _steps(records)
    doubts = pace_doubts(records, pace)
    if not steps:
        return PaceAnswer(as_of, (), doubts, guesses_answer(records, pace))
    lines = [_typical_line(records, pace, step) for step in steps]
    draws = pace.draw(lines, np.random.default_rng(seed), _DRAWS)
    draws /= [line.models for line in lines]
    quantiles = np.quantile(draws, np.array(LEVELS) / 100, axis=0)
    answers = []
    for i, line in enumerate(lines):
        source, known = how_learned(pace, line)
        answers.append(StepPace(line.step, tuple(map(float, quantiles[:, i])), known, source))
    return PaceAnswer(as_of, tuple(answers), doubts, guesses_answer(records, pace))


def guesses_answer(records: Records, pace: Pace) -> GuessesAnswer | None:
    """How the person's guesses run, over all lines that had one and minutes of their own."""
    if pace.guess is None:
        return None
    ratios: dict[str, list[float]] = {}
    for block in blocks_of(records):
        line = block.lines[0]
        if len(block.lines) == 1 and line.guess_minutes and not block.at_least:
            ratios.setdefault(line.step, []).append(block.minutes / line.guess_minutes)
    every = [ratio for of_step in ratios.values() for ratio in of_step]
    missed = [ratio for ratio in every if abs(ratio - 1) > KEPT_WITHIN] or [1.0]
    steps = [
        GuessesOfStep(step, len(of_step), float(np.median(of_step)))
        for step, of_step in ratios.items()
        if len(of_step) >= GUESSES_OF_STEP_LEAST
    ]
    steps.sort(key=lambda step: (-step.times, step.step))
    share = pace.guess.kept_share
    return GuessesAnswer(pace.guess.guesses, share, float(np.median(missed)), tuple(steps))


def _steps(records: Records) -> list[str]:
    """Every step on a route or in the log: the catalogue's in its order, then the person's own."""
    seen: Iterable[str] = [step for unit in records.units for step in unit.route]
    names = dict.fromkeys([*seen, *(line.step for line in records.lines)])
    place = {name: i for i, name in enumerate(CATALOGUE)}
    return sorted(names, key=lambda name: place.get(name, len(place)))


def _typical_line(records: Records, pace: Pace, step: str) -> PlannedLine:
    """The step on the usual number of models of a new unit, of the kind it was commonest on."""
    by_id = {unit.id: unit for unit in records.units}
    done = [by_id[line.unit_id] for line in records.lines if line.step == step]
    units = done or [unit for unit in records.units if step in unit.route]
    commonest = Counter((unit.kind, unit.material, unit.standard) for unit in units).most_common(1)
    kind, material, standard = commonest[0][0]
    models = usual_models(pace, step)
    return PlannedLine("", "", step, models, kind=kind, material=material, standard=standard)


def usual_models(pace: Pace, step: str) -> int:
    """How many models this person usually takes along in a step."""
    return max(round(pace.batch_of_step.get(step.casefold(), USUAL_BATCH)), 1)


def how_learned(pace: Pace, line: PlannedLine) -> tuple[Literal["you", "mostly you", "trade"], int]:
    """Whose minutes a line's are, and how many lines of the log speak for its step."""
    known = pace.lines_of_step.get(line.step.casefold(), 0)
    spread = pace.mean_log_minutes([line], np.random.default_rng(0)).std()
    return _source(known, float(spread)), known


def _source(lines: int, log_spread: float) -> Literal["you", "mostly you", "trade"]:
    """Whose minutes they are: how many lines speak for them and how far they settle the median."""
    if lines >= _YOU[0] and log_spread <= _YOU[1]:
        return "you"
    return "mostly you" if lines >= _MOSTLY_YOU[0] and log_spread <= _MOSTLY_YOU[1] else "trade"


def estimate_answer(
    records: Records, lines: Sequence[PlannedLine], pace: Pace, as_of: date, seed: int
) -> EstimateAnswer:
    """Quantiles of each line's minutes and of their sum, draw by draw (the joint total)."""
    doubts = pace_doubts(records, pace) + line_doubts(lines, pace)
    if not lines:
        return EstimateAnswer(as_of, (), (0.0,) * len(LEVELS), doubts, seed)
    draws = pace.draw(lines, np.random.default_rng(seed), _DRAWS, as_logged=True)
    levels = np.array(LEVELS) / 100
    each = np.quantile(draws, levels, axis=0)
    total = tuple(map(float, np.quantile(draws.sum(axis=1), levels)))
    estimates = tuple(
        LineEstimate(line.unit, line.step, line.models, tuple(map(float, each[:, i])), line.guess_minutes)
        for i, line in enumerate(lines)
    )
    return EstimateAnswer(as_of, estimates, total, doubts, seed)
