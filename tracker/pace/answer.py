"""The pace as answers: minutes per model of every step, minutes of planned lines."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from datetime import date
from typing import Literal

import numpy as np

from tracker.domain.answers import LEVELS, EstimateAnswer, LineEstimate, PaceAnswer, PlannedLine, StepPace
from tracker.domain.records import Records
from tracker.domain.steps import CATALOGUE
from tracker.pace.doubts import line_doubts, pace_doubts
from tracker.pace.pace import Pace

USUAL_BATCH = 5
"""Models in a line of the answer where the log does not say how many this person takes along."""
_DRAWS = 4000
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
        return PaceAnswer(as_of, (), doubts)
    lines = [_typical_line(records, pace, step) for step in steps]
    draws = pace.draw(lines, np.random.default_rng(seed), _DRAWS)
    draws /= [line.models for line in lines]
    quantiles = np.quantile(draws, np.array(LEVELS) / 100, axis=0)
    spread = pace.mean_log_minutes(lines, np.random.default_rng(seed)).std(axis=0)
    answers = []
    for i, step in enumerate(steps):
        known = pace.lines_of_step.get(step.casefold(), 0)
        each = tuple(map(float, quantiles[:, i]))
        answers.append(StepPace(step, each, known, _source(known, float(spread[i]))))
    return PaceAnswer(as_of, tuple(answers), doubts)


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
    models = max(round(pace.batch_of_step.get(step.casefold(), USUAL_BATCH)), 1)
    return PlannedLine("", "", step, models, kind=kind, material=material, standard=standard)


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
        LineEstimate(line.unit, line.step, line.models, tuple(map(float, each[:, i])))
        for i, line in enumerate(lines)
    )
    return EstimateAnswer(as_of, estimates, total, doubts, seed)
