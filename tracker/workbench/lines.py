"""Logging one line of an evening, and the evening's total."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Literal, NamedTuple

from tracker.domain.problems import DataError, Problem
from tracker.domain.records import MINUTES_A_DAY, Line, Session
from tracker.domain.steps import find_step
from tracker.domain.text import printable
from tracker.store.evenings import find_session, insert_line, insert_session, minutes_of_lines
from tracker.store.journal import Store
from tracker.store.models import came_by, insert_models
from tracker.store.units import insert_own_step, own_steps, route_of, set_route
from tracker.workbench.desk import Desk
from tracker.workbench.evening_now import evening_now, lamp_counts
from tracker.workbench.naming import (
    KnownUnit,
    catalogue_name,
    good_minutes,
    good_name,
    good_text,
    new_step_name,
    on_route,
    place_step,
    shown,
    the_step,
    the_unit,
)
from tracker.workbench.standing import Standing
from tracker.workbench.words import day_words, minutes_words

GUESS_MINUTES_MOST = 1_000_000
ROUNDING_MINUTES = 1e-6
_YEARS_AGO_MOST = 100


class Entry(NamedTuple):
    """What a person says of one step on some models."""

    unit: str
    step: str
    army: str | None = None
    models: int | Literal["all"] | None = 1
    """The word "all" = all that are left for this step; None = not said, which will do when one is left."""
    minutes: float | None = None
    day: date | None = None
    """None = this evening."""
    finished: bool = True
    guess_minutes: float | None = None
    note: str = ""
    named: tuple[str, ...] = ()
    """Models to take first, by name."""
    numbers: tuple[int, ...] = ()
    """Just these models, by number; `models` is then how many they are."""
    add_step: bool = False
    """Put the step on the unit's route if it is not there."""


class Logged(NamedTuple):
    """What a logged line bought."""

    line_id: int
    army: str
    unit: str
    step: str
    models: int
    models_of_unit: int
    models_left: int
    """Models that still need this step."""
    minutes: float | None
    finished: bool
    day: date
    today: date
    care: str = ""
    """The caution for what comes up for the first time with it; empty = none."""

    def words(self) -> str:
        """As in "washing, 10 of 20 Spears, 50 min (Tue 3 Mar)"."""
        some = f"{self.models} of {self.models_of_unit}" if self.models_of_unit != 1 else "1"
        words = f"{self.step}, {some if self.models else 'some of'} {self.unit}"
        if not self.finished:
            words += ", still in hand"
        if self.minutes is not None:
            words += f", {minutes_words(self.minutes)}"
        return f"{words} ({day_words(self.day, self.today)})"

    def sentence(self) -> str:
        """The one line that says what was stored and what is left, and a caution where one is new."""
        left = f"{self.models_left} left for this step." if self.models_left else "This step is done."
        return f"Logged: {self.words()}. {left}" + (f"\n{self.care}" if self.care else "")


def log_line(desk: Desk, entry: Entry) -> Logged:
    """Store one line; it is on disk when this returns. `DataError` and nothing stored if it cannot be."""
    return log_lines(desk, (entry,))[0]


def log_lines(desk: Desk, entries: tuple[Entry, ...]) -> tuple[Logged, ...]:
    """Store several lines as one change, all or none."""
    with desk.open() as store, store.change("log") as change:
        logged = put_lines(store, desk, entries)
        change.words = "; ".join(line.words() for line in logged)
    return logged


def put_lines(store: Store, desk: Desk, entries: Sequence[Entry]) -> tuple[Logged, ...]:
    """Put lines in, inside an open change; a line without a day belongs to the evening that goes on."""
    now = evening_now(store, desk)
    checked = [_checked(desk, entry._replace(day=entry.day or now)) for entry in entries]
    return tuple(_put(store, desk, entry) for entry in checked)


def _checked(desk: Desk, entry: Entry) -> Entry:
    day = entry.day or desk.evening_day()
    not_in_future(day, desk.today())
    good_minutes("--minutes", entry.minutes, MINUTES_A_DAY)
    good_minutes("--guess", entry.guess_minutes, GUESS_MINUTES_MOST)
    if isinstance(entry.models, int) and (entry.models < 0 or (entry.models == 0 and not entry.minutes)):
        raise DataError(
            Problem("--models", f"{entry.models} models and no minutes is nothing to log", "Say 1 or more")
        )
    good_text("--note", entry.note)
    return entry._replace(day=day, unit=good_name("--unit", entry.unit), step=good_name("--step", entry.step))


def mistyped_year(day: date, today: date) -> Problem | None:
    """What is wrong with a day so long ago that its year was mistyped; every answer would wait for it."""
    if today.year - day.year <= _YEARS_AGO_MOST:
        return None
    return Problem("", f"{day.isoformat()} is too long ago", "Check the year")


