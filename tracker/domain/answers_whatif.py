"""What two plans come to, side by side: as it is and what if, and an order beside the person's own."""

from __future__ import annotations

from datetime import date
from typing import Literal, NamedTuple

from tracker.domain.answers import Doubt, Outlook
from tracker.domain.wishes import Wish


class Beside(NamedTuple):
    """A unit, or an army as a whole, under both plans."""

    army: str
    unit: str
    """Empty for an army as a whole."""
    before: Outlook | None
    """None: it is not there as it is (a unit that would be new)."""
    after: Outlook | None
    """None: it would not be there (left out)."""

    @property
    def shift_days(self) -> int | None:
        """By how many days the middle of the dates moves, later above 0; None where one is missing."""
        then = self.before.ready[9] if self.before else None
        now = self.after.ready[9] if self.after else None
        return (now - then).days if then and now else None


class GoalBeside(NamedTuple):
    """The chance of a goal under both plans."""

    name: str
    date: date
    units: tuple[str, ...]
    """Units that belong to it in either plan."""
    before: float | None
    after: float | None
    """None: none of its units is there."""


class WhatIfAnswer(NamedTuple):
    """What wishes would do. The same luck is played under both plans, so only the plan differs."""

    as_of: date
    wishes: tuple[Wish, ...]
    units: tuple[Beside, ...]
    armies: tuple[Beside, ...]
    goals: tuple[GoalBeside, ...]
    evenings_a_week: tuple[float, float]
    """Mean evenings a week of the coming half year, as it is and what if."""
    doubts: tuple[Doubt, ...] = ()
    seed: int = 0
    draws: int = 0


# goal: only ready by its date when it comes here; bad luck: kept here even in a future of few evenings; out
# of reach: late even if it came first; gives way: late so that other goals are kept.
Reason = Literal["goal", "bad luck", "out of reach", "gives way", "set-up", "begun", "worth", "only one"]


class Placed(NamedTuple):
    """A unit at its place of the suggested order, and why it stands there."""

    army: str
    unit: str
    own_place: int
    """Its place among the open units as the person has it, 1 = first."""
    minutes: float
    """Expected minutes that are left of it."""
    worth: float
    """Points, or models, that come on the table with it."""
    reason: Reason
    goal_date: date | None = None
    with_unit: str = ""
    """The unit before it, with which it shares a set-up."""
    begun_share: float = 0.0
    """Share of its steps, model by model, that is behind it."""
    has_points: bool = True
    """Whether the person said its points; else they are taken from the others' mean per model."""


class OrderAnswer(NamedTuple):
    """The order that puts most on the table soonest, beside the person's own, which stays until taken."""

    as_of: date
    counted: Literal["points", "models"]
    places: tuple[Placed, ...]
    """Open units in the suggested order."""
    own_wait_minutes: float
    wait_minutes: float
    """Minutes at the desk until a point (or model) is on the table, the mean over all of them."""
    exact: bool
    """Whether no better order exists by this measure; else it is the best that was found."""
    beside: WhatIfAnswer | None
    """What it would change; None where the person's own order is the suggestion."""
    doubts: tuple[Doubt, ...] = ()

    @property
    def is_own(self) -> bool:
        """Whether the person's own order is the one suggested."""
        return all(placed.own_place == at for at, placed in enumerate(self.places, start=1))
