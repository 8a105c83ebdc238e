"""What is answered about goals: where each stands, what cut would keep it, what to pick for a date."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

from tracker.domain.answers import Dates, Doubt
from tracker.domain.records import Goal
from tracker.domain.wishes import AtStandard, FewerModels, Filler, InOrder, Without

GOOD_CHANCE = 0.8
"""The chance from which on a goal counts as safe enough to plan by: 8 times in 10."""


class GoalStanding(NamedTuple):
    """One goal and how it stands."""

    goal: Goal
    units: tuple[str, ...]
    """Units that it asks for; empty = all."""
    chance: float | None
    """Share of the futures that keep it; None = none of its units is there."""
    met: Dates = ()
    """Quantiles of the day it is met; empty where nothing of it is there, or it is met already."""
    start_by: date | None = None
    """The last day to begin its work, before all other work from then on, and still keep it 8 times in 10;
    None = met, past, or too late even today."""
    is_met: bool = False
    waits: bool = False
    """Whether other open work stands before it in the person's order."""


class GoalsAnswer(NamedTuple):
    """Every goal, by its date."""

    as_of: date
    goals: tuple[GoalStanding, ...]
    doubts: tuple[Doubt, ...] = ()
    seed: int = 0
    draws: int = 0


class RearSkip(NamedTuple):
    """The models behind the front rank of a unit go without a step."""

    unit: str
    step: str
    models: int
    """How many of them would skip it."""
    army: str = ""


Cut = InOrder | FewerModels | Filler | AtStandard | Without | RearSkip
"""Something that would not be done, or only later: what counts for the goal comes first (`InOrder`)."""


class CutStanding(NamedTuple):
    """One cut, or several together, and what they do."""

    cuts: tuple[Cut, ...]
    chance: float
    """Of the goal, with them."""
    saved_minutes: float
    """Median of the minutes of work that they save."""
    given_up_minutes: float
    """Hands-on minutes that would not be on the table: those saved, and those put already into models
    that would stay behind."""
    gain: tuple[float, float] = (0.0, 0.0)
    """Between these the gain of the chance lies 19 times in 20, as far as it is luck which futures were
    played: the mean over the paths, give or take 1.96 standard errors. Both plans meet the same luck."""

    @property
    def is_enough(self) -> bool:
        """Whether the goal is kept 8 times in 10 with it."""
        return self.chance >= GOOD_CHANCE


class CutsAnswer(NamedTuple):
    """Cuts for one goal; those that are enough come first, the least work given up first."""

    as_of: date
    goal: Goal
    units: tuple[str, ...]
    chance: float | None
    """As it is."""
    cuts: tuple[CutStanding, ...]
    together: tuple[CutStanding, ...] = ()
    """Several at once; looked for only where no single cut is enough."""
    sure: float | None = None
    """So many models, or points, are ready by its day 8 times in 10; None = it asks for units."""
    is_met: bool = False
    doubts: tuple[Doubt, ...] = ()
    seed: int = 0
    draws: int = 0


class Picked(NamedTuple):
    """A unit among those to pick from."""

    army: str
    unit: str
    points: float
    minutes: float
    """Median minutes that are left of it."""


class PickAnswer(NamedTuple):
    """The units worth most points that can be ready by a day, worked first and alone."""

    as_of: date
    date: date
    picked: tuple[Picked, ...]
    chance: float
    """That all of them are ready by the day; 1 where none is picked."""
    left_out: tuple[Picked, ...] = ()
    ready: tuple[Picked, ...] = ()
    """Units that are table-ready already, which count anyway."""
    without_points: tuple[str, ...] = ()
    """Units that could not be weighed."""
    exact: bool = True
    """Whether no other choice has more points; else it is taken by points for the hour."""
    doubts: tuple[Doubt, ...] = ()
    seed: int = 0
    draws: int = 0

    @property
    def points(self) -> float:
        """Points on the table by the day: those picked and those ready now."""
        return sum(one.points for one in (*self.picked, *self.ready))
