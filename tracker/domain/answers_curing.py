"""What is curing until when: logged steps that dry, timers, and how the person's own waits came out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date, datetime, time, timedelta
from math import ceil
from statistics import median
from typing import NamedTuple

from tracker.domain.cures import Cure
from tracker.domain.elapsed import hours_between, later
from tracker.domain.progress import EVENING_ENDS, Progress, progress_of
from tracker.domain.ready import ReadyLine
from tracker.domain.records import Records, Session, Unit
from tracker.domain.routes import comes_before
from tracker.domain.steps import CATALOGUE, Wait, find_step
from tracker.domain.usual_cures import cure_word, usual_cure

WORDS_LEAST = 3
"""From so many words of a person on how long a thing dried, they are told beside the usual wait."""
_SHOWN_AFTER = timedelta(days=7)
"""A timer that nobody ended is told for so long after its latest end, and then it was forgotten."""


class Curing(NamedTuple):
    """One thing that cures: a step on some models of a unit, or a timer. Local times."""

    what: str
    """The step, or the words of the timer."""
    army: str
    unit: str
    """Empty for a timer of no unit."""
    models: int
    """0 for a timer."""
    begun: datetime
    low: datetime
    """Dry from then on at the quickest."""
    usual: datetime
    high: datetime
    """Dry by then at the latest."""
    cure_id: int = 0
    """The timer; 0 = a step."""
    unit_id: int = 0
    model_ids: tuple[int, ...] = ()
    line_ids: tuple[int, ...] = ()
    """The lines that say the step was done; none where only marks say so."""
    is_own: bool = False
    """Whether the wait is the person's own."""


class OwnWaits(NamedTuple):
    """How long a thing really dried, as the person said each time."""

    what: str
    words: int
    """How often it was said."""
    low_hours: float
    median_hours: float
    high_hours: float
    usual: Wait | None
    """The trade's; None = there is none."""
    set_hours: float | None = None
    """The wait that the person set for the step."""


class CuringAnswer(NamedTuple):
    """What cures, first ready first; and the person's own waits."""

    now: datetime
    curing: tuple[Curing, ...]
    own: tuple[OwnWaits, ...] = ()


def curing_answer(records: Records, now: datetime) -> CuringAnswer:
    """All that cures at a moment, as the log knows it then."""
    return CuringAnswer(now, curing_of(records, progress_of(records), now), own_waits(records))


def curing_of(
    records: Records, progress: Progress, now: datetime, late: timedelta = timedelta(0)
) -> tuple[Curing, ...]:
    """Steps until the latest end of their wait and timers until they are ended, by their usual end.

    With `late` steps are told for so long after that end: a person may say that one took longer.
    """
    found = [*_timers(records, now), *_steps(records, progress, now, late)]
    return tuple(sorted(found, key=lambda one: (one.usual, one.unit, one.what, one.cure_id)))


def not_told(curing: Iterable[Curing], drying: Sequence[ReadyLine], now: datetime) -> tuple[Curing, ...]:
    """What cures and does not hold up one of the steps that wait: timers, and last steps until the usual."""
    waiting = {model for line in drying for model in line.model_ids}
    return tuple(
        one
        for one in curing
        if (one.high + timedelta(days=1) > now if one.cure_id else one.usual > now)
        and (one.cure_id or not waiting.issuperset(one.model_ids))
    )


def range_of(step: str, own_hours: float | None) -> Wait:
    """A step's wait as a range; one that the person set is no range."""
    if own_hours is not None:
        return Wait(own_hours, own_hours, own_hours)
    known = find_step(step)
    return known.wait if known else Wait(0.0, 0.0, 0.0)


def _timers(records: Records, now: datetime) -> Iterator[Curing]:
    units = {unit.id: unit for unit in records.units}
    armies = {army.id: army.name for army in records.armies}
    for cure in records.cures:
        low, usual, high = ends(cure)
        if cure.ended_at is None and now < high + _SHOWN_AFTER:
            unit = units.get(cure.unit_id or 0)
            yield Curing(
                cure.what, armies[unit.army_id] if unit else "", unit.name if unit else "", 0,
                cure.begun_at, low, usual, high, cure.id, unit.id if unit else 0,
            )  # fmt: skip


def ends(cure: Cure) -> tuple[datetime, datetime, datetime]:
    """When a timer is over: at the quickest, usually, at the latest."""
    low, usual, high = (
        later(cure.begun_at, hours) for hours in (cure.low_hours, cure.usual_hours, cure.high_hours)
    )
    return low, usual, high


