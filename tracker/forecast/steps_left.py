"""Minutes left of every unit's steps: joint draws of the pace, summed over the kinds within a unit."""

from __future__ import annotations

from datetime import date

import numpy as np

from tracker.domain.records import Records
from tracker.domain.steps_left import StepMinutes, StepsLeftAnswer, UnitSteps
from tracker.domain.work import UnitWork, work_left
from tracker.forecast.outlook import DRAWS, Pace, minute_quantiles, to_planned


def steps_left(
    records: Records, pace: Pace, as_of: date, seed: int = 1, draws: int = DRAWS
) -> StepsLeftAnswer:
    """Models and minutes left of every unit and step, as known on the evening of `as_of`.

    A step's minutes are the sum of its lines in each draw (lines of one unit differ in kind), and the
    answer holds their quantiles at LEVELS.
    """
    known = records.as_of(as_of)
    armies = {army.id: army.name for army in known.armies}
    work = [unit for unit in work_left(known) if unit.models]
    lines = [line for unit in work for line in to_planned(unit, known)]
    drawn = pace.draw(lines, np.random.default_rng(seed), draws) if lines else np.zeros((draws, 0))
    ends = np.cumsum([len(unit.lines) for unit in work])
    parts = np.split(np.asarray(drawn, dtype=np.float32), ends[:-1], axis=1) if work else []
    units = tuple(
        UnitSteps(armies[one.unit.army_id], one.unit.name, one.models, one.models_ready, _steps(one, part))
        for one, part in zip(work, parts, strict=True)
    )
    return StepsLeftAnswer(as_of, units, seed)


def _steps(
    work: UnitWork, drawn: np.ndarray[tuple[int, int], np.dtype[np.float32]]
) -> tuple[StepMinutes, ...]:
    out = []
    for step in work.before:
        mine = [i for i, line in enumerate(work.lines) if line.step == step]
        models = sum(work.lines[i].models for i in mine)
        out.append(StepMinutes(step, models, minute_quantiles(drawn[:, mine].sum(axis=1)) if mine else None))
    return tuple(out)
