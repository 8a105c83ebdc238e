"""The outlook of every unit and army: minutes left, ready dates, the chance by a goal date."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date, timedelta
from typing import Any, NamedTuple, Protocol

import numpy as np
from numpy.typing import NDArray

from tracker.domain.answers import LEVELS, Dates, ForecastAnswer, Outlook, PlannedLine
from tracker.domain.progress import Progress, finish_steps, progress_of
from tracker.domain.records import Records
from tracker.domain.work import UnitWork, WorkLine, work_left
from tracker.forecast.declared import intent_of
from tracker.forecast.doubts import date_doubts
from tracker.forecast.evenings import evenings_of
from tracker.forecast.futures import HORIZON_DAYS, simulate_minutes
from tracker.forecast.rhythm import Rhythm, fit_rhythm
from tracker.forecast.simulate import Calendar, is_gated, simulate_ready_days, tasks_of
from tracker.forecast.waiting import days_of_waiting, sprayable_days, sprayable_share
from tracker.pace.priors import unit_guess_log

DRAWS = 2000


class Pace(Protocol):
    """Whoever can say how many minutes planned lines still take."""

    def draw(
        self, lines: Sequence[PlannedLine], rng: np.random.Generator, n: int
    ) -> NDArray[np.floating[Any]]:
        """Joint draws of minutes still to come, shape (n, lines)."""
        ...


Evenings = Callable[[Rhythm, np.random.Generator, int, int], NDArray[np.float32]]
"""(rhythm, luck, paths, days) -> minutes per day, shape (paths, days)."""


class Futures(NamedTuple):
    """All that was simulated, path by path; the first axis is always the path."""

    progress: Progress
    work: tuple[UnitWork, ...]
    """Units that have models, in the order they are worked."""
    rhythm: Rhythm
    calendar: Calendar
    minutes: NDArray[np.float32]
    """Minutes left per unit, shape (paths, units)."""
    ready_days: NDArray[np.int32]
    """Day number per unit, shape (paths, units); 0 = `rhythm.start`."""


def forecast(
    records: Records,
    pace: Pace,
    as_of: date,
    seed: int = 1,
    draws: int = DRAWS,
) -> ForecastAnswer:
    """When every unit and every army is table-ready, as known on the evening of `as_of`.

    Ready dates are order statistics of the simulated paths: the q % date is the first by which at
    least q % of the paths are ready; None = beyond two years. A finished unit is ready on the day of
    its last step and needs no minutes. An army is ready when its last unit is. The same records,
    date, seed and draws give the same answer.
    """
    known = records.as_of(as_of)
    futures = simulate(known, pace, as_of, seed, draws)
    units, armies = outlooks(futures, known)
    beyond = any(outlook.ready[len(LEVELS) // 2] is None for outlook in units)
    doubts = date_doubts(evenings_of(known), as_of, working=_is_work_left(futures), beyond=beyond)
    return ForecastAnswer(as_of, units, armies, doubts, seed, draws)


def outlooks(futures: Futures, known: Records) -> tuple[tuple[Outlook, ...], tuple[Outlook, ...]]:
    """(units, armies): the outlook of every unit in the order it is worked, and of every army."""
    units = tuple(_unit_outlook(place, futures, known) for place in range(len(futures.work)))
    return units, _army_outlooks(units, futures, known)


def simulate(
    known: Records,
    pace: Pace,
    as_of: date,
    seed: int = 1,
    draws: int = DRAWS,
    *,
    evenings: Evenings = simulate_minutes,
) -> Futures:
    """Simulated futures of everything there is to do; `known` holds nothing later than `as_of`.

    Evenings, minutes of work and the weather have their own random streams, so that another plan of
    work meets the same evenings. `evenings` turns the rhythm into coming days where they are wished
    otherwise. What was declared of evenings to come is in `known`.
    """
    progress = progress_of(known)
    evenings_rng, work_rng, _, _, weather_rng = np.random.default_rng(seed).spawn(5)
    work = tuple(unit for unit in work_left(known, progress) if unit.models)
    rhythm = rhythm_of(known, progress, work, as_of)
    minutes_a_day = evenings(rhythm, evenings_rng, draws, HORIZON_DAYS)
    sprayable = None
    if any(is_gated(line.step) for unit in work for line in unit.lines):
        sprayable = sprayable_days(sprayable_share(known), weather_rng, draws, HORIZON_DAYS)
    calendar = Calendar(minutes_a_day, sprayable)
    lines = [line for unit in work for line in to_planned(unit, known)]
    drawn = np.zeros((draws, 0), dtype=np.float32)
    if lines:
        drawn = np.asarray(pace.draw(lines, work_rng, draws), dtype=np.float32, order="F")
    ends = np.cumsum([len(unit.lines) for unit in work])
    parts = np.split(drawn, ends[:-1], axis=1) if work else []
    tasks = [tasks_of(unit, progress.own_waits, rhythm.start) for unit in work]
    minutes = np.zeros((draws, len(work)), dtype=np.float32)
    for place, part in enumerate(parts):
        minutes[:, place] = part.sum(axis=1)
    return Futures(progress, work, rhythm, calendar, minutes, simulate_ready_days(tasks, parts, calendar))


def rhythm_of(known: Records, progress: Progress, work: tuple[UnitWork, ...], as_of: date) -> Rhythm:
    """The rhythm from all that is known: the evenings held, those declared, and idle ones while it dried."""
    held = evenings_of(known)
    intent = intent_of(known.declared, held, as_of)
    idle = days_of_waiting(known, progress, work, held, as_of)
    return fit_rhythm(
        held, as_of, away=intent.away | idle, plan=intent.plan, once=intent.once, kept_share=intent.kept_share
    )


def to_planned(unit_work: UnitWork, records: Records) -> list[PlannedLine]:
    """The unit's lines of work as the pace is asked about them."""
    unit = unit_work.unit
    army = next((army.name for army in records.armies if army.id == unit.army_id), "")
    guess = None
    if unit.guess_minutes:
        guess = unit_guess_log(unit, sum(model.unit_id == unit.id for model in records.models))
    pays = _pays_set_up(unit_work.lines)
    return [
        PlannedLine(
            army,
            unit.name,
            line.step,
            line.models,
            kind=line.kind,
            material=unit.material,
            standard=unit.standard,
            done_before=0 if unit.open_ended else line.done_before,
            spent_minutes=line.spent_minutes,
            unit_guess_log=guess,
            is_set_up=number not in pays,
        )
        for number, line in enumerate(unit_work.lines)
    ]


