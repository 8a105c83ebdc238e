"""The day each unit is ready, on every simulated future.

Minutes are booked in the person's order. Let C(t) be the minutes put in by the end of day t and W_i
the minutes of all work that stands before line i in the order. When a line has to wait, the evening
goes to later work, so no minute is lost; what the line then needs comes out of later minutes. So a
line may begin when C passes W_i (all earlier work is paid for) and its own waits are over:

    begin_i = max(W_i, end of each line before it, C at the evening before its waits end)
    end_i   = begin_i + minutes_i;   its day F_i is the first with C(F_i) >= end_i
    waits end at F + ceil((hours + hours into that evening) / 24)     (waits below half an hour: none)

A line that needs dry weather ends on the first evening from F on that is fit for spraying.

At no moment more minutes are booked than were put in. Only so can more work, fewer evenings or a longer
wait never bring any date forward. It is not exact, in two ways:

- Late: a later unit is not credited with more than C - W while an earlier one dries, though at the desk
  it could run ahead. Its date is then at most the earlier unit's idle evenings late, and the error does
  not add up over units, since W counts minutes, not days.
- Early: an evening on which everything dries still counts in C, though nothing could be done on it, and
  pays for later lines: those whose waits end together may then share the same minutes of the evenings
  after. A date is by this at most the minutes of such evenings early: it matters where little is left
  and all of it dries, and not while another unit has something ready.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, datetime, timedelta
from math import ceil
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from tracker.domain.steps import find_step, wait_hours
from tracker.domain.work import UnitWork
from tracker.forecast.evenings import EVENING_STARTS
from tracker.forecast.waiting import WEATHER

_SHORTEST_WAIT_HOURS = 0.5
_SHORTEST_LINE_MINUTES = np.float32(0.125)
"""Work of no minutes at all would end on the evening before it may begin."""
_STRIDE = 32
_COUNT = np.uint8
"""Counts of 32nd days up to 255: horizons of 22 years."""
_NEVER = np.float32(1e9)
"""Minutes that no calendar reaches."""

Draws = NDArray[np.float32]
Days = NDArray[np.int32]


class Task(NamedTuple):
    """One line of work as the simulation sees it."""

    after: tuple[int, ...]
    """Places (in the same unit) of the lines before it."""
    wait_hours: float
    """Hours after it until what follows it may start."""
    earliest_day: int = 0
    """First day on which everything done already has dried."""
    gated: bool = False
    """Whether it ends only on an evening that is fit for spraying."""


class UnitTasks(NamedTuple):
    """The lines of one unit, in route order."""

    tasks: tuple[Task, ...]


def tasks_of(work: UnitWork, own_waits: Mapping[str, float], start: date) -> UnitTasks:
    """The unit's lines with what comes before each, the waits, and the earliest day from `start`."""
    places: dict[str, list[int]] = {}
    for place, line in enumerate(work.lines):
        places.setdefault(line.step, []).append(place)
    out = []
    for line in work.lines:
        steps_before = work.before.get(line.step, ())
        dry = [work.dry_at[step] for step in steps_before if step in work.dry_at]
        out.append(
            Task(
                tuple(place for step in steps_before for place in places.get(step, ())),
                wait_hours(line.step, own_waits.get(line.step)),
                max((_first_dry_day(moment, start) for moment in dry), default=0),
                is_gated(line.step),
            )
        )
    return UnitTasks(tuple(out))


def is_gated(step: str) -> bool:
    """Whether a step needs an evening that is fit for spraying."""
    found = find_step(step)
    return found is not None and found.gate == WEATHER


def _first_dry_day(dry_at: datetime, start: date) -> int:
    """The first day (0 = `start`) whose evening begins after that moment."""
    evening = datetime.combine(start, EVENING_STARTS)
    return max(ceil((dry_at - evening) / timedelta(days=1)), 0)


