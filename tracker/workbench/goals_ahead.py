"""Goals with their chances, for the page and the calendar file."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from tracker.domain.goals import goals_of
from tracker.domain.records import Goal, Records

if TYPE_CHECKING:
    from tracker.pace.pace import Pace

GoalChances = tuple[tuple[Goal, float | None], ...]
"""Each goal and the share of simulated futures that keep it; None = none of its units is there."""


def goals_ahead(known: Records, pace: Pace, day: date, seed: int, draws: int) -> GoalChances:
    """Goals of `day` and later, by date; nothing is simulated where there are none.

    Each chance is that of all the goal asks for together, out of the same futures as the dates.
    """
    from tracker.forecast.goals import chance_of
    from tracker.forecast.outlook import simulate

    goals = [goal for goal in goals_of(known) if goal.date >= day]
    if not goals:
        return ()
    futures = simulate(known, pace, day, seed, draws)
    return tuple((goal, chance_of(goal, futures) if futures.work else None) for goal in goals)
