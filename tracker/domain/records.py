"""What the program knows, as frozen records.

"Unit" always means a unit of miniatures; a measure is a "quantity". Every name that carries minutes
says so. Identities (`id`) are the store's; records that are not stored yet have id 0.
"""

from __future__ import annotations

from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING, Any, Literal, NamedTuple

if TYPE_CHECKING:  # the records of every log are loaded without them
    from tracker.domain.cures import Cure, Dried, LeadFree

KINDS = (
    "infantry",
    "cavalry",
    "large infantry",
    "monster",
    "war machine",
    "vehicle",
    "character",
    "scenery",
)
MATERIALS = ("plastic", "metal", "resin", "printed", "mixed")
STANDARDS = ("quick", "table-top", "good", "display")
DEPARTURES = ("sold", "given away", "broken")
DEFAULT_ARMY = "My army"
MINUTES_A_DAY = 24 * 60


Day = date
"""For records of which a field is called `date`."""
_LONG_AGO = date(1970, 1, 1)
_NIGHT_ENDS = timedelta(hours=4)
"""What is said after midnight belongs to the evening that began before it (as the desk counts)."""


class Army(NamedTuple):
    """An army: a name that units belong to."""

    id: int
    name: str


class Unit(NamedTuple):
    """A unit of miniatures and what is planned for it."""

    id: int
    army_id: int
    name: str
    kind: str = "infantry"
    material: str = "plastic"
    standard: str = "table-top"
    base: str = ""
    """As the person wrote it ("20x20", "32 round"); read it with `bases.parse_base`."""
    files: int | None = None
    ranks: int | None = None
    points: float | None = None
    guess_minutes: float | None = None
    """The person's own guess for the whole unit."""
    goal_date: date | None = None
    goal: str = ""
    order: int | None = None
    """1 = do first; none = after those that have one, by age."""
    source: str = ""
    cost: str = ""
    note: str = ""
    finish_line: str = ""
    """The step after which its models are table-ready; empty = the last of its route."""
    open_ended: bool = False
    """It has as many models as its lines show, until someone says how many."""
    added_on: date = date(1970, 1, 1)
    route: tuple[str, ...] = ()
    """Step names in order."""


class Model(NamedTuple):
    """One miniature. Without a unit it is a spare: kept, but no backlog."""

    id: int
    unit_id: int | None
    number: int
    """1, 2, 3 … within its unit."""
    name: str = ""
    kind: str = ""
    """Its own kind when it differs from the unit's (a command figure); empty = the unit's."""
    note: str = ""
    added_on: date = date(1970, 1, 1)
    left_on: date | None = None
    left_how: str = ""
    part: str = ""
    """Which part it is, where parts are painted apart ("rider", "mount"); empty = a whole model."""


class OwnStep(NamedTuple):
    """A step as this person knows it: a catalogue step (perhaps renamed) or one of their own."""

    id: int
    name: str
    catalogue: str = ""
    """The catalogue step it stands for; empty = the person's own."""
    wait_hours: float | None = None
    """The person's own wait; none = the catalogue's usual one."""


class Session(NamedTuple):
    """An evening at the desk. One that runs past midnight belongs to the day it began."""

    id: int
    date: date
    label: str = ""
    """Tells evenings of the same date apart; mostly empty."""
    start: str = ""
    """HH:MM, local; empty = not said."""
    minutes: float | None = None
    """The evening's total, covering timed and untimed lines; none = not said."""


class Line(NamedTuple):
    """One step on some models of one unit, done in one session."""

    id: int
    session_id: int
    unit_id: int
    step: str
    models: int = 1
    """How many models it moved on; 0 = worked on, none finished."""
    minutes: float | None = None
    finished: bool = True
    guess_minutes: float | None = None
    note: str = ""
    model_ids: tuple[int, ...] = ()
    """The models it moved on, or has in hand when not finished."""


CellState = Literal["not yet", "in hand", "drying", "done", "skipped"]


