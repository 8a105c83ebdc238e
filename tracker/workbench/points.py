"""The verbs of points: set or drop the target of a list; what it is worth, and when it is reached."""

from __future__ import annotations

import os
from datetime import date
from math import isfinite
from typing import TYPE_CHECKING

from tracker.domain.answers_points import ArmyPoints, PointsAnswer
from tracker.domain.goals import goals_of
from tracker.domain.list_points import points_of, with_target
from tracker.domain.problems import DataError, Problem, UsageError, did_you_mean
from tracker.domain.progress import progress_of
from tracker.domain.records import Records
from tracker.domain.sources import ListTarget
from tracker.store.book import change as put_record
from tracker.store.book import drop, every, keep
from tracker.store.journal import Store
from tracker.store.read import records
from tracker.store.units import find_army
from tracker.workbench.answers import DRAWS, SEED, learn_pace
from tracker.workbench.desk import Desk
from tracker.workbench.naming import shown
from tracker.workbench.sources_answers import army_named
from tracker.workbench.units_plan import Changed

if TYPE_CHECKING:
    from tracker.pace.pace import Pace

POINTS_MOST = 1_000_000


def set_target(desk: Desk, points: float, army: str | None = None) -> Changed:
    """So many points the list of an army is meant to have."""
    if not (isfinite(points) and 0 < points <= POINTS_MOST):
        mend = f"Say more than 0 and at most {POINTS_MOST:,}"
        raise DataError(Problem("--target", f"{points:g} points cannot be", mend))
    with desk.open() as store, store.change("points") as change:
        number, name = _the_army(store, army)
        before = _target_of(store, number)
        if before is None:
            keep(store, ListTarget(0, number, points))
        else:
            put_record(store, before._replace(points=points))
        done = Changed(f"the list of {name} is meant to have {points:,.12g} points")
        change.words = done.words()
    return done


def drop_target(desk: Desk, army: str | None = None) -> Changed:
    """The list of an army has no target any more; the points of its units stay."""
    with desk.open() as store, store.change("points") as change:
        number, name = _the_army(store, army)
        before = _target_of(store, number)
        if before is None:
            mend = "Set one: lastcoat points --target 1000"
            raise DataError(Problem("--drop-target", f"the list of {name} has no target", mend))
        drop(store, before)
        done = Changed(f"no target for the list of {name} any more")
        change.words = done.words()
    return done


def points(
    desk: Desk, army: str | None = None, as_of: date | None = None, *, seed: int = SEED, draws: int = DRAWS
) -> PointsAnswer:
    """Every army's list (or one): planned, built, table-ready, and when its target is reached.

    Only where a target is open is anything simulated.
    """
    day = as_of or desk.evening_day()
    known, targets = _kept(desk, day)
    name = "" if army is None else army_named(known, army)
    progress = progress_of(known)
    lists = tuple(
        with_target(points_of(known, progress, one), targets.get(one.id))
        for one in known.armies
        if not name or one.name == name
    )
    if any(one.state == "open" for one in lists):
        return _dated(desk, known, PointsAnswer(day, lists, (), seed, draws))
    return PointsAnswer(day, lists, (), seed, draws)


def _dated(desk: Desk, known: Records, answer: PointsAnswer) -> PointsAnswer:
    """The answer with the days of its open targets, and what to pick for the next goal's day."""
    from tracker.forecast.points import dated
    from tracker.pace.doubts import MOVES_DATES, pace_doubts

    pace = learn_pace(desk, known)
    told = dated(known, pace, answer.as_of, answer.armies, seed=answer.seed, draws=answer.draws)
    about_minutes = tuple(doubt for doubt in pace_doubts(known, pace) if doubt.code in MOVES_DATES)
    armies = tuple(_by_goal(known, pace, one, told) for one in told.armies)
    return told._replace(armies=armies, doubts=about_minutes + told.doubts)


def _by_goal(known: Records, pace: Pace, one: ArmyPoints, told: PointsAnswer) -> ArmyPoints:
    """The units worth most points by the day of the next goal that asks for units of this army."""
    from tracker.forecast.pick import pick_answer

    army = next(army.id for army in known.armies if army.name == one.army)
    units = {unit.id for unit in known.units if unit.army_id == army}
    ahead = [
        goal
        for goal in goals_of(known)
        if goal.date >= told.as_of and (not goal.unit_ids or units.intersection(goal.unit_ids))
    ]
    if one.state != "open" or not ahead:
        return one
    goal = ahead[0]
    found = pick_answer(known, pace, told.as_of, goal.date, among=units, seed=told.seed, draws=told.draws)
    return one._replace(by_goal=(goal.name, found))


def _kept(desk: Desk, day: date) -> tuple[Records, dict[int, float]]:
    if not os.path.lexists(desk.path):
        return Records(), {}
    with desk.open() as store, store.snapshot():
        found: tuple[ListTarget, ...] = every(store, ListTarget)
        return records(store).as_of(day), {one.army_id: one.points for one in found}


def _target_of(store: Store, army_id: int) -> ListTarget | None:
    found: tuple[ListTarget, ...] = every(store, ListTarget, army_id=army_id)
    return found[0] if found else None


def _the_army(store: Store, said: str | None) -> tuple[int, str]:
    """(id, name) of the army that was said, or of the only one."""
    names = {int(number): str(name) for number, name in store.rows("SELECT id, name FROM army ORDER BY id")}
    if said is not None:
        number = find_army(store, said)
        if number is None:
            mend = did_you_mean(said, names.values(), "See: lastcoat army")
            raise DataError(Problem("--army", f"there is no army {shown(said)}", mend))
        return number, names[number]
    if not names:
        mend = "Put a unit on the desk first: lastcoat add"
        raise DataError(Problem("--army", "there is no army yet", mend))
    if len(names) > 1:
        several = " or ".join(map(shown, names.values()))
        raise UsageError(Problem("--army", "there is more than one army", f"Say --army {several}"))
    return next(iter(names.items()))
