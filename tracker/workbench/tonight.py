"""Tonight: where it was left off, what is ready, and what can be finished in the time there is.

Without a time nothing is worked out: the goal's chance comes from the forecast kept last.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, NamedTuple

from tracker.domain.answers_curing import curing_of
from tracker.domain.problems import DataError, Problem
from tracker.domain.progress import Progress, finish_steps, progress_of
from tracker.domain.ready import ReadyLine, ready_lines
from tracker.domain.records import MINUTES_A_DAY, Records
from tracker.domain.tonight import (
    WEATHER,
    Finishable,
    NextGoal,
    TonightAnswer,
    left_off,
    nearest_finish,
    next_goal,
    tools_out,
)
from tracker.domain.work import spent_in_hand, work_left
from tracker.workbench.desk import Desk
from tracker.workbench.kept_before import kept_before

if TYPE_CHECKING:
    from tracker.domain.answers import PlannedLine
    from tracker.pace.pace import Pace

SEED = 1
DRAWS = 400
LIKELY = 0.8
"""A step counts as one that can be finished from this chance on; more models are offered up to it."""
HARDLY = 0.05
"""What is less likely than this even for one model is not offered."""


def tonight(desk: Desk, minutes: float | None = None) -> TonightAnswer:
    """What tonight could be; with `minutes` also what can be finished in that time, best first."""
    if minutes is not None and not 0 < minutes <= MINUTES_A_DAY:
        mend = f"Say more than 0 and at most {MINUTES_A_DAY} minutes"
        raise DataError(Problem("tonight", f"{minutes:g} minutes cannot be", mend))
    records, now = desk.records(), desk.now()
    progress = progress_of(records)
    work = work_left(records, progress)
    armies = {army.id: army.name for army in records.armies}
    ready = ready_lines(records, now, (progress, work))
    goal = _with_chance(desk, next_goal(work, armies, desk.evening_day()))
    answer = TonightAnswer(
        now, ready.has_units, ready.models_left, left_off(records, progress),
        tuple(line for line in ready.ready if line.gate != WEATHER),
        tuple(line for line in ready.ready if line.gate == WEATHER), ready.drying,
        nearest_finish(work, armies), goal, minutes,
        curing=curing_of(records, progress, now.replace(tzinfo=None)),
    )  # fmt: skip
    if minutes is None or not ready.ready:
        return answer
    out = tools_out(records, desk.evening_day())
    return answer._replace(finishable=_finishable(desk, records, progress, ready.ready, minutes, out=out))


def _with_chance(desk: Desk, goal: NextGoal | None) -> NextGoal | None:
    """The goal with its chance in the forecast kept last, if that was made for the same date."""
    kept = kept_before(desk) if goal else None
    if goal is None or kept is None or kept.forecast is None:
        return goal
    for outlook in kept.forecast.units:
        same = (outlook.army, outlook.unit, outlook.goal_date) == (goal.army, goal.unit, goal.goal_date)
        if same and outlook.chance_by_goal is not None:
            return goal._replace(
                chance=outlook.chance_by_goal, as_of=kept.forecast.as_of, fresh=kept.forecast_is_fresh
            )
    return goal


def _finishable(
    desk: Desk,
    records: Records,
    progress: Progress,
    ready: Sequence[ReadyLine],
    minutes: float,
    *,
    out: frozenset[str],
) -> tuple[Finishable, ...]:
    from tracker.workbench.answers import learn_pace

    sizes = _Sizes(records, ready, learn_pace(desk, records), minutes, out=out)
    sizes.grow()
    last_steps = {unit.id: finish_steps(unit) for unit in records.units}
    found = []
    for line, models, times in zip(ready, sizes.models, sizes.chances(sizes.models), strict=True):
        if times.chance < HARDLY:
            continue
        makes = sum(
            all(step == line.step or progress.is_done(model, step) for step in last_steps[line.unit_id])
            for model in line.model_ids[:models]
        )
        found.append(
            Finishable(line.army, line.unit, line.step, models, line.models_left,
                       min(line.in_hand, models), *times, line.gate, makes, line.step in out)
        )  # fmt: skip
    return tuple(sorted(found, key=_worth))


def _worth(one: Finishable) -> tuple[bool, bool, int, bool, bool, float]:
    """Likely ones first; of these what needs no weather, makes most ready, ends a step, is set up."""
    return (
        one.chance < LIKELY, one.gate == WEATHER, -one.makes_ready, one.models < one.models_left,
        not one.tools_out, -one.chance,
    )  # fmt: skip


class _Times(NamedTuple):
    """Share of draws within the time, and the minutes in the middle and at both ends of 8 in 10."""

    chance: float
    middle_minutes: float
    low_minutes: float
    high_minutes: float


class _Sizes:
    """For each ready step, the most models that are likely to be finished in the time."""

    def __init__(
        self,
        records: Records,
        ready: Sequence[ReadyLine],
        pace: Pace,
        minutes: float,
        *,
        out: frozenset[str],
    ) -> None:
        from tracker.domain.answers import PlannedLine
        from tracker.workbench.answers_estimate import as_known

        asked = [PlannedLine(line.army, line.unit, line.step, line.models, kind=line.kind) for line in ready]
        self._lines = as_known(records, asked, ("army", "kind"))
        self._ready = ready
        self._spent = spent_in_hand(records)
        self._pace = pace
        self._minutes = minutes
        self._out = out
        self.models = [1] * len(ready)

    def grow(self) -> None:
        """Halve the gap between what is likely and what is not until they meet.

        More models never take fewer minutes on average, so the chance falls with their number.
        """
        too_many = [line.models + 1 for line in self._ready]
        while any(most - models > 1 for most, models in zip(too_many, self.models, strict=True)):
            tried = [(a + b) // 2 for a, b in zip(self.models, too_many, strict=True)]
            for i, times in enumerate(self.chances(tried)):
                if tried[i] > self.models[i]:
                    if times.chance >= LIKELY:
                        self.models[i] = tried[i]
                    else:
                        too_many[i] = tried[i]

    def chances(self, models: Sequence[int]) -> list[_Times]:
        """Times of each step on so many models; what is set up already takes its set-up's share less."""
        import numpy as np

        from tracker.pace.priors import set_up_share

        lines = [self._line(i, count) for i, count in enumerate(models)]
        still = [1 - set_up_share(line) if line.step in self._out else 1.0 for line in lines]
        drawn = self._pace.draw(lines, np.random.default_rng(SEED), DRAWS) * np.array(still)
        within = (drawn <= self._minutes).mean(axis=0)
        low, middle, high = np.quantile(drawn, (0.1, 0.5, 0.9), axis=0)
        return list(map(_Times, within.tolist(), middle.tolist(), low.tolist(), high.tolist()))

    def _line(self, i: int, models: int) -> PlannedLine:
        """The step on so many models; of what was put into those in hand only their share counts."""
        ready = self._ready[i]
        spent = self._spent.get((ready.unit_id, ready.step), 0.0) if ready.in_hand else 0.0
        share = min(models / ready.in_hand, 1.0) if ready.in_hand else 0.0
        return self._lines[i]._replace(models=models, spent_minutes=spent * share)