class Calendar:
    """Simulated minutes per day, ready to be asked on which day a minute falls.

    `minutes_per_day` has shape (paths, days). Day numbers answered lie in 0 … days; `days` itself
    means beyond the horizon. `sprayable`, of the same shape, says which days are fit for spraying;
    without it all are.
    """

    def __init__(self, minutes_per_day: Draws, sprayable: NDArray[np.bool_] | None = None) -> None:
        self.paths, self.days = minutes_per_day.shape
        # done[p, d] = minutes by the evening before day d, then minutes out of reach up to a power of
        # two, so that a search by halves needs no look at the edge.
        width = max(1 << self.days.bit_length(), 2 * _STRIDE)
        self._done = np.full((self.paths, width), _NEVER, dtype=np.float32)
        self._done[:, 0] = 0.0
        np.cumsum(minutes_per_day, axis=1, out=self._done[:, 1 : self.days + 1])
        self._flat = self._done.ravel()
        # Every 32nd day once more, a day's paths side by side: comparing them all is quicker than a search
        # that jumps about in memory.
        self._coarse = np.ascontiguousarray(self._done[:, ::_STRIDE].T)
        self._path = np.arange(self.paths, dtype=np.int64)
        self._row = self._path * width
        self._next_sprayable = None
        if sprayable is not None:
            self._next_sprayable = _next(sprayable & (minutes_per_day > 0)).ravel()

    @property
    def put_in(self) -> Draws:
        """Minutes put in by the end of each day, shape (paths, days)."""
        return self._done[:, 1 : self.days + 1]

    def before(self, day: Days) -> Draws:
        """Minutes put in before each path's day; beyond the horizon more than there ever are."""
        found = self._flat.take(self._row + np.minimum(day, self.days))
        return np.where(day < self.days, found, _NEVER)

    def sprayed(self, end: Draws) -> tuple[Draws, Days | None]:
        """When work that could end at `end` does end, if it needs a sprayable evening, and on which day.

        The day is none where it was not looked for because every evening is fit.
        """
        if self._next_sprayable is None:
            return end, None
        day = self.day_of(end)
        fit = self._next_sprayable.take(day * np.int64(self.paths) + self._path).astype(np.int32)
        moved = (fit > day).nonzero()[0]
        later = fit[moved]
        begun = self._flat.take(self._row[moved] + later)
        out = end.copy()
        out[moved] = np.where(later < self.days, begun + _SHORTEST_LINE_MINUTES, _NEVER)
        return out, fit

    def day_of(self, minute: Draws) -> Days:
        """The first day by the end of which each path has put in `minute` minutes (more than 0).

        The last 32nd day before it by counting, then a search by halves along each path, which is why no
        path is looped over.
        """
        below = np.add.reduce((self._coarse < minute).view(np.uint8), axis=0, dtype=_COUNT)
        place = self._row + (below.astype(np.int64) - 1) * _STRIDE
        _halve(self._flat, place, minute, _STRIDE)
        return np.asarray(np.minimum(place - self._row, self.days), dtype=np.int32)


def _next(good: NDArray[np.bool_]) -> NDArray[np.int16]:
    """The first good day on or after each day, shape (days + 1, paths); `days` where none comes."""
    paths, days = good.shape
    out = np.zeros((days + 1, paths), dtype=np.int16)
    np.multiply(np.ascontiguousarray(good.T), np.arange(-days, 0, dtype=np.int16)[:, None], out=out[:days])
    out += np.int16(days)
    for day in range(days - 1, -1, -1):  # all paths at once: quicker than along each path
        np.minimum(out[day], out[day + 1], out=out[day])
    return out


def _halve(table: Draws, place: NDArray[np.int64], minute: Draws, width: int) -> None:
    """Move each place to the last entry below `minute` of the `width` entries from it on."""
    trial = np.empty_like(place)
    half = width // 2
    while half:
        np.add(place, half, out=trial)
        np.multiply(table.take(trial) < minute, half, out=trial)
        place += trial
        half //= 2


def simulate_ready_days(
    units: Sequence[UnitTasks], minutes: Sequence[Draws], calendar: Calendar
) -> NDArray[np.int32]:
    """The day on which each unit is ready on each path, shape (paths, units).

    `units` in the order they are worked; `minutes` per unit, shape (paths, lines). A unit without
    lines is ready on day 0; `calendar.days` means beyond the horizon.
    """
    out = np.zeros((calendar.paths, len(units)), dtype=np.int32)
    booked = np.zeros(calendar.paths, dtype=np.float32)
    for place, (unit, drawn) in enumerate(zip(units, minutes, strict=True)):
        if unit.tasks:
            out[:, place], booked = _unit_ready(unit, drawn, booked, calendar)
    return out


def _unit_ready(unit: UnitTasks, drawn: Draws, booked: Draws, calendar: Calendar) -> tuple[Days, Draws]:
    """Day the unit is ready, and the minutes of all work up to and with it."""
    followed = {place for task in unit.tasks for place in task.after}
    ends: list[Draws] = []
    dry: dict[int, Draws] = {}
    for place, task in enumerate(unit.tasks):
        begin = booked
        if task.earliest_day:
            first = np.full(calendar.paths, task.earliest_day, dtype=np.int32)
            begin = np.maximum(begin, calendar.before(first))
        for earlier in task.after:
            begin = np.maximum(begin, dry[earlier])
        minutes = np.maximum(drawn[:, place], _SHORTEST_LINE_MINUTES)
        end, day = begin + minutes, None
        if task.gated:
            end, day = calendar.sprayed(end)
        ends.append(end)
        if place in followed:
            dry[place] = _dry_minute(end, task.wait_hours, calendar, day)
        booked = booked + minutes
    last = ends[0]
    for end in ends[1:]:
        last = np.maximum(last, end)
    return calendar.day_of(last), booked


def _dry_minute(end: Draws, hours: float, calendar: Calendar, day: Days | None) -> Draws:
    """The minute from which on the wait after a line that ends at minute `end`, on `day`, is over."""
    if hours < _SHORTEST_WAIT_HOURS:
        return end
    if day is None:
        day = calendar.day_of(end)
    into_evening = (end - calendar.before(day)) / 60
    days = np.ceil((hours + into_evening) / 24)
    later = np.where(day < calendar.days, day + days, calendar.days).astype(np.int32)
    return np.maximum(end, calendar.before(later))
