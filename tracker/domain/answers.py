"""What the program answers, before anybody words or rounds it; and what is asked of the pace.

Quantiles stand at the 5, 10 … 95 % levels (`LEVELS`), lowest first. Minutes are hands-on minutes.
A date that is `None` lies beyond the horizon of the simulation; it is never capped silently.
"""

from __future__ import annotations

from datetime import date
from typing import Literal, NamedTuple

from tracker.domain.answers_backlog import Change, Flow

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
    is_set_up: bool = False
    """Whether setting up is paid by another line: models of another kind in the unit, in the same go."""


class StepPace(NamedTuple):
    """Learned minutes of one step."""

    step: str
    minutes_per_model: Minutes
    lines: int
    """How many lines of the log speak for it."""
    source: Literal["you", "mostly you", "trade"]


class GuessesOfStep(NamedTuple):
    """How the guesses for one step ran."""

    step: str
    guesses: int
    times: float
    """Median of minutes over guess: above 1 = guessed short."""


class GuessesAnswer(NamedTuple):
    """How the person's own guesses run."""

    guesses: int
    kept_share: float
    """Share of them that were logged to the minute."""
    times_if_missed: float
    """Median of minutes over guess where it was not kept."""
    steps: tuple[GuessesOfStep, ...] = ()
    """Steps with enough guesses, the ones guessed shortest first."""


class PaceAnswer(NamedTuple):
    """The learned minutes of every step."""

    as_of: date
    steps: tuple[StepPace, ...]
    doubts: tuple[Doubt, ...] = ()
    guesses: GuessesAnswer | None = None


class Factor(NamedTuple):
    """One reason why a line takes longer or less than a plain one."""

    code: str
    """"kind", "material", "standard", "batch", "practice", "unit", "guess" or "lately"."""
    name: str
    times: float
    lines: int | None = None
    """How many lines of the log speak for it; None where lines cannot be counted."""


class WhyAnswer(NamedTuple):
    """One estimate as a product: plain minutes times every factor is the middle."""

    as_of: date
    unit: str
    step: str
    models: int
    """Models in the line that is explained: this person's usual batch, or what is left of the unit."""
    plain_minutes_per_model: float
    source: Literal["you", "mostly you", "trade"]
    lines: int
    factors: tuple[Factor, ...]
    middle_minutes_per_model: float
    minutes_per_model: Minutes
    doubts: tuple[Doubt, ...] = ()


class Held(NamedTuple):
    """How often a central range held."""

    percent: int
    held: int
    least: int
    most: int
    """Between least and most would be luck (central 95 % of the binomial)."""
    share_low: float
    share_high: float
    """Interval of the true share (Wilson, 95 %)."""


class Rival(NamedTuple):
    """The program's score beside another's on the same blocks: lower is better."""

    code: Literal["spreadsheet", "guess"]
    blocks: int
    score: float
    rival_score: float
    nearer: int
    """How often the rival's middle was nearer than the program's."""


class TrackRecordAnswer(NamedTuple):
    """What past estimates came to, each made with only what was known then."""

    as_of: date
    blocks: int
    """Blocks of minutes that were estimated and then came to pass; 0 = too little history."""
    held: tuple[Held, ...] = ()
    times: float = 1.0
    """Median of minutes over the middle of the estimate: above 1 = it took longer."""
    tenths: tuple[int, ...] = ()
    """In which tenth of its range each outcome fell, ten counts."""
    totals: int = 0
    totals_held: int = 0
    """Totals of the blocks after one evening, and how many lay in their 80 % range."""
    score: float = 0.0
    rivals: tuple[Rival, ...] = ()
    doubts: tuple[Doubt, ...] = ()
    tenths_luck: tuple[int, int] = (0, 0)
    """Between these a tenth's count would be luck (central 95 %)."""
    totals_luck: tuple[int, int] = (0, 0)
    """Between these the number of totals that held would be luck (central 95 %)."""


class LineEstimate(NamedTuple):
    """Minutes of one planned line."""

    unit: str
    step: str
    models: int
    minutes: Minutes
    guess_minutes: float | None = None
    """The person's own guess for it, where one was made."""


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
    """All that left unfinished: sold, given away, broken, or for a reason that was not told."""
    sold: int = 0
    given_away: int = 0
    broken: int = 0
    points: float = 0.0
    """Points of the units of which some model is not table-ready."""


class BacklogAnswer(NamedTuple):
    """The backlog's course by day (days on which nothing moved are left out) and its projected end."""

    as_of: date
    days: tuple[BacklogDay, ...]
    end: Dates | None
    """Quantiles of the day it is empty, or None with the reason."""
    reason: str = ""
    doubts: tuple[Doubt, ...] = ()
    seed: int = 0
    minutes_left: Minutes = ()
    """Quantiles of the minutes left today, of all units together; empty = nothing is left."""
    points_left: float | None = None
    """Points of the units that are not table-ready; None where none are known."""
    flows: tuple[Flow, ...] = ()
    """Models a month that came in, were finished and went, over the last quarter and year."""
    change: tuple[Change, ...] = ()
    """What, by itself, would let the middle of the end lie within two years; empty where it does already,
    and where nothing would."""
