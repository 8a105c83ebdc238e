"""The track record of dates: past forecasts, made with only what was known then, against what came.

At the end of past months the dates of all units are forecast anew from the records of that evening. A
forecast made H days ago is judged when its 90 % date lies within those H days. That is known when it is
made: nothing is counted, or left out, for how it came out, and a unit that is still not ready by then is
a miss. Days beyond H are all counted as H + 1 (threshold-weighted score; Gneiting and Ranjan 2011, J. Bus.
Econ. Stat. 29:411-422). It is for information only: a person's past misses say next to nothing of the
next ones, so no range is ever corrected by them.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date, timedelta
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from tracker.domain.answers import LEVELS, Doubt
from tracker.domain.answers_dates import DateRival, DatesRecordAnswer
from tracker.domain.records import Records
from tracker.forecast.dates_outcomes import Closings, closed_after, closings_of
from tracker.forecast.dates_promises import BEYOND_DAYS, Promise, promises_of
from tracker.forecast.evenings import evenings_of, minutes_by_day
from tracker.forecast.futures import HORIZON_DAYS
from tracker.pace.blocks import blocks_of
from tracker.pace.fit import fit
from tracker.pace.pace import Pace
from tracker.pace.scores import binomial_limits, crps, held_range
from tracker.pace.track_record import recent_blocks

Floats = NDArray[np.float64]
DRAWS = 400
MONTHS_MOST = 24
FIRST_DAYS = 14
FEW_UNITS = 10
_LOW, _MIDDLE, _HIGH = (LEVELS.index(level) for level in (10, 50, 90))


class Trial(NamedTuple):
    """A promise that is judged."""

    promise: Promise
    limit: float
    """Days watched."""
    days: float
    """Days it took; `limit` + 1 = more than were watched."""


def dates_record(records: Records, as_of: date, seed: int = 1, draws: int = DRAWS) -> DatesRecordAnswer:
    """Replay the ends of the past months and judge what was promised.

    The pace is learned at each of them from the newest lines before it. The same records, date, seed and
    draws give the same answer. Too little history: no numbers, and a doubt that says so.
    """
    known = records.as_of(as_of)
    made = [promise for day in origins_of(known, as_of) for promise in replay(known, seed, draws)(day)]
    return judged(made, closings_of(known), as_of)._replace(seed=seed)


def origins_of(known: Records, as_of: date) -> list[date]:
    """Ends of months before `as_of`, from two weeks after the first evening on; at most 24, evenly spread.

    With less history no single date is named, so none is held against what came.
    """
    held = minutes_by_day(evenings_of(known))
    out: list[date] = []
    day = _month_end(min(held) + timedelta(days=FIRST_DAYS)) if held else as_of
    while day < as_of:
        out.append(day)
        day = _month_end(day + timedelta(days=1))
    if len(out) <= MONTHS_MOST:
        return out
    return [out[i] for i in np.linspace(0, len(out) - 1, MONTHS_MOST).astype(int).tolist()]


def _month_end(day: date) -> date:
    return (day.replace(day=28) + timedelta(days=4)).replace(day=1) - timedelta(days=1)


def replay(records: Records, seed: int, draws: int) -> Callable[[date], tuple[Promise, ...]]:
    """What would have been promised on the evening of a day, from what was known then."""

    def on(day: date) -> tuple[Promise, ...]:
        known = records.as_of(day)
        exact = blocks_of(known)
        pace: Pace = fit(recent_blocks(exact))
        return promises_of(known, pace, day, seed + day.toordinal(), draws)

    return on


def judged(made: Sequence[Promise], closings: Closings, as_of: date) -> DatesRecordAnswer:
    """The answer from promises and what became of the units by the evening of `as_of`."""
    trials: list[Trial] = []
    not_yet = withdrawn = 0
    for promise in made:
        limit = float(min((as_of - promise.made_on).days, HORIZON_DAYS))
        if min(promise.days[_HIGH], HORIZON_DAYS) > limit:
            not_yet += 1
            continue
        trial = _trial(promise, closings, limit)
        withdrawn += trial is None
        trials += [trial] if trial else []
    months = len({promise.made_on for promise in made})
    if not trials:
        text = "Too little history for a track record of dates: no forecast has had its time yet."
        return DatesRecordAnswer(
            as_of, months, not_yet=not_yet, withdrawn=withdrawn, doubts=(Doubt("little-history", text),)
        )
    return _answer(trials, as_of)._replace(months=months, not_yet=not_yet, withdrawn=withdrawn)


def _trial(promise: Promise, closings: Closings, limit: float) -> Trial | None:
    """None for a unit that left unfinished before its 90 % date: it was neither early nor late."""
    closing = closed_after(closings, promise.model_ids, promise.made_on)
    took = BEYOND_DAYS if closing is None else (closing.date - promise.made_on).days
    if closing is None or closing.finished:
        return Trial(promise, limit, min(float(took), limit + 1))
    if took <= promise.days[_HIGH]:
        return None
    watched = min(limit, took)
    return Trial(promise, watched, watched + 1)


def _answer(trials: Sequence[Trial], as_of: date) -> DatesRecordAnswer:
    took = np.array([trial.days for trial in trials])
    seen = np.array([trial.limit for trial in trials]) + 1
    # Beyond what was watched all days are one, for the forecast as for the outcome.
    said = np.minimum([trial.promise.days for trial in trials], seen[:, None])
    middle = said[:, _MIDDLE]
    units = len({trial.promise.unit_id for trial in trials})
    least, most = binomial_limits(units, 0.5)
    late = took > said[:, _HIGH]
    return DatesRecordAnswer(
        as_of,
        forecasts=len(trials),
        units=units,
        held=tuple(held_range(took, said, percent, units) for percent in (50, 80)),
        early=int((took < said[:, _LOW]).sum()),
        late=int(late.sum()),
        never=int((late & (took >= seen)).sum()),
        later_share=float(((took > middle) + 0.5 * (took == middle)).mean()),
        later_luck=(least / units, most / units),
        days_late=float(np.median(took - middle)),
        times=float(np.exp(np.median(np.log(took / middle)))),
        score=float(crps(np.log(took), np.log(said)).mean()),
        rivals=_rivals(trials, took, said, seen),
        doubts=_doubts(units),
    )


def _doubts(units: int) -> tuple[Doubt, ...]:
    if units >= FEW_UNITS:
        return ()
    who = "a single unit" if units == 1 else f"{units} units"
    return (Doubt("few-units", f"It rests on {who}, so luck has a large part in it."),)


def _rivals(trials: Sequence[Trial], took: Floats, said: Floats, seen: Floats) -> tuple[DateRival, ...]:
    """Single dates are forecasts without spread: their score is how far off they are, in log days."""
    score = crps(np.log(took), np.log(said))
    miss = np.abs(np.log(took / said[:, _MIDDLE]))
    steady = [trial.promise.constant_pace_days for trial in trials]
    hoped = [trial.promise.hoped_days for trial in trials]
    out = []
    for code, days in (("constant pace", steady), ("hoped for", hoped)):
        has = np.array([one is not None for one in days])
        if has.any():
            theirs = np.minimum([one or 1.0 for one in days], seen)
            missed = np.abs(np.log(took / theirs))
            out.append(
                DateRival(
                    "constant pace" if code == "constant pace" else "hoped for",
                    int(has.sum()), float(score[has].mean()), float(missed[has].mean()),
                    int((missed < miss)[has].sum()), float(np.median((took - theirs)[has])),
                )
            )  # fmt: skip
    return tuple(out)
