"""Two plans under the same luck: as it is, and as somebody wishes it.

Both are simulated from the same seed. A line of work that both plans have draws the same minutes, and the
same evenings meet both (common random numbers), so what differs comes from the plan. An evening more a
week raises the chance of each evening of the weeks one is at it; with the same luck that only adds
evenings, it takes none. Days away take their evenings and leave all others as they were.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

import numpy as np
from numpy.typing import NDArray

from tracker.domain.answers import LEVELS, Outlook
from tracker.domain.answers_whatif import Beside, GoalBeside, WhatIfAnswer
from tracker.domain.goals import goals_of
from tracker.domain.records import Goal, Records
from tracker.domain.wished import wished
from tracker.domain.wishes import Away, MoreEvenings, Wish
from tracker.domain.work import UnitWork
from tracker.forecast.doubts import date_doubts
from tracker.forecast.evenings import evenings_of
from tracker.forecast.futures import simulate_minutes
from tracker.forecast.goals import chance_of
from tracker.forecast.outlook import DRAWS, Evenings, Futures, Pace, outlooks, simulate
from tracker.forecast.rhythm import Rhythm
from tracker.forecast.states import StateSpace, session_chances

HALF_A_YEAR_DAYS = 182
_HALVINGS = 60
_SESSIONS_MOST = 1000.0
"""A week of so many sessions has an evening every day as nearly as a week can."""


def what_if(
    known: Records, pace: Pace, as_of: date, wishes: Sequence[Wish], *, seed: int = 1, draws: int = DRAWS
) -> WhatIfAnswer:
    """Both plans side by side; `known` holds nothing later than `as_of`. `DataError` for what cannot be."""
    plan = wished(known, wishes, as_of)
    before = simulate(known, pace, as_of, seed, draws)
    after = simulate(plan, pace, as_of, seed, draws, evenings=evenings_wished(wishes, before.rhythm))
    units, armies = _beside(outlooks(before, known), outlooks(after, plan))
    middles = [one.ready[len(LEVELS) // 2] for pair in units for one in pair[2:] if one is not None]
    doubts = date_doubts(
        evenings_of(known), as_of, working=any(w.lines for w in before.work), beyond=None in middles
    )
    return WhatIfAnswer(
        as_of,
        tuple(wishes),
        units,
        armies,
        goals_beside(known, before, after),
        (evenings_a_week(before), evenings_a_week(after)),
        doubts,
        seed,
        draws,
    )


def evenings_wished(wishes: Sequence[Wish], rhythm: Rhythm) -> Evenings:
    """How coming days are simulated when the wishes about evenings come true.

    `rhythm` is the one that was learned: what is wished of the work teaches nothing about evenings.
    """
    more = sum(wish.a_week for wish in wishes if isinstance(wish, MoreEvenings))
    away = [wish for wish in wishes if isinstance(wish, Away)]
    wished_rhythm = with_more_evenings(rhythm, more) if more else rhythm

    def play(_: Rhythm, luck: np.random.Generator, paths: int, days: int) -> NDArray[np.float32]:
        out = simulate_minutes(wished_rhythm, luck, paths, days)
        for wish in away:
            first, last = ((day - rhythm.start).days for day in wish)
            out[:, max(first, 0) : max(last + 1, 0)] = 0.0
        return out

    return play


def with_more_evenings(rhythm: Rhythm, a_week: float) -> Rhythm:
    """The rhythm with so many evenings more in every week one is at it (below 0: fewer).

    At each level of the hidden state the sessions a week L become the L' for which the expected
    evenings of a week, sum over weekdays d of the chance 1 - exp(-L' f_d / 7), are so many more: at most
    what seven evenings allow, at least none. Breaks stay breaks, and evenings keep their length.
    """
    return rhythm._replace(space=_with_more(rhythm.space, rhythm.weekday_factors, a_week))


def _with_more(space: StateSpace, factors: NDArray[np.float64], a_week: float) -> StateSpace:
    def expected(sessions: NDArray[np.float64]) -> NDArray[np.float64]:
        chances = session_chances(space._replace(sessions_a_week=sessions), factors)
        return np.asarray(chances[:, :, 0].sum(axis=0))

    usual = space.sessions_a_week
    wanted = expected(usual) + a_week
    low, high = np.zeros_like(usual), np.full_like(usual, _SESSIONS_MOST)
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        short = expected(middle) < wanted
        low, high = np.where(short, middle, low), np.where(short, high, middle)
    bounded = np.maximum(usual, high) if a_week > 0 else np.minimum(usual, low)
    return space._replace(sessions_a_week=bounded)


def evenings_a_week(futures: Futures) -> float:
    """Mean evenings a week of the coming half year."""
    put_in = futures.calendar.put_in[:, :HALF_A_YEAR_DAYS]
    held = (np.diff(put_in, axis=1, prepend=np.float32(0)) > 0).mean()
    return float(held * 7)


Outlooks = tuple[tuple[Outlook, ...], tuple[Outlook, ...]]


def _beside(before: Outlooks, after: Outlooks) -> tuple[tuple[Beside, ...], tuple[Beside, ...]]:
    """Units and armies in the order of the plan as it is, new ones behind."""
    units, armies = (_pairs(then, now) for then, now in zip(before, after, strict=True))
    return units, armies


def _pairs(before: Iterable[Outlook], after: Iterable[Outlook]) -> tuple[Beside, ...]:
    then = {(one.army, one.unit): one for one in before}
    now = {(one.army, one.unit): one for one in after}
    return tuple(Beside(*key, then.get(key), now.get(key)) for key in dict.fromkeys((*then, *now)))


def goals_beside(known: Records, before: Futures, after: Futures) -> tuple[GoalBeside, ...]:
    """The chance of every goal under both plans; goals without anything left to do are left out."""
    out = []
    for goal in goals_of(known):
        names = {
            work.unit.name: None
            for futures in (before, after)
            for work in futures.work
            if work.lines and _counts(goal, work)
        }
        if names:
            chances = (chance_of(goal, one) for one in (before, after))
            out.append(GoalBeside(goal.name, goal.date, tuple(names), *chances))
    return tuple(out)


def _counts(goal: Goal, work: UnitWork) -> bool:
    return not goal.unit_ids or work.unit.id in goal.unit_ids