def _pays_set_up(lines: Sequence[WorkLine]) -> set[int]:
    """Per step the line with the most models: the other kinds of the unit are done in the same go."""
    most: dict[str, int] = {}
    for number, line in enumerate(lines):
        if line.step not in most or line.models > lines[most[line.step]].models:
            most[line.step] = number
    return set(most.values())


def date_quantiles(days: NDArray[np.int32], start: date, horizon_days: int) -> Dates:
    """Dates at LEVELS of day numbers, shape (paths,); None for `horizon_days` and beyond.

    The order statistic ceil(q n), so that a date is one by which q % of the paths were ready.
    """
    ordered = np.sort(days)
    places = [-(-level * len(ordered) // 100) - 1 for level in LEVELS]
    found = [int(ordered[place]) for place in places]
    return tuple(start + timedelta(days=day) if day < horizon_days else None for day in found)


def minute_quantiles(minutes: NDArray[np.float32]) -> tuple[float, ...]:
    """Minutes at LEVELS of draws, shape (paths,)."""
    # One sort and a line between neighbours, as np.quantile has it, in a tenth of its time.
    ordered = np.sort(minutes).astype(np.float64)
    at = np.array(LEVELS) / 100 * (len(ordered) - 1)
    return tuple(float(q) for q in np.interp(at, np.arange(len(ordered)), ordered))


def _is_work_left(futures: Futures) -> bool:
    return any(unit.lines for unit in futures.work)


def _chance(days: NDArray[np.int32], goal: date | None, start: date, horizon_days: int) -> float | None:
    """Share of paths ready on or before the goal date."""
    if goal is None:
        return None
    ready = (days <= (goal - start).days) & (days < horizon_days)
    return float(ready.mean())


def _unit_outlook(place: int, futures: Futures, known: Records) -> Outlook:
    work = futures.work[place]
    unit = work.unit
    army = next((army.name for army in known.armies if army.id == unit.army_id), "")
    if not work.lines:
        done = _finished_on(work, known, futures.progress)
        chance = None if unit.goal_date is None else float(done <= unit.goal_date)
        return _finished(
            Outlook(army, unit.name, work.models, work.models_ready, (), (), unit.goal_date, chance), done
        )
    days = futures.ready_days[:, place]
    start, horizon = futures.rhythm.start, futures.calendar.days
    return Outlook(
        army,
        unit.name,
        work.models,
        work.models_ready,
        minute_quantiles(futures.minutes[:, place]),
        date_quantiles(days, start, horizon),
        unit.goal_date,
        _chance(days, unit.goal_date, start, horizon),
    )


def _finished(outlook: Outlook, on: date) -> Outlook:
    return outlook._replace(minutes_left=(0.0,) * len(LEVELS), ready=(on,) * len(LEVELS))


def _finished_on(work: UnitWork, known: Records, progress: Progress) -> date:
    """The day of the last step on any of its models; the day it came in when it needed none."""
    steps = finish_steps(work.unit)
    mine = [model for model in known.models if model.unit_id == work.unit.id and model.left_on is None]
    cells = [progress.cells.get((model.id, step)) for model in mine for step in steps]
    return max((cell.on for cell in cells if cell), default=work.unit.added_on)


def _army_outlooks(units: Sequence[Outlook], futures: Futures, known: Records) -> tuple[Outlook, ...]:
    """One outlook per army that has models, in the order the armies were stored."""
    out = []
    for army in known.armies:
        places = [i for i, work in enumerate(futures.work) if work.unit.army_id == army.id]
        if places:
            out.append(_army_outlook(army.name, places, units, futures))
    return tuple(out)


def _army_outlook(name: str, places: list[int], units: Sequence[Outlook], futures: Futures) -> Outlook:
    """An army has a goal date when all its units share one."""
    mine = [units[place] for place in places]
    goals = {outlook.goal_date for outlook in mine}
    goal = goals.pop() if len(goals) == 1 else None
    models, ready = sum(o.models for o in mine), sum(o.models_ready for o in mine)
    open_places = [place for place in places if futures.work[place].lines]
    blank = Outlook(name, "", models, ready, (), (), goal)
    if not open_places:
        last = max(day for outlook in mine for day in outlook.ready if day)
        return _finished(blank, last)._replace(chance_by_goal=None if goal is None else float(last <= goal))
    days = futures.ready_days[:, open_places].max(axis=1)
    start, horizon = futures.rhythm.start, futures.calendar.days
    return blank._replace(
        minutes_left=minute_quantiles(futures.minutes[:, open_places].sum(axis=1)),
        ready=date_quantiles(days, start, horizon),
        chance_by_goal=_chance(days, goal, start, horizon),
    )
