"""The evening that begins: where it was left off, what can be taken up, what is nearest to done."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime
from typing import NamedTuple

from tracker.domain.answers_curing import Curing, not_told
from tracker.domain.progress import Progress, finish_steps
from tracker.domain.ready import ReadyLine
from tracker.domain.records import Records
from tracker.domain.work import UnitWork

WEATHER = "dry weather"
"""The gate of steps that wait for the weather."""


class LeftOff(NamedTuple):
    """The line that was stored for the most recent evening, and how its step stands now."""

    army: str
    unit: str
    step: str
    day: date
    models: int
    minutes: float | None
    finished: bool
    models_left: int
    """Models of the unit that still need this step."""
    note: str = ""


class Nearest(NamedTuple):
    """The unit of which the greatest share of steps is behind it, among those that are begun."""

    army: str
    unit: str
    models_left: int
    """Models that are not table-ready."""
    cells: int
    """Steps of all its models up to the finish line."""
    cells_left: int
    """Those not done yet."""


class NextGoal(NamedTuple):
    """The next goal date of a unit that is not table-ready."""

    army: str
    unit: str
    goal: str
    goal_date: date
    models_left: int
    chance: float | None = None
    """Chance of meeting it, from the forecast kept last; None when none is kept."""
    as_of: date | None = None
    """The day of that forecast."""
    fresh: bool = False
    """Whether that forecast is of this very log and day."""


class Finishable(NamedTuple):
    """A step that can be taken up now, on as many models as are likely to be finished in the time."""

    army: str
    unit: str
    step: str
    models: int
    models_left: int
    """Models that still need this step."""
    in_hand: int
    chance: float
    """Share of draws in which it is finished in the time, set-up included."""
    middle_minutes: float
    """Half of the draws take less; set-up included, unless the tools are out."""
    low_minutes: float = 0.0
    high_minutes: float = 0.0
    """Between these it lies 8 times in 10."""
    gate: str = ""
    makes_ready: int = 0
    """How many of the models this makes table-ready."""
    tools_out: bool = False
    """The same step was worked on this evening, so it need not be set up again."""


class TonightAnswer(NamedTuple):
    """What tonight could be."""

    now: datetime
    has_units: bool
    models_left: int
    left_off: LeftOff | None = None
    ready: tuple[ReadyLine, ...] = ()
    """Steps that can be taken up now."""
    weather: tuple[ReadyLine, ...] = ()
    """Steps that are ready but for dry weather."""
    drying: tuple[ReadyLine, ...] = ()
    nearest: Nearest | None = None
    goal: NextGoal | None = None
    minutes: float | None = None
    """The time that was asked for."""
    finishable: tuple[Finishable, ...] = ()
    """What can be finished in it, best first; empty when no time was asked for."""
    curing: tuple[Curing, ...] = ()
    """All that cures: what the steps of `drying` wait for as well."""


def other_curing(answer: TonightAnswer) -> tuple[Curing, ...]:
    """What cures and is not told by a step that waits for it: timers, and last steps."""
    return not_told(answer.curing, answer.drying, answer.now.replace(tzinfo=None))


def tools_out(records: Records, day: date) -> frozenset[str]:
    """Steps that were worked on on the evening of `day`: what they need lies on the desk."""
    tonight = {session.id for session in records.sessions if session.date == day}
    return frozenset(line.step for line in records.lines if line.session_id in tonight)


def left_off(records: Records, progress: Progress) -> LeftOff | None:
    """The last line of the most recent evening; None when nothing was logged."""
    days = {session.id: session.date for session in records.sessions}
    if not records.lines:
        return None
    line = max(records.lines, key=lambda line: (days[line.session_id], line.id))
    unit = next(unit for unit in records.units if unit.id == line.unit_id)
    army = next(army.name for army in records.armies if army.id == unit.army_id)
    models = [m.id for m in records.models if m.unit_id == unit.id and m.left_on is None]
    left = sum(not progress.is_done(model, line.step) for model in models)
    return LeftOff(
        army, unit.name, line.step, days[line.session_id], line.models, line.minutes, line.finished, left,
        line.note,
    )  # fmt: skip


def nearest_finish(work: Sequence[UnitWork], armies: dict[int, str]) -> Nearest | None:
    """The begun unit with the greatest share of its steps done; the fewer left, the nearer when equal."""
    found = []
    for unit in work:
        cells = unit.models * len(finish_steps(unit.unit))
        left = sum(line.models for line in unit.lines)
        begun = left < cells or any(line.in_hand for line in unit.lines)
        if left and begun:
            found.append(Nearest(armies[unit.unit.army_id], unit.unit.name, unit.models - unit.models_ready,
                                 cells, left))  # fmt: skip
    return min(found, key=lambda one: (one.cells_left / one.cells, one.cells_left), default=None)


def next_goal(work: Sequence[UnitWork], armies: dict[int, str], today: date) -> NextGoal | None:
    """The first goal date from today on of a unit that is not table-ready."""
    goals = [
        NextGoal(armies[unit.unit.army_id], unit.unit.name, unit.unit.goal, unit.unit.goal_date,
                 unit.models - unit.models_ready)
        for unit in work
        if unit.unit.goal_date is not None and unit.unit.goal_date >= today
        and unit.models > unit.models_ready
    ]  # fmt: skip
    return min(goals, key=lambda goal: goal.goal_date, default=None)