def _steps(records: Records, progress: Progress, now: datetime, late: timedelta) -> Iterator[Curing]:
    armies = {army.id: army.name for army in records.armies}
    units = {unit.id: unit for unit in records.units}
    for (unit_id, step, day), drying in _drying(records, units, progress, now - late).items():
        unit, begun = units[unit_id], datetime.combine(day, EVENING_ENDS)
        wait = range_of(step, progress.own_waits.get(step))
        low, usual, high = (begun + timedelta(hours=hours) for hours in wait)
        yield Curing(
            step, armies[unit.army_id], unit.name, len(drying), begun, low, usual, high,
            unit_id=unit_id, model_ids=tuple(drying), line_ids=_lines_of(records, unit, step, day, drying),
            is_own=step in progress.own_waits,
        )  # fmt: skip


def _drying(
    records: Records, units: Mapping[int, Unit], progress: Progress, now: datetime
) -> dict[tuple[int, str, date], list[int]]:
    """Models by unit, step and day whose wait may still run, and on which nothing was done since."""
    unit_of = {m.id: m.unit_id for m in records.models if m.unit_id is not None and m.left_on is None}
    longest = max([*(step.wait.high_hours for step in CATALOGUE.values()), *progress.own_waits.values()])
    # Few cells of a long log are of these days; only they are looked at closely.
    earliest = now.date() - timedelta(days=ceil(longest / 24) + 1)
    out: dict[tuple[int, str, date], list[int]] = {}
    followers: dict[int, dict[str, list[str]]] = {}
    for (model, step), cell in progress.cells.items():
        if cell.on < earliest or cell.state != "done" or model not in unit_of:
            continue
        hours = range_of(step, progress.own_waits.get(step)).high_hours
        over = cell.dry_at or datetime.combine(cell.on, EVENING_ENDS) + timedelta(hours=hours)
        unit = units[unit_of[model]]
        if not hours or now >= over or step not in unit.route:
            continue
        if unit.id not in followers:
            followers[unit.id] = _followers(unit)
        after = followers[unit.id].get(step, ())
        if not any(progress.is_done(model, s) or progress.in_hand(model, s) for s in after):
            out.setdefault((unit.id, step, cell.on), []).append(model)
    return out


def _followers(unit: Unit) -> dict[str, list[str]]:
    """For each step of a route, the steps that wait for it."""
    out: dict[str, list[str]] = {}
    for step, before in comes_before(unit.route).items():
        for one in before:
            out.setdefault(one, []).append(step)
    return out


def _lines_of(records: Records, unit: Unit, step: str, day: date, models: Sequence[int]) -> tuple[int, ...]:
    evenings = {session.id for session in records.sessions if session.date == day}
    wanted = set(models)
    return tuple(
        line.id
        for line in records.lines
        if line.session_id in evenings and (line.unit_id, line.step) == (unit.id, step)
        if line.finished and not wanted.isdisjoint(line.model_ids)
    )


def own_waits(records: Records) -> tuple[OwnWaits, ...]:
    """How long things dried by the person's own words, where there are enough of them.

    A step's wait counts from the end of its evening: its start and minutes where both were said, else
    ten at night, as for every wait. Median and the two ends of what was said; hours.
    """
    said: dict[str, list[float]] = {}
    evenings = {session.id: session for session in records.sessions}
    lines = {line.id: line for line in records.lines} if records.dried else {}
    for word in records.dried:
        line = lines.get(word.line_id)
        if line is not None:
            said.setdefault(line.step, []).append(_hours(_end_of(evenings[line.session_id]), word.dry_at))
    for cure in records.cures:
        if cure.ended_at is not None and (name := cure_word(cure.what)):
            said.setdefault(name, []).append(_hours(cure.begun_at, cure.ended_at))
    set_by_hand = {step.name: step.wait_hours for step in records.steps}
    return tuple(
        OwnWaits(
            what, len(hours), min(hours), median(hours), max(hours), usual_cure(what), set_by_hand.get(what)
        )
        for what, hours in said.items()
        if len(hours) >= WORDS_LEAST
    )


def _hours(begun: datetime, ended: datetime) -> float:
    return max(hours_between(begun, ended), 0.0)


def _end_of(evening: Session) -> datetime:
    if not evening.start or evening.minutes is None:
        return datetime.combine(evening.date, EVENING_ENDS)
    hours, minutes = (int(part) for part in evening.start.split(":"))
    return datetime.combine(evening.date, time()) + timedelta(hours=hours, minutes=minutes + evening.minutes)
