"""The suggested order of units, place by place, with the reason of each, and what it would change.

Left of a unit are its expected minutes, not what the whole of it takes: so what is begun comes sooner.
It is worth its points; one without points counts with the others' mean points per model, and where none
has points models are counted. It is on the table when it is ready as a whole. Minutes that there are by
a goal date: the median, and the 20 % quantile, of what the simulated evenings put in by then. Units of
one army and standard that need the same batch steps (primer, varnish) share a set-up when they are done
one after the other.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from math import inf
from typing import Literal, NamedTuple

import numpy as np

from tracker.domain.answers_whatif import OrderAnswer, Placed, Reason
from tracker.domain.goals import goals_of
from tracker.domain.progress import finish_steps
from tracker.domain.records import Records
from tracker.domain.steps import find_step
from tracker.domain.wishes import InOrder
from tracker.domain.work import UnitWork
from tracker.forecast.order import Job, Order, SetUps, completions, cost_of, smith
from tracker.forecast.order_search import best_order, is_proved
from tracker.forecast.outlook import DRAWS, Futures, Pace, simulate

_BEGUN_SHARE = 0.3
"""From this share of its steps on a unit is called begun."""
_LEAST_SHARE = 0.1
"""At least this share of a unit's minutes is its own, however much of it is set-up."""
_BAD_LUCK = 0.2


class Bench(NamedTuple):
    """The open units as jobs, in the person's own order."""

    work: tuple[UnitWork, ...]
    minutes: tuple[float, ...]
    """Expected minutes left of each unit, set-ups and all."""
    jobs: tuple[Job, ...]
    set_ups: SetUps
    counted: Literal["points", "models"]
    goals: Mapping[int, date]
    """The day each unit is wanted by, by its id."""


def bench_of(known: Records, futures: Futures) -> Bench:
    """What is open, as jobs."""
    places = [i for i, work in enumerate(futures.work) if work.lines]
    work = tuple(futures.work[i] for i in places)
    minutes = tuple(float(futures.minutes[:, i].mean(dtype=np.float64)) for i in places)
    families = _families(work)
    set_ups = {name: set_up for name, set_up in families.values() if set_up}
    each = _points_a_model(work)
    goals = goal_dates(known)
    jobs = []
    for unit, left in zip(work, minutes, strict=True):
        family, set_up = families[unit.unit.id]
        points = unit.unit.points
        worth = float(unit.models) if each is None else unit.models * each if points is None else points
        own = max(left - set_up, _LEAST_SHARE * left)
        jobs.append(Job(own, worth, *_minutes_by(futures, goals.get(unit.unit.id)), family))
    return Bench(work, minutes, tuple(jobs), set_ups, "models" if each is None else "points", goals)


def goal_dates(known: Records) -> dict[int, date]:
    """The first day on which each unit (by id) is wanted whole; a number of models or points names none."""
    out: dict[int, date] = {}
    for goal in reversed(goals_of(known)):
        if goal.models is None and goal.points is None:
            units = goal.unit_ids or tuple(unit.id for unit in known.units)
            out |= dict.fromkeys(units, goal.date)
    return out


def _points_a_model(work: Sequence[UnitWork]) -> float | None:
    """Mean points per model of the units that have points; None = none has any."""
    said = [unit for unit in work if unit.unit.points]
    if not said:
        return None
    return sum(unit.unit.points or 0.0 for unit in said) / sum(unit.models for unit in said)


def _families(work: Sequence[UnitWork]) -> dict[int, tuple[str, float]]:
    """(family, its set-up minutes) of every unit; a unit that shares with none is its own, without any."""
    steps_of = {unit.unit.id: tuple(dict.fromkeys(filter(_is_batch_step, _steps(unit)))) for unit in work}
    key = {
        unit.unit.id: f"{unit.unit.army_id} {unit.unit.standard} {steps_of[unit.unit.id]}" for unit in work
    }
    out = {}
    for unit_id, name in key.items():
        shared = steps_of[unit_id] and list(key.values()).count(name) > 1
        minutes = sum(step.set_up_minutes for name in steps_of[unit_id] if (step := find_step(name)))
        out[unit_id] = (name, minutes) if shared else (f"alone {unit_id}", 0.0)
    return out


def _steps(unit: UnitWork) -> list[str]:
    return [line.step for line in unit.lines]


