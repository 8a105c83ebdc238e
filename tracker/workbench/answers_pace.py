"""The pace as an answer: minutes per model of every step, drawn from the learned pace."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from datetime import date
from typing import Literal

import numpy as np

from tracker.domain.answers import LEVELS, Doubt, PaceAnswer, PlannedLine, StepPace
from tracker.domain.records import Records, Unit
from tracker.domain.steps import CATALOGUE
from tracker.domain.work import minute_shares
from tracker.forecast.outlook import Pace

BATCH = 10
"""Models that a line of the answer takes along: minutes per model depend on it."""
_YOU_FROM, _MOSTLY_FROM = 10, 3
_DRAWS = 4000


def pace_of(records: Records, pace: Pace, as_of: date, seed: int) -> PaceAnswer:
    """Minutes per model of each step: for a new unit of the commonest kind, ten models at a time.

    Quantiles of draw / 10 at LEVELS. `lines` counts the lines of the log that have minutes, alone or
    as a share of their evening.
    """
    timed = _timed_lines(records)
    steps = _steps(records)
    if not steps:
        return PaceAnswer(as_of, (), _few(timed))
    lines = [_typical_line(records, step) for step in steps]
    draws = pace.draw(lines, np.random.default_rng(seed), _DRAWS) / BATCH
    quantiles = np.quantile(draws, np.array(LEVELS) / 100, axis=0)
    return PaceAnswer(
        as_of,
        tuple(
            StepPace(step, tuple(map(float, quantiles[:, i])), timed[step], _source(timed[step]))
            for i, step in enumerate(steps)
        ),
        _few(timed),
    )


def _timed_lines(records: Records) -> Counter[str]:
    shares = minute_shares(records.lines, records.sessions)
    return Counter(line.step for line in records.lines if shares[line.id] is not None)


def _steps(records: Records) -> list[str]:
    """Every step on a route or in the log: the catalogue's in its order, then the person's own."""
    seen: Iterable[str] = [step for unit in records.units for step in unit.route]
    names = dict.fromkeys([*seen, *(line.step for line in records.lines)])
    place = {name: i for i, name in enumerate(CATALOGUE)}
    return sorted(names, key=lambda name: place.get(name, len(place)))


def _typical_line(records: Records, step: str) -> PlannedLine:
    """The step on ten models of a new unit, of the kind, material and standard most of its models had."""
    by_id = {unit.id: unit for unit in records.units}
    models: Counter[tuple[str, str, str]] = Counter()
    for line in records.lines:
        if line.step == step:
            models[_sort(by_id[line.unit_id])] += line.models
    if not models:
        models.update(_sort(unit) for unit in records.units if step in unit.route)
    commonest = models.most_common(1)
    kind, material, standard = commonest[0][0]
    return PlannedLine("", "", step, BATCH, kind=kind, material=material, standard=standard)


def _sort(unit: Unit) -> tuple[str, str, str]:
    return unit.kind, unit.material, unit.standard


def _source(lines: int) -> Literal["you", "mostly you", "trade"]:
    if lines >= _YOU_FROM:
        return "you"
    return "mostly you" if lines >= _MOSTLY_FROM else "trade"


def _few(timed: Counter[str]) -> tuple[Doubt, ...]:
    count = sum(timed.values())
    if count >= _YOU_FROM:
        return ()
    words = f"Only {count} lines with minutes so far" if count > 1 else "Hardly any line with minutes so far"
    return (Doubt("pace", f"{words}: these figures are mostly the trade's usual ones, and wide."),)
