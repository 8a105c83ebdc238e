"""The backlog over time and the day it is empty, if it ever is at this rate."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from tracker.domain.answers import LEVELS, BacklogAnswer, Dates, PlannedLine
from tracker.domain.progress import finish_steps
from tracker.domain.records import Records
from tracker.forecast.arrivals import learn_arrivals, lots_minutes
from tracker.forecast.backlog_end import Coming, changes, end_days
from tracker.forecast.course import backlog_course
from tracker.forecast.doubts import date_doubts
from tracker.forecast.evenings import evenings_of
from tracker.forecast.flows import flows_of
from tracker.forecast.futures import simulate_minutes
from tracker.forecast.outlook import (
    DRAWS,
    Evenings,
    Futures,
    Pace,
    date_quantiles,
    minute_quantiles,
    simulate,
)

_RATE_DRAWS = 400


class _Rates(NamedTuple):
    """Minutes per model of whole units, as if nothing were done yet."""

    by_step: dict[tuple[int, str], float]
    """Median minutes per model by (unit id, step)."""
    by_unit: dict[int, NDArray[np.float64]]
    """Draws of minutes per model for the whole route, by unit id."""


def backlog(records: Records, pace: Pace, as_of: date, seed: int = 1, draws: int = DRAWS) -> BacklogAnswer:
    """The backlog's course up to `as_of` and its projected end.

    Minutes of the course are median minutes per model and step times the models left, by the pace
    as known now. The end is the first simulated day on which the minutes put in cover everything that
    is there and everything that came in meanwhile, and on which what is there has dried. Arrivals
    follow the person's own rate of the last year (see `arrivals`). None, with the reason in words,
    when more comes in than leaves or the end lies beyond two years at every level; `change` then says
    what would let the middle of the end come within them (see `backlog_end`).
    """

    def play(evenings: Evenings = simulate_minutes) -> Futures:
        return simulate(known, pace, as_of, seed, draws, evenings=evenings)

    known = records.as_of(as_of)
    futures = play()
    rates = _rates(known, pace, np.random.default_rng(seed).spawn(3)[2])
    days = backlog_course(known, rates.by_step)
    doubts = date_doubts(evenings_of(known), as_of, working=any(unit.lines for unit in futures.work))
    arrivals = learn_arrivals(known, as_of)
    coming = Coming(arrivals, lots_minutes(arrivals.lots, rates.by_unit, _RATE_DRAWS), seed)
    end, reason = _projected_end(futures, coming, as_of)
    answer = BacklogAnswer(as_of, days, end, reason, doubts, seed, flows=flows_of(known, as_of))
    if not any(unit.lines for unit in futures.work):
        return answer
    return answer._replace(
        minutes_left=minute_quantiles(futures.minutes.sum(axis=1)),
        points_left=_points_left(futures),
        change=changes(futures, coming, play),
    )


def _points_left(futures: Futures) -> float | None:
    """Points of the units that are not ready; None where no points of theirs are known."""
    points = [work.unit.points for work in futures.work if work.lines and work.unit.points is not None]
    return sum(points) if points else None


def _rates(known: Records, pace: Pace, rng: np.random.Generator) -> _Rates:
    """One call of the pace for every step of every unit."""
    counts: dict[int, int] = {}
    for model in known.models:
        if model.unit_id is not None:
            counts[model.unit_id] = counts.get(model.unit_id, 0) + 1
    armies = {army.id: army.name for army in known.armies}
    keys, lines = [], []
    for unit in known.units:
        for step in finish_steps(unit) if counts.get(unit.id) else ():
            keys.append((unit.id, step))
            lines.append(
                PlannedLine(
                    armies.get(unit.army_id, ""),
                    unit.name,
                    step,
                    counts[unit.id],
                    kind=unit.kind,
                    material=unit.material,
                    standard=unit.standard,
                )
            )
    if not lines:
        return _Rates({}, {})
    drawn = np.asarray(pace.draw(lines, rng, _RATE_DRAWS), dtype=np.float64)
    drawn = drawn / np.array([line.models for line in lines])
    by_unit: dict[int, NDArray[np.float64]] = {}
    for place, (unit_id, _) in enumerate(keys):
        by_unit[unit_id] = by_unit.get(unit_id, 0.0) + drawn[:, place]
    medians = np.median(drawn, axis=0)
    return _Rates({key: float(m) for key, m in zip(keys, medians, strict=True)}, by_unit)


def _projected_end(futures: Futures, coming: Coming, as_of: date) -> tuple[Dates | None, str]:
    """Quantiles of the day the backlog is empty, or None and why."""
    if not any(unit.lines for unit in futures.work):
        return (as_of,) * len(LEVELS), "nothing is left to do"
    calendar = futures.calendar
    came = coming.minutes(calendar.paths, calendar.days)
    days = end_days(futures, came)
    end = date_quantiles(days, futures.rhythm.start, calendar.days)
    comes = float(came[:, -1].mean())
    leaves = float(calendar.put_in[:, -1].mean())
    if end[len(LEVELS) // 2] is None and comes >= leaves:
        return None, _does_not_shrink(
            coming.arrivals.models_a_week, coming.arrivals.models_a_week * leaves / comes
        )
    if end[0] is None:
        return None, "at this rate it is empty later than two years from now"
    return end, ""


def _does_not_shrink(models_in: float, models_out: float) -> str:
    """Said per week, or per month when a week is too short to count models in."""
    period, factor = ("week", 1.0) if models_out >= 1.5 else ("month", 365.25 / 12 / 7)
    coming, leaving = round(models_in * factor), round(models_out * factor)
    if coming == leaving:
        said = f"about {_models(coming)} in a {period} and about as many leave"
    else:
        leave = {0: "none leaves", 1: "1 leaves"}.get(leaving, f"{leaving} leave")
        said = f"about {_models(coming)} in a {period} and {leave}"
    return f"at this rate it does not shrink: {said}"


def _models(count: int) -> str:
    return "1 model comes" if count == 1 else f"{count} models come"