def not_in_future(day: date, today: date) -> None:
    """A `DataError` for an evening that has not come yet, or in a year that nobody remembers."""
    if mistyped := mistyped_year(day, today):
        raise DataError(mistyped._replace(where="--date"))
    if day > today:
        raise DataError(
            Problem("--date", f"{day.isoformat()} lies in the future", f"Today is {today.isoformat()}")
        )


def _put(store: Store, desk: Desk, entry: Entry) -> Logged:
    day = entry.day or desk.evening_day()
    unit = the_unit(store, entry.unit, entry.army)
    step = _step(store, unit, entry)
    evening = evening_for(store, day, added_minutes=entry.minutes or 0.0)
    standing = Standing(store, unit.id, step, evening)
    models = len(entry.numbers) or how_many(entry, standing, unit.name)
    finished = entry.finished and models > 0
    if models > standing.left and unit_is_open_ended(store, unit.id):
        standing.join(insert_models(store, unit.id, models - standing.left, day))
    numbered = standing.numbered(entry.numbers, unit.name) if entry.numbers else None
    chosen = numbered or standing.choose(models, unit.name, entry.named)
    if isinstance(chosen, Problem):
        raise DataError(chosen._replace(where="--models"))
    line = Line(
        0, evening.id, unit.id, step, models, entry.minutes, finished, entry.guess_minutes, entry.note, chosen
    )
    care = _care(store, step)
    line_id = insert_line(store, line)
    standing.take(chosen, finished=finished)
    came_by(store, unit.id, chosen, day)
    return Logged(
        line_id, unit.army, unit.name, step, models, standing.total, standing.left, entry.minutes, finished,
        day, desk.today(), care,
    )  # fmt: skip


def _care(store: Store, step: str) -> str:
    """The caution for a step nobody logged before; what was done before costs one look and loads nothing."""
    known = find_step(step)
    if known is not None and not known.cautions:
        return ""
    if store.rows("SELECT EXISTS (SELECT 1 FROM line WHERE step = ?)", (step,))[0][0]:
        return ""
    from tracker.workbench.cautions import first_of_step

    return first_of_step(store, step)


def _step(store: Store, unit: KnownUnit, entry: Entry) -> str:
    route = route_of(store, unit.id)
    if on_route(route, entry.step) or not entry.add_step:
        return the_step(route, entry.step, unit.name)
    return add_to_route(store, unit.id, route, catalogue_name(entry.step))


def add_to_route(store: Store, unit_id: int, route: tuple[str, ...], said: str) -> str:
    """Put a step on a unit's route; one that nobody knows becomes the person's own. Its name."""
    step = new_step_name(store, said)
    remember_step(store, step)
    set_route(store, unit_id, place_step(route, step))
    return step


def remember_step(store: Store, step: str) -> None:
    """Keep a step that the catalogue does not have as the person's own."""
    if find_step(step) is None and step.casefold() not in own_steps(store):
        insert_own_step(store, step)


def how_many(entry: Entry, standing: Standing, unit: str) -> int:
    """How many models were meant; a `DataError` when that is not said and cannot be told."""
    if isinstance(entry.models, int):
        return entry.models
    if standing.left == 0:
        mend = "Is it another step, or another unit?"
        raise DataError(Problem("--models", f"{shown(unit)} has none left for this step", mend))
    if entry.models is None and standing.left > 1:
        mend = f'Say it, as in "{standing.left - 1} {printable(unit)}" or "all {printable(unit)}"'
        raise DataError(
            Problem("--models", f"{shown(unit)} has {standing.left} left, and how many is not said", mend)
        )
    return standing.left


def unit_is_open_ended(store: Store, unit_id: int) -> bool:
    """Whether the unit has as many models as its lines show."""
    return bool(store.rows("SELECT open_ended FROM unit WHERE id = ?", (unit_id,))[0][0])


def evening_for(store: Store, day: date, added_minutes: float = 0.0) -> Session:
    """The evening of that day, made if there is none; a `DataError` if these minutes do not fit in."""
    evening = find_session(store, day)
    if evening is None:
        return Session(insert_session(store, day), day)
    lines = minutes_of_lines(store, evening.id) + added_minutes
    growing = added_minutes > 0 and lamp_counts(store, day)
    if evening.minutes is not None and not growing and lines > evening.minutes + ROUNDING_MINUTES:
        raise DataError(
            Problem(
                "--minutes",
                f"the lines of {day} would take {lines:g} minutes, but the evening had {evening.minutes:g}",
                f"Correct it: lastcoat evening --date {day} --minutes {lines:g}",
            )
        )
    if added_minutes and lines > MINUTES_A_DAY:
        raise DataError(
            Problem("--minutes", f"the lines of {day} would take {lines:g} minutes", "A day has 1440")
        )
    return evening