def _is_batch_step(name: str) -> bool:
    step = find_step(name)
    return step is not None and step.counting == "batch" and step.mostly_set_up


def _minutes_by(futures: Futures, goal: date | None) -> tuple[float, float]:
    """Minutes put in by a day: the median, and what 8 futures in 10 have at least."""
    day = -1 if goal is None else (goal - futures.rhythm.start).days
    if goal is None or day >= futures.calendar.days:
        return inf, inf
    if day < 0:
        return 0.0, 0.0
    put_in = futures.calendar.put_in[:, day]
    return float(np.quantile(put_in, 0.5)), float(np.quantile(put_in, _BAD_LUCK))


def order_answer(
    known: Records, pace: Pace, as_of: date, *, seed: int = 1, draws: int = DRAWS
) -> tuple[OrderAnswer, InOrder | None]:
    """The suggestion, and the wish that would make it so; None where it is the person's own order."""
    bench = bench_of(known, simulate(known, pace, as_of, seed, draws))
    own = tuple(range(len(bench.jobs)))
    order = best_order(bench.jobs, bench.set_ups, own)
    worth = sum(job.weight for job in bench.jobs) or 1.0
    own_wait, wait = (
        cost_of(one, bench.jobs, bench.set_ups).weighted_minutes / worth for one in (own, order)
    )
    exact = is_proved(bench.jobs, bench.set_ups)
    places = _places(known, bench, order)
    answer = OrderAnswer(as_of, bench.counted, places, own_wait, wait, exact, None)
    names = tuple((placed.unit, placed.army) for placed in places)
    return answer, None if order == own else InOrder(names)


def _places(known: Records, bench: Bench, order: Order) -> tuple[Placed, ...]:
    armies = {army.id: army.name for army in known.armies}
    reasons = _reasons(bench, order)
    out = []
    for at, i in enumerate(order):
        unit = bench.work[i].unit
        out.append(
            Placed(
                armies.get(unit.army_id, ""), unit.name, i + 1, bench.minutes[i], bench.jobs[i].weight,
                reasons[i], bench.goals.get(unit.id),
                bench.work[order[at - 1]].unit.name if reasons[i] == "set-up" else "",
                begun_share(bench.work[i]), unit.points is not None,
            )
        )  # fmt: skip
    return tuple(out)


def begun_share(work: UnitWork) -> float:
    """Share of the unit's steps, model by model, that is behind it."""
    whole = work.models * len(finish_steps(work.unit))
    return 1 - sum(line.models for line in work.lines) / whole if whole else 0.0


def _reasons(bench: Bench, order: Order) -> Mapping[int, Reason]:
    """Why each job stands where it stands: what would be lost if it stood where its worth alone puts it."""
    jobs = bench.jobs
    if len(jobs) == 1:
        return {order[0]: "only one"}
    by_worth = best_order([job._replace(due_minutes=inf, safe_minutes=inf) for job in jobs], bench.set_ups)
    else_ready = dict(zip(by_worth, completions(by_worth, jobs, bench.set_ups), strict=True))
    ready = dict(zip(order, completions(order, jobs, bench.set_ups), strict=True))
    plain = smith([job._replace(minutes=left) for job, left in zip(jobs, bench.minutes, strict=True)])
    out: dict[int, Reason] = {}
    for at, i in enumerate(order):
        before = order[at - 1] if at else None
        job = jobs[i]
        if ready[i] > job.due_minutes:
            alone = job.minutes + bench.set_ups.get(job.family, 0.0)
            out[i] = "out of reach" if alone > job.due_minutes else "gives way"
        elif else_ready[i] > job.due_minutes:
            out[i] = "goal"
        elif ready[i] <= job.safe_minutes < else_ready[i]:
            out[i] = "bad luck"
        elif before is not None and _shares(bench, before, i) and not _follows(plain, before, i):
            out[i] = "set-up"
        else:
            out[i] = "begun" if begun_share(bench.work[i]) >= _BEGUN_SHARE else "worth"
    return out


def _shares(bench: Bench, one: int, other: int) -> bool:
    family = bench.jobs[one].family
    return family == bench.jobs[other].family and bool(bench.set_ups.get(family))


def _follows(order: Order, one: int, other: int) -> bool:
    return order.index(other) == order.index(one) + 1
