"""What goes into the calendar file, in words: goals, the middles of ready dates, the ends of drying."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import UTC, date, datetime, timedelta
from hashlib import sha256
from typing import NamedTuple

from tracker.domain.answers import Outlook
from tracker.domain.answers_curing import Curing
from tracker.domain.ready import ReadyLine
from tracker.domain.records import Goal
from tracker.report.calendar_file import Entry
from tracker.report.goal_rows import goal_asks, goal_title
from tracker.report.plain import at_level, chance_words, clip, count_words, date_words, left_words

_NAME_COLUMNS_MOST = 60
_WAIT_CAUTION = "A usual wait; the label, the room and the weather decide."


def uid_of(thing: str, what: str) -> str:
    """The name of an entry: that of the thing in the log, and what is said of it."""
    return f"{thing}-{what}@lastcoat"


def shown(name: str) -> str:
    """A name that a calendar can bear."""
    return clip(name, _NAME_COLUMNS_MOST)


def ready_entries(outlooks: Iterable[tuple[str, Outlook]]) -> list[Entry]:
    """The middle of every unit's ready dates as a whole day, its range in the text.

    Each outlook comes with its unit's lasting name. What is table-ready, and what is as likely as not
    to lie beyond the horizon, is left out: there is no day to put it on.
    """
    entries = []
    for thing, outlook in outlooks:
        middle = at_level(outlook.ready, 50)
        if middle is None or outlook.models_ready >= outlook.models:
            continue
        name = shown(outlook.unit)
        entries.append(
            Entry(uid_of(thing, "ready"), f"{name} table-ready?", _ready_text(name, outlook, middle), middle)
        )
    return entries


def _ready_text(name: str, outlook: Outlook, middle: date) -> str:
    left = outlook.models - outlook.models_ready
    said = [
        f"{name}: as likely table-ready before {date_words(middle)} as after.",
        range_words(at_level(outlook.ready, 10), at_level(outlook.ready, 90)),
        f"{count_words(left, 'model')} to go, {left_words(outlook)} of work.",
    ]
    return "\n".join(said)


def range_words(first: date | None, last: date | None) -> str:
    """The range that holds 8 times in 10, with an open end where it lies beyond the horizon."""
    if first is None:
        return "8 times in 10 it lies too far ahead to name."
    if last is None:
        return f"8 times in 10 it is {date_words(first)} or later; the late end is too far ahead to name."
    return f"8 times in 10 between {date_words(first)} and {date_words(last)}."


def drying_entries(lines: Iterable[ReadyLine], uids: Mapping[int, str]) -> list[Entry]:
    """When what dries can be taken up again: moments, so that they hold in any time zone."""
    entries = {}
    for line in lines:
        if line.until is None or line.unit_id not in uids:
            continue
        dry_at = moment_of(line.until)
        told = f"{line.step}\n{line.kind}\n{dry_at.timestamp():.0f}"
        uid = uid_of(uids[line.unit_id], f"dry-{sha256(told.encode()).hexdigest()[:12]}")
        text = (
            f"{count_words(line.models, 'model')} can take {shown(line.step)} from then on.\n{_WAIT_CAUTION}"
        )
        entries[uid] = Entry(uid, f"{shown(line.unit)}: dry for {shown(line.step)}", text, dry_at)
    return list(entries.values())


def cure_entries(
    curing: Iterable[Curing], units: Mapping[int, str], timers: Mapping[int, str], now: datetime
) -> list[Entry]:
    """What cures and holds no step up, at its usual end, its range in the text.

    A timer goes by its own lasting name, a step by its unit's and the evening it was done.
    """
    entries = {}
    for one in curing:
        if one.cure_id:
            uid = uid_of(timers[one.cure_id], "cure") if one.cure_id in timers else ""
        else:
            told = f"{one.what}\n{one.begun.date().isoformat()}"
            uid = uid_of(units[one.unit_id], f"cure-{sha256(told.encode()).hexdigest()[:12]}")
        if not uid or one.high <= now:
            continue
        name = shown(one.what) + (f" ({shown(one.unit)})" if one.unit else "")
        text = f"Dry from {_local(one.low)} at the quickest, by {_local(one.high)} at the latest."
        entries[uid] = Entry(uid, f"{name}: usually dry", f"{text}\n{_WAIT_CAUTION}", moment_of(one.usual))
    return list(entries.values())


def _local(moment: datetime) -> str:
    return f"{moment:%H:%M} on {date_words(moment.date())}"


def moment_of(local: datetime) -> datetime:
    """The moment in UTC at which the wall's clock shows a time.

    Of a time that is struck twice it is the first one; a time that is left out counts from the offset
    before the gap (RFC 5545, 3.3.5).
    """
    moment = local.astimezone(UTC)
    if local.tzinfo is not None or moment.astimezone().replace(tzinfo=None) == local:
        return moment
    return max(moment, local.replace(fold=1).astimezone(UTC))


def day_after(day: date) -> date:
    """The end of a whole day, as RFC 5545 counts (3.6.1: DTEND is not part of it)."""
    return day + timedelta(days=1)


class UnitOfGoal(NamedTuple):
    """A unit that a goal asks for."""

    uid: str
    name: str


def goal_entries(
    goals: Iterable[tuple[Goal, float | None]],
    units: Mapping[int, UnitOfGoal],
    uids: Mapping[int, str],
    today: date,
) -> list[Entry]:
    """Goals that lie ahead as whole days, each with what must be ready and how likely it is.

    `uids` are the lasting names of goals that were set; the goal date of units goes by the first of
    the units.
    """
    entries = []
    for goal, chance in goals:
        mine = [units[number] for number in sorted(goal.unit_ids) if number in units]
        thing = uids.get(goal.id, "") if goal.id else (mine[0].uid if mine else "")
        if goal.date < today or not thing:
            continue
        names = [unit.name for unit in mine]
        said = [] if chance is None else [f"{_capital(chance_words(chance))} to be met."]
        text = "\n".join([f"To be table-ready: {goal_asks(goal, names)}.", *said])
        entries.append(Entry(uid_of(thing, "goal"), f"Goal: {goal_title(goal, names)}", text, goal.date))
    return entries


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
