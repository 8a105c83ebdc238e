"""Other plans on the same futures: the evenings, the weather and each line's luck stay, the work differs.

What costs time is done once. The rhythm is learned and the evenings are drawn for the plan as it is; another
plan draws minutes only for units whose lines differ from all that were drawn before.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

import numpy as np
from numpy.typing import NDArray

from tracker.domain.answers import PlannedLine
from tracker.domain.progress import progress_of
from tracker.domain.records import Records
from tracker.domain.work import UnitWork, work_left
from tracker.forecast.outlook import Futures, Pace, simulate, to_planned
from tracker.forecast.simulate import Draws, Task, UnitTasks, is_gated, simulate_ready_days, tasks_of

_WORK_STREAM = 1
"""Which of the streams that `simulate` spawns of a seed is the luck of the work."""
_OTHER_WORK = UnitTasks((Task((), 0.0),))
"""Work that stands before all else and that nobody asks about."""


class Again:
    """One plan's futures, to be played again with other work.

    `pace` draws a line's minutes by the state of the generator and the line alone, whatever else it is
    asked about, as the learned pace does: then each line keeps its luck from plan to plan.
    """

    def __init__(self, known: Records, pace: Pace, as_of: date, seed: int, draws: int) -> None:
        self.known, self.as_of, self.seed, self.draws = known, as_of, seed, draws
        self._pace = pace
        self._drawn: dict[tuple[PlannedLine, ...], Draws] = {}
        self.futures = simulate(known, pace, as_of, seed, draws)

    def of(self, plan: Records) -> Futures:
        """Another plan; the rhythm stays as it was learned, since a wish teaches nothing of evenings."""
        base = self.futures
        if plan.lines is self.known.lines and plan.marks is self.known.marks:
            progress = base.progress
        else:
            progress = progress_of(plan)
        work = tuple(unit for unit in work_left(plan, progress) if unit.models)
        if _needs_weather(work) and not _needs_weather(base.work):
            return simulate(plan, self._pace, self.as_of, self.seed, self.draws)
        parts = self._minutes_of(work, plan)
        tasks = [tasks_of(unit, progress.own_waits, base.rhythm.start) for unit in work]
        minutes = np.zeros((self.draws, len(work)), dtype=np.float32)
        for place, part in enumerate(parts):
            minutes[:, place] = part.sum(axis=1)
        return base._replace(
            progress=progress, work=work, minutes=minutes,
            ready_days=simulate_ready_days(tasks, parts, base.calendar),
        )  # fmt: skip

    def begun_on(self, first: date, futures: Futures | None = None) -> Futures:
        """The plan as it is, or the same units in the order of `futures`, begun on that day.

        What is put in before goes into other work. That takes all minutes there are before `first` and stands
        before everything in the order, so each line begins that many minutes later. What dries goes on.
        """
        base = futures or self.futures
        days = (first - base.rhythm.start).days
        if days <= 0:
            return base
        gone = base.calendar.put_in[:, min(days, base.calendar.days) - 1][:, None]
        parts = self._minutes_of(base.work, self.known)
        tasks = [tasks_of(unit, base.progress.own_waits, base.rhythm.start) for unit in base.work]
        ready = simulate_ready_days([_OTHER_WORK, *tasks], [gone, *parts], base.calendar)
        return base._replace(ready_days=ready[:, 1:])

    def _minutes_of(self, work: Sequence[UnitWork], plan: Records) -> list[Draws]:
        """Minutes of each unit's lines, each of shape (paths, lines); only new ones are drawn."""
        asked = [tuple(to_planned(unit, plan)) for unit in work]
        new = [lines for lines in asked if lines not in self._drawn]
        lines = [line for each in new for line in each]
        drawn: NDArray[np.float32] = np.zeros((self.draws, 0), dtype=np.float32)
        if lines:
            luck = np.random.default_rng(self.seed).spawn(_WORK_STREAM + 1)[_WORK_STREAM]
            drawn = np.asarray(self._pace.draw(lines, luck, self.draws), dtype=np.float32, order="F")
        ends = np.cumsum([len(each) for each in new])
        self._drawn.update(zip(new, np.split(drawn, ends[:-1], axis=1), strict=True) if new else ())
        return [self._drawn[lines] for lines in asked]


def _needs_weather(work: Sequence[UnitWork]) -> bool:
    return any(is_gated(line.step) for unit in work for line in unit.lines)
