"""What the program answers, before anybody words or rounds it; and what is asked of the pace.

Quantiles stand at the 5, 10 … 95 % levels (`LEVELS`), lowest first. Minutes are hands-on minutes.
A date that is `None` lies beyond the horizon of the simulation; it is never capped silently.
"""

from __future__ import annotations

from datetime import date
from typing import Literal, NamedTuple

LEVELS = tuple(range(5, 100, 5))

Minutes = tuple[float, ...]
"""19 quantiles of minutes, at LEVELS."""
Dates = tuple[date | None, ...]
"""19 quantiles of a date, at LEVELS."""


class Doubt(NamedTuple):
    """One reason not to lean on an answer: a code for scripts, a sentence for people."""

    code: str
    text: str


class PlannedLine(NamedTuple):
    """Work of which the minutes are asked: one step on some models of one unit."""

    army: str
    unit: str
    step: str
    models: int = 1
    guess_minutes: float | None = None
    kind: str = "infantry"
    material: str = "plastic"
    standard: str = "table-top"
    done_before: int = 0
    """Models of this unit that already have this step behind them (practice)."""
    spent_minutes: float = 0.0
    """Minutes already put into it; the answer is what is still to come."""
    unit_guess_log: float | None = None
    """Log of the person's own guess for the whole unit over the trade's usual minutes for it."""


class StepPace(NamedTuple):
    """Learned minutes of one step."""

    step: str
    minutes_per_model: Minutes
    lines: int
    """How many lines of the log speak for it."""
    source: Literal["you", "mostly you", "trade"]


class PaceAnswer(NamedTuple):
    """The learned minutes of every step."""

    as_of: date
    steps: tuple[StepPace, ...]
    doubts: tuple[Doubt, ...] = ()


class LineEstimate(NamedTuple):
    """Minutes of one planned line."""

    unit: str
    step: str
    models: int
    minutes: Minutes


class EstimateAnswer(NamedTuple):
    """Minutes of planned lines and of all of them together (the joint total)."""

    as_of: date
    lines: tuple[LineEstimate, ...]
    total: Minutes
    doubts: tuple[Doubt, ...] = ()
    seed: int = 0


class Outlook(NamedTuple):
    """When a unit, or an army as a whole, is table-ready."""

    army: str
    unit: str
    """Empty for an army as a whole."""
    models: int
    models_ready: int
    minutes_left: Minutes
    ready: Dates
    goal_date: date | None = None
    chance_by_goal: float | None = None


class ForecastAnswer(NamedTuple):
    """The outlook of every unit and every army."""

    as_of: date
    units: tuple[Outlook, ...]
    armies: tuple[Outlook, ...]
    doubts: tuple[Doubt, ...] = ()
    seed: int = 0
    draws: int = 0


class BacklogDay(NamedTuple):
    """The backlog at the end of one day and what moved on that day, in models."""

    date: date
    models: int
    minutes: float
    """Median minutes left on that day, by what is known of the pace as of the answer."""
    added: int = 0
    finished: int = 0
    taken_away: int = 0


class BacklogAnswer(NamedTuple):
    """The backlog's course by day (days on which nothing moved are left out) and its projected end."""

    as_of: date
    days: tuple[BacklogDay, ...]
    end: Dates | None
    """Quantiles of the day it is empty, or None with the reason."""
    reason: str = ""
    doubts: tuple[Doubt, ...] = ()
    seed: int = 0
