"""What every unit still needs, step by step, with the minutes that it is likely to take."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

from tracker.domain.answers import Minutes


class StepMinutes(NamedTuple):
    """A step of a unit's route: how many models still need it, and the minutes of that."""

    step: str
    models: int
    minutes: Minutes | None = None
    """19 quantiles of minutes still to come, at LEVELS; None when no model needs the step."""


class UnitSteps(NamedTuple):
    """A unit with its steps up to the finish line, in route order."""

    army: str
    unit: str
    models: int
    models_ready: int
    steps: tuple[StepMinutes, ...]


class StepsLeftAnswer(NamedTuple):
    """Every unit that has models, in the order they are worked."""

    as_of: date
    units: tuple[UnitSteps, ...] = ()
    seed: int = 0
