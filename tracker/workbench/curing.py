"""What is curing: timers that are begun and ended, a word on a step that is dry, waits of one's own."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta
from math import isfinite
from typing import NamedTuple

from tracker.domain.answers_curing import Curing, CuringAnswer, curing_answer, curing_of, ends
from tracker.domain.cures import Cure, Dried
from tracker.domain.elapsed import hours_between
from tracker.domain.problems import DataError, Problem, did_you_mean
from tracker.domain.progress import progress_of
from tracker.domain.records import Records
from tracker.domain.steps import CATALOGUE, Wait, find_step
from tracker.domain.text import same_name, tidy
from tracker.domain.usual_cures import usual_cure
from tracker.store.book import change as change_record
from tracker.store.book import every, keep
from tracker.store.journal import Store
from tracker.store.read import records
from tracker.store.units import insert_own_step, own_steps, set_wait
from tracker.workbench.desk import Desk
from tracker.workbench.evening_now import with_offset
from tracker.workbench.moments import read_moment
from tracker.workbench.naming import catalogue_name, good_name, shown, the_unit
from tracker.workbench.routing import WAIT_HOURS_MOST
from tracker.workbench.units_plan import Changed
from tracker.workbench.words import count_words, day_words

_BEGUN_AGO_MOST = timedelta(days=60)
_LATE = timedelta(days=3)
"""For so long after the latest end of its wait a step can be said to have dried later than that."""


class Thing(NamedTuple):
    """Which of the things that cure is meant: a timer by its number, or a step of a unit."""

    cure_id: int = 0
    unit_id: int = 0
    step: str = ""


def curing(desk: Desk) -> CuringAnswer:
    """All that cures now, first ready first."""
    return curing_answer(desk.records(), wall(desk))


def begin(
    desk: Desk,
    what: str,
    *,
    hours: Sequence[float] = (),
    unit: str = "",
    army: str | None = None,
    at: str = "now",
) -> Changed:
    """Begin a timer. Three hours are quickest, usual, slowest; one is all of them; none = the usual range.

    A `DataError` asks for hours where nobody knows a usual range for what was said.
    """
    name, wait, begun = good_name("what cures", what), _wait(what, hours), _moment(desk, at)
    if begun < wall(desk) - _BEGUN_AGO_MOST:
        raise DataError(Problem("--at", "that is more than two months ago", "Check the date"))
    with desk.open(create=True) as store, store.change("curing") as change:
        known = the_unit(store, unit, army) if unit else None
        cure = Cure(0, name, known.id if known else None, begun, *wait)
        keep(store, cure)
        where = f" ({known.name})" if known else ""
        low, usual, high = (_clock(end, begun) for end in ends(cure))
        when = f"dry {usual}" if low == high else f"dry from {low}, usually {usual}, latest {high}"
        marked = "" if hours else "The range is common practice; the label beats it."
        done = Changed(f"timer for {name}{where} since {_clock(begun, wall(desk))}: {when}", marked)
        change.words = done.words()
    return done


def done(desk: Desk, what: str, *, unit: str = "", army: str | None = None, at: str = "now") -> Changed:
    """A timer is over, or a step is dry: named by its words, its step or its unit."""
    dry_at = _moment(desk, at)
    with desk.open() as store, store.change("curing") as change:
        there = _there(store, desk)
        mine = [one for one in there if _is_meant(one, what, unit, army)] or [
            one for one in _there(store, desk, _LATE) if _is_meant(one, what, unit, army)
        ]
        if not mine and unit:
            the_unit(store, unit, army)
        said = _end(store, desk, _only_one(mine, there, what), dry_at)
        change.words = said.words()
    return said


def thing_done(desk: Desk, thing: Thing, at: str = "now") -> Changed:
    """As `done`, for the row under a cursor."""
    dry_at = _moment(desk, at)
    with desk.open() as store, store.change("curing") as change:
        mine = [one for one in _there(store, desk) if thing_of(one) == thing]
        if not mine:
            raise DataError(Problem("curing", "that is dry already", "See what still cures"))
        said = _end(store, desk, mine, dry_at)
        change.words = said.words()
    return said


def set_own_wait(desk: Desk, step: str, hours: float | None) -> Changed:
    """The person's own usual wait after a step; None = the trade's again. It moves every date to come."""
    if hours is not None and not (isfinite(hours) and 0 <= hours <= WAIT_HOURS_MOST):
        raise DataError(Problem("hours", f"{hours:g} hours cannot be", f"Say 0 to {WAIT_HOURS_MOST} hours"))
    with desk.open(create=True) as store, store.change("curing") as change:
        own = own_steps(store)
        name = _step_named(step, own)
        if name.casefold() in own:
            set_wait(store, name, hours)
        elif hours is not None:
            insert_own_step(store, name, name, hours)
        known = find_step(name)
        usual = f"{known.wait.usual_hours:g} h" if known else "none"
        words = f"the usual one again, {usual}" if hours is None else f"{hours:g} h"
        said = Changed(f"your wait after {name}: {words}")
        change.words = said.words()
    return said


def wall(desk: Desk) -> datetime:
    """What the clock on the wall says, to the minute."""
    return desk.now().replace(second=0, microsecond=0, tzinfo=None)


def thing_of(one: Curing) -> Thing:
    """What a row stands for."""
    return Thing(one.cure_id) if one.cure_id else Thing(0, one.unit_id, one.what)


def read_hours(text: str) -> tuple[float, ...]:
    """Hours as they are typed: "16" or "4-16-24"; a `DataError` for anything else."""
    try:
        found = tuple(float(part.replace(",", ".")) for part in tidy(text).removesuffix("h").split("-"))
    except ValueError:
        found = ()
    if len(found) in (1, 3):
        return found
    raise DataError(Problem("hours", f"{shown(text)} is no time that it takes", "Say 16, or 4-16-24"))


def read_wait(text: str) -> float | None:
    """A wait as it is typed: hours, or "usual" (None); a `DataError` for anything else."""
    if same_name(text, "usual"):
        return None
    hours = read_hours(text)
    if len(hours) != 1:
        raise DataError(Problem("hours", f"{shown(text)} is a range", "Say one number, as in 6"))
    return hours[0]


def _wait(what: str, hours: Sequence[float]) -> Wait:
    if not hours:
        usual = usual_cure(what)
        if usual is None:
            mend = "Say how long: --hours 16, or quickest-usual-slowest: --range 4-16-24"
            raise DataError(Problem("hours", f"nobody here knows how long {shown(what)} takes", mend))
        return usual
    low, usual_hours, high = hours if len(hours) == 3 else (hours[0],) * 3
    if not (0 <= low <= usual_hours <= high <= WAIT_HOURS_MOST and high > 0):
        said = "-".join(f"{one:g}" for one in hours)
        mend = f"Say more than 0 and at most {WAIT_HOURS_MOST}, the quickest first: 4-16-24"
        raise DataError(Problem("hours", f"{said} hours cannot be", mend))
    return Wait(low, usual_hours, high)


def _moment(desk: Desk, said: str) -> datetime:
    moment = read_moment(said, wall(desk))
    if isinstance(moment, Problem):
        raise DataError(moment._replace(where="--at"))
    local = moment.astimezone().replace(tzinfo=None) if moment.tzinfo else moment
    local = local.replace(second=0, microsecond=0)
    if with_offset(local) > with_offset(wall(desk)):
        raise DataError(Problem("--at", f"{local:%Y-%m-%d %H:%M} lies in the future", "Say it once it is so"))
    return local


def _there(store: Store, desk: Desk, late: timedelta = timedelta(0)) -> tuple[Curing, ...]:
    known: Records = records(store)
    return curing_of(known, progress_of(known), wall(desk), late)


def _is_meant(one: Curing, what: str, unit: str, army: str | None) -> bool:
    if unit and not same_name(one.unit, unit):
        return False
    if army is not None and not same_name(one.army, army):
        return False
    step = "" if one.cure_id else catalogue_name(what)
    names = (one.what, one.unit, f"{one.what} {one.unit}", f"{one.unit} {one.what}")
    return any(name and (same_name(name, what) or same_name(name, step)) for name in names)


def _only_one(mine: Sequence[Curing], there: Sequence[Curing], what: str) -> list[Curing]:
    """The rows of one thing: several evenings of a step are one; several things must be told apart."""
    if not mine:
        names = [name for one in there for name in (one.what, one.unit) if name]
        otherwise = "See what cures: lastcoat curing" if there else "Nothing cures right now"
        mend = did_you_mean(what, names, otherwise)
        raise DataError(Problem("curing", f"nothing that cures is called {shown(what)}", mend))
    exact = [one for one in mine if same_name(one.what, what)] or list(mine)
    things = dict.fromkeys(map(thing_of, exact))
    if len(things) > 1:
        told = "; ".join(dict.fromkeys(f"{one.what}{f' of {one.unit}' if one.unit else ''}" for one in exact))
        first = exact[0]
        mend = f"Say which: lastcoat curing done {shown(first.what)}" + (
            f" --unit {shown(first.unit)}" if first.unit else ""
        )
        if len({(one.what, one.unit) for one in exact}) > 1:
            raise DataError(Problem("curing", f"several things are meant: {told}", mend))
        # Timers of one name: the one that began first is the one that is dry first.
        oldest = min(exact, key=lambda one: (one.begun, one.cure_id))
        return [oldest]
    return exact


def _end(store: Store, desk: Desk, rows: Sequence[Curing], dry_at: datetime) -> Changed:
    first = rows[0]
    if first.cure_id:
        (cure,) = every(store, Cure, id=first.cure_id)
        if dry_at < cure.begun_at:
            what = f"{_clock(dry_at, wall(desk))} is before it began"
            raise DataError(Problem("--at", what, f"It began {_clock(cure.begun_at, dry_at)}"))
        change_record(store, cure._replace(ended_at=dry_at))
        where = f" ({first.unit})" if first.unit else ""
        took = hours_between(cure.begun_at, dry_at)
        return Changed(f"{cure.what}{where} is done since {_clock(dry_at, wall(desk))}, after {took:.3g} h")
    return _dry(store, desk, rows, dry_at)


def _dry(store: Store, desk: Desk, rows: Sequence[Curing], dry_at: datetime) -> Changed:
    """The lines of a step are dry by the person's word; a word that was given before is put right."""
    lines = [line for one in rows if one.begun.date() <= dry_at.date() for line in one.line_ids]
    unit, step = rows[0].unit, rows[0].what
    if not lines:
        if any(one.line_ids for one in rows):
            what = f"{step} was done on {day_words(rows[0].begun.date(), dry_at.date())}"
            raise DataError(Problem("--at", what, "Say a moment after that"))
        what = f"no line of the log says when {step} of {shown(unit)} was done"
        raise DataError(Problem("curing", what, "It is dry when its usual wait is over"))
    for line in lines:
        said = every(store, Dried, line_id=line)
        if said:
            change_record(store, said[0]._replace(dry_at=dry_at))
        else:
            keep(store, Dried(0, line, dry_at))
    models = count_words(sum(one.models for one in rows), "model")
    return Changed(f"{step} on {models} of {unit} is dry since {_clock(dry_at, wall(desk))}")


def _step_named(said: str, own: dict[str, str]) -> str:
    known = find_step(said) or find_step(catalogue_name(said))
    if known is not None:
        return known.name
    key = tidy(said).casefold()
    if key in own:
        return own[key]
    mend = did_you_mean(said, [*CATALOGUE, *own.values()], "Name one of your steps")
    raise DataError(Problem("the step", f"there is no step {shown(said)}", mend))


def _clock(moment: datetime, now: datetime) -> str:
    """As in "22:00", with the day when it is another one."""
    hour = f"{moment:%H:%M}"
    return hour if moment.date() == now.date() else f"{hour} on {day_words(moment.date(), now.date())}"
