"""The least cut that keeps a goal: what could stay undone, and what each does to the chance.

Every cut is played on the same evenings and the same luck. Of each sort of cut and each unit the smallest is
looked for that is enough (by halves: more cut never lowers the chance of units that must be ready); where
even the largest is not enough it stands for its sort. Where other work stands before what the goal asks for,
doing that later comes first of all, since it gives up nothing. The least cut is the one with the fewest
hands-on minutes given up; of cuts that give up the same, the one with the better chance. Only when no single
cut is enough, cuts are put together one by one: the order first, then always the one that raises the chance
most.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from math import sqrt

import numpy as np
from numpy.typing import NDArray

from tracker.domain.answers_goals import GOOD_CHANCE, Cut, CutsAnswer, CutStanding, RearSkip
from tracker.domain.cut_records import cut_records, ladders, minutes_left_behind
from tracker.domain.problems import DataError
from tracker.domain.records import Goal, Records
from tracker.domain.wished_models import without
from tracker.domain.wishes import FewerModels, Filler, InOrder, Without
from tracker.forecast.again import Again
from tracker.forecast.doubts import date_doubts
from tracker.forecast.evenings import evenings_of
from tracker.forecast.goals import chance_of, is_met, paths_that_keep, sure_amount, units_of, waits_for_others
from tracker.forecast.outlook import Futures, Pace

DRAWS = 500
"""Few, since some hundred plans may be played; the chance is then known to about 2 in 100."""
_TOGETHER_MOST = 4
_SHOWN_MOST = 3
_NORMAL_95 = 1.96
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
    blank = blank._replace(sure=sure_amount(goal, table.futures))
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
        self._kept = paths_that_keep(goal, whole.futures)
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
        kept = paths_that_keep(self.goal, futures)
        if kept is None or self._kept is None:
            return None
        saved = float(np.median(self._left - self._minutes(futures)))
        behind = minutes_left_behind(self.known, plan)
        gain = _gain(self._kept, kept)
        return CutStanding(tuple(cuts), float(kept.mean()), saved, max(saved, 0.0) + behind, gain)

    def singles(self) -> list[CutStanding]:
        """The smallest cut of each sort and unit that is enough, else the largest, where it helps at all."""
        found = [self._least(ladder) for ladder in self._ladders()]
        return [cut for cut in found if cut is not None and cut.chance > (self.chance or 0.0)]

    def together(self, singles: Sequence[CutStanding]) -> tuple[CutStanding, ...]:
        """Cuts put together until they are enough, at most four; the last one is as far as it went."""
        if not singles:
            return ()
        tried = list(singles)
        ordered = next((one for one in singles if isinstance(one.cuts[0], InOrder)), None)
        if ordered is not None:
            tried = [found for ladder in self._ladders() if (found := self._least(ladder, ordered.cuts))]
        more = [one.cuts[-1] for one in tried]
        best = ordered or max(singles, key=lambda cut: cut.chance)
        while True:
            better = [one for one in tried if one.chance > best.chance]
            enough = sorted((one for one in better if one.is_enough), key=_order)
            if enough:
                return tuple(enough[:_SHOWN_MOST])
            best = max((best, *better), key=lambda one: one.chance)
            if (not better and len(best.cuts) > 1) or len(best.cuts) >= _TOGETHER_MOST:
                return (best,)
            tried = [
                found
                for cut in more
                if _goes_with(cut, best.cuts) and (found := self.played((*best.cuts, cut)))
            ]
            if not tried:
                return (best,) if len(best.cuts) > 1 else ()

    def _least(self, ladder: Sequence[Cut], first: tuple[Cut, ...] = ()) -> CutStanding | None:
        """The smallest cut of a ladder that is enough after the first ones, else the largest."""
        most = self.played((*first, ladder[-1])) if ladder[-1] not in first else None
        if most is None or not most.is_enough:
            return most
        low, high, found = -1, len(ladder) - 1, most
        while high - low > 1:
            middle = (low + high) // 2
            tried = self.played((*first, ladder[middle]))
            if tried is not None and tried.is_enough:
                high, found = middle, tried
            else:
                low = middle
        return found

    def _ladders(self) -> list[list[Cut]]:
        """Of every open unit that counts, those with most work left; before all, that they come first."""
        armies = {army.id: army.name for army in self.known.armies}
        there = {model.unit_id for model in self.known.models if model.left_on is None}
        work = [(i, one) for i, one in enumerate(self.futures.work) if one.lines and one.unit.id in there]
        counted = set(units_of(self.goal, self.futures))
        mine = [(i, one) for i, one in work if i in counted]
        first = InOrder(tuple((one.unit.name, armies[one.unit.army_id]) for _, one in mine))
        out: list[list[Cut]] = [[first]] if waits_for_others(self.goal, self.futures) else []
        mine.sort(key=lambda one: -float(self.futures.minutes[:, one[0]].mean()))
        for _, one in mine[:_UNITS_MOST]:
            army = armies[one.unit.army_id]
            out += ladders(self.known, one.unit, army, self.goal, self.futures.progress)
        return out

    @staticmethod
    def _minutes(futures: Futures) -> NDArray[np.float64]:
        return np.asarray(futures.minutes.sum(axis=1), dtype=np.float64)


def without_later_units(known: Records, goal: Goal, futures: Futures, day: date) -> Records:
    """The records without units that are worked after every one that counts: they move none of these."""
    last = max(units_of(goal, futures), default=-1)
    for work in futures.work[last + 1 :]:
        known = without(known, work.unit, day)
    return known


def _gain(before: NDArray[np.bool_], after: NDArray[np.bool_]) -> tuple[float, float]:
    """Bounds of the gain of a chance, from paths that meet the same luck (paired differences, normal)."""
    gained = after.astype(np.float64) - before
    luck = _NORMAL_95 * float(gained.std()) / sqrt(len(gained))
    return max(float(gained.mean()) - luck, -1.0), min(float(gained.mean()) + luck, 1.0)


def _goes_with(cut: Cut, others: Sequence[Cut]) -> bool:
    """Whether a cut makes sense after others: of each sort one for a unit, save steps that its rear skips.

    Fewer models and scenery both take models away, and nothing else is to be cut of a unit that is left out.
    The order comes before all or not at all.
    """
    if isinstance(cut, InOrder) or cut in others:
        return False
    sorts = {
        type(one)
        for one in others
        if not isinstance(one, InOrder) and (one.unit, one.army) == (cut.unit, cut.army)
    }
    if isinstance(cut, Without):
        return not sorts
    if isinstance(cut, FewerModels | Filler):
        return not sorts & {FewerModels, Filler, Without}
    return Without not in sorts and (isinstance(cut, RearSkip) or type(cut) not in sorts)