class Mark(NamedTuple):
    """A person's word on one model and step, beside what the lines say.

    A second-hand model that came in primed has its first steps marked "done"; a mistake is marked
    "not yet". A later line or mark wins over an earlier one.
    """

    id: int
    model_id: int
    step: str
    state: CellState
    date: date
    after_line: int = 0
    """Id of the newest line when it was made: lines and marks count in the order they were stored."""


class Declared(NamedTuple):
    """What a person says of evenings to come: it moves what is expected, and is never evidence."""

    id: int
    kind: Literal["evenings", "once", "away"]
    first: date
    """The first day of the rule; the evening itself; the first day away."""
    last: date | None = None
    """Away: the last day, itself away; evenings: the last day that is meant; none = open, or the same day."""
    rule: str = ""
    """Evenings: a recurrence rule (RFC 5545)."""
    without: tuple[date, ...] = ()
    """Days that the rule gives and that are not meant."""
    minutes: float | None = None
    """Once: how long that evening is meant to be."""
    note: str = ""
    said_on: date = date(1970, 1, 1)


class Goal(NamedTuple):
    """What must be table-ready by the end of a day."""

    id: int
    """0 = the goal date of units, not one that was set by itself."""
    name: str
    date: date
    unit_ids: tuple[int, ...] = ()
    """These units; with `models` or `points` only they count. None = all units."""
    models: int | None = None
    """So many models are enough."""
    points: float | None = None
    """So many points of table-ready units are enough."""
    least_models: int | None = None
    """The fewest models that a unit may have there, as the person typed it."""
    said_on: Day = _LONG_AGO


class Records(NamedTuple):
    """Everything that is known, in the order it was stored."""

    armies: tuple[Army, ...] = ()
    units: tuple[Unit, ...] = ()
    models: tuple[Model, ...] = ()
    steps: tuple[OwnStep, ...] = ()
    sessions: tuple[Session, ...] = ()
    lines: tuple[Line, ...] = ()
    marks: tuple[Mark, ...] = ()
    declared: tuple[Declared, ...] = ()
    goals: tuple[Goal, ...] = ()
    dried: tuple[Dried, ...] = ()
    cures: tuple[Cure, ...] = ()
    lead_free: tuple[LeadFree, ...] = ()

    def as_of(self, day: date) -> Records:
        """Only what was known on the evening of `day`: later evenings, models and marks are gone."""
        sessions = tuple(s for s in self.sessions if s.date <= day)
        seen = {s.id for s in sessions}
        units = tuple(u for u in self.units if u.added_on <= day)
        kept = {u.id for u in units}
        models = tuple(
            m._replace(left_on=None, left_how="") if m.left_on and m.left_on > day else m
            for m in self.models
            if m.added_on <= day and (m.unit_id is None or m.unit_id in kept)
        )
        alive = {m.id for m in models}
        lines = tuple(x for x in self.lines if x.session_id in seen and x.unit_id in kept)
        return self._replace(
            units=units,
            models=models,
            sessions=sessions,
            lines=lines,
            marks=tuple(k for k in self.marks if k.date <= day and k.model_id in alive),
            declared=tuple(said for said in self.declared if said.said_on <= day),
            goals=tuple(
                goal._replace(unit_ids=tuple(unit for unit in goal.unit_ids if unit in kept))
                for goal in self.goals
                if goal.said_on <= day and (not goal.unit_ids or kept.intersection(goal.unit_ids))
            ),
            **self._book_of(day, kept, {line.id for line in lines} if self.dried else set()),
        )

    def _book_of(self, day: date, units: set[int], lines: set[int]) -> Any:
        """What the bench book knew on that evening of what dries and of metals."""
        begun = (cure for cure in self.cures if _evening(cure.begun_at) <= day)
        return {
            "dried": tuple(d for d in self.dried if d.line_id in lines and _evening(d.dry_at) <= day),
            "cures": tuple(
                cure._replace(ended_at=None) if cure.ended_at and _evening(cure.ended_at) > day else cure
                for cure in begun
                if cure.unit_id is None or cure.unit_id in units
            ),
            "lead_free": tuple(s for s in self.lead_free if s.said_on <= day and s.unit_id in units),
        }


def _evening(moment: datetime) -> date:
    return (moment - _NIGHT_ENDS).date()
