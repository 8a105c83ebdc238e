"""What is answered about points: what a list is worth, built and on the table, and when a target is met."""

from __future__ import annotations

from datetime import date
from typing import Literal, NamedTuple

from tracker.domain.answers import Dates, Doubt
from tracker.domain.answers_goals import PickAnswer

TargetState = Literal["none", "met", "open", "never"]
"""No target; on the table already; to come; more than all units with points are worth."""


class UnitPoints(NamedTuple):
    """One unit of a list."""

    unit: str
    points: float
    models: int
    models_built: int
    """Models that have all build steps up to the assembly behind them."""
    models_ready: int

    @property
    def built(self) -> float:
        """Its points by the share of models that are built."""
        return self.points * self.models_built / self.models

    @property
    def ready(self) -> float:
        """Its points when all of it is table-ready, else none."""
        return self.points if self.models_ready == self.models else 0.0

    @property
    def ready_by_models(self) -> float:
        """Its points by the share of models that are table-ready."""
        return self.points * self.models_ready / self.models


class Soonest(NamedTuple):
    """Units that reach the target with the least work, if they come first."""

    units: tuple[str, ...]
    """In the person's own order."""
    reached: Dates
    """Quantiles of the day the target is reached then."""
    exact: bool
    """Whether no other choice needs fewer minutes; else it is the best that was found."""


class ArmyPoints(NamedTuple):
    """The list of one army."""

    army: str
    units: tuple[UnitPoints, ...]
    """Those that have points, in the person's order."""
    without_points: tuple[str, ...]
    target: float | None = None
    state: TargetState = "none"
    reached: Dates = ()
    """Quantiles of the day table-ready points reach the target; empty unless it is open."""
    on_the_way: tuple[str, ...] = ()
    """Units in the order they become ready on the middle path, up to the one that reaches the target."""
    soonest: Soonest | None = None
    """None where the units with the least work come first already."""
    by_goal: tuple[str, PickAnswer] | None = None
    """The next goal's name, and the units worth most points that can be ready by its day."""

    @property
    def planned(self) -> float:
        """Points of all its units."""
        return sum(unit.points for unit in self.units)

    @property
    def built(self) -> float:
        """Points of what is built, by models."""
        return sum(unit.built for unit in self.units)

    @property
    def ready(self) -> float:
        """Points of units that are wholly table-ready."""
        return sum(unit.ready for unit in self.units)

    @property
    def ready_by_models(self) -> float:
        """Points of table-ready models, also of units that are not whole."""
        return sum(unit.ready_by_models for unit in self.units)

    @property
    def missing(self) -> float:
        """Table-ready points that the target still lacks."""
        return max((self.target or 0.0) - self.ready, 0.0)


class PointsAnswer(NamedTuple):
    """The list of every army."""

    as_of: date
    armies: tuple[ArmyPoints, ...]
    doubts: tuple[Doubt, ...] = ()
    seed: int = 0
    draws: int = 0
