"""The least cut that keeps a goal: what could stay undone, and what each does to the chance.

Every cut is played on the same evenings and the same luck. Of each sort of cut and each unit the smallest is
looked for that is enough (by halves: more cut never lowers the chance of units that must be ready); where
even the largest is not enough it stands for its sort. Only when no single cut is enough, cuts are put
together one by one, always the one that raises the chance most.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

import numpy as np

from tracker.domain.answers_goals import GOOD_CHANCE, Cut, CutsAnswer, CutStanding, RearSkip
from tracker.domain.cut_records import cut_records, ladders, minutes_left_behind
from tracker.domain.problems import DataError
from tracker.domain.records import Goal, Records
from tracker.domain.wished_models import without
from tracker.domain.wishes import Without
from tracker.forecast.again import Again
from tracker.forecast.doubts import date_doubts
from tracker.forecast.evenings import evenings_of
from tracker.forecast.goals import chance_of, is_met, units_of
from tracker.forecast.outlook import Futures, Pace

DRAWS = 500
"""Few, since some hundred plans may be played; the chance is then known to about 2 in 100."""
_TOGETHER_MOST = 4
_UNITS_MOST = 12
"""Units looked at for a cut, those with most work left."""


def least_cuts(
    known: Records, pace: Pace, as_of: date, goal: Goal, *, seed: int = 1, draws: int = DRAWS
) -> CutsAnswer:
    """Cuts that would keep a goal, the least work given up first; `known` holds nothing after `as_of`."""
    table = _Table(Again(known, pace, as_of, seed, draws), goal)
    names = {unit.id: unit.name for unit in known.units}
    units = tuple(names[number] for number in goal.unit_ids if number in names)
    doubts = date_doubts(evenings_of(known), as_of, working=True)
    blank = CutsAnswer(as_of, goal, units, table.chance, (), doubts=doubts, seed=seed, draws=draws)
    if table.chance is None or is_met(goal, table.futures):
        return blank._replace(is_met=table.chance is not None, doubts=())
    if table.chance >= GOOD_CHANCE:
        return blank
    cuts = sorted(table.singles(), key=_order)
    together = () if any(cut.is_enough for cut in cuts) else table.together(cuts)
    return blank._replace(cuts=tuple(cuts), together=together)


def _order(cut: CutStanding) -> tuple[bool, float, float]:
    """Those that are enough first, by the work given up; the others by their chance."""
    if cut.is_enough:
        return False, cut.given_up_minutes, -cut.chance
    return True, -cut.chance, cut.given_up_minutes


class _Table:
    """One goal on one set of evenings; plans are played by the cuts that make them."""

    def __init__(self, whole: Again, goal: Goal) -> None:
        self.day, self.goal, self.futures = whole.as_of, goal, whole.futures
        self.chance = chance_of(goal, whole.futures)
        self.known = without_later_units(whole.known, goal, whole.futures, whole.as_of)
        self._again = whole
        self._left = self._minutes(whole.of(self.known))

    def played(self, cuts: Sequence[Cut]) -> CutStanding | None:
        """What cuts do together; None where they cannot be made or nothing of the goal remains."""
        try:
            plan = cut_records(self.known, cuts, self.futures.progress, self.day)
        except DataError:
            return None
        futures = self._again.of(plan)
        chance = chance_of(self.goal, futures)
        if chance is None:
            return None
        saved = float(np.median(self._left - self._minutes(futures)))
        behind = minutes_left_behind(self.known, plan)
        return CutStanding(tuple(cuts), chance, saved, max(saved, 0.0) + behind)

    def singles(self) -> list[CutStanding]:
        """The smallest cut of each sort and unit that is enough, else the largest, where it helps at all."""
        found = [self._least(ladder) for ladder in self._ladders()]
        return [cut for cut in found if cut is not None and cut.chance > (self.chance or 0.0)]

    def together(self, singles: Sequence[CutStanding]) -> tuple[CutStanding, ...]:
        """Cuts put together until they are enough, at most four; the last one is as far as it went."""
        if not singles:
            return ()
        best = max(singles, key=lambda cut: cut.chance)
        for _ in range(_TOGETHER_MOST - 1):
            more = [one.cuts[0] for one in singles if _goes_with(one.cuts[0], best.cuts)]
            tried = [found for cut in more if (found := self.played((*best.cuts, cut))) is not None]
            better = [one for one in tried if one.chance > best.chance]
            if not better:
                break
            enough = sorted((one for one in better if one.is_enough), key=_order)
            if enough:
                return tuple(enough[:3])
            best = max(better, key=lambda one: one.chance)
        return (best,) if len(best.cuts) > 1 else ()

    def _least(self, ladder: Sequence[Cut]) -> CutStanding | None:
        most = self.played(ladder[-1:])
        if most is None or not most.is_enough:
            return most
        low, high, found = -1, len(ladder) - 1, most
        while high - low > 1:
            middle = (low + high) // 2
            tried = self.played([ladder[middle]])
            if tried is not None and tried.is_enough:
                high, found = middle, tried
            else:
                low = middle
        return found

    def _ladders(self) -> list[list[Cut]]:
        """Of every open unit that counts; one that only stands before them can be left out."""
        armies = {army.id: army.name for army in self.known.armies}
        there = {model.unit_id for model in self.known.models if model.left_on is None}
        work = [(i, one) for i, one in enumerate(self.futures.work) if one.lines and one.unit.id in there]
        work.sort(key=lambda one: -float(self.futures.minutes[:, one[0]].mean()))
        progress, out = self.futures.progress, list[list[Cut]]()
        for _, one in work[:_UNITS_MOST]:
            army = armies[one.unit.army_id]
            if self.goal.unit_ids and one.unit.id not in self.goal.unit_ids:
                out.append([Without(one.unit.name, army)])
            else:
                out += ladders(self.known, one.unit, army, self.goal, progress)
        return out

    @staticmethod
    def _minutes(futures: Futures) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
        return np.asarray(futures.minutes.sum(axis=1), dtype=np.float64)


def without_later_units(known: Records, goal: Goal, futures: Futures, day: date) -> Records:
    """The records without units that are worked after every one that counts: they move none of these."""
    last = max(units_of(goal, futures), default=-1)
    for work in futures.work[last + 1 :]:
        known = without(known, work.unit, day)
    return known


def _goes_with(cut: Cut, others: Sequence[Cut]) -> bool:
    """At most one cut for a unit, besides steps that its rear ranks go without."""
    mine = [one for one in others if (one.unit, one.army) == (cut.unit, cut.army)]
    return cut not in mine and (
        not mine or (isinstance(cut, RearSkip) and all(isinstance(one, RearSkip) for one in mine))
    )
