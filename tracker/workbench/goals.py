"""The verbs of goals: set one, change it, give it up; how they stand, what to cut, what to pick."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from math import isfinite
from typing import Any, NamedTuple

from tracker.domain.answers_goals import CutsAnswer, GoalsAnswer, PickAnswer
from tracker.domain.goals import goals_of
from tracker.domain.problems import DataError, Problem, did_you_mean
from tracker.domain.records import Goal, Records
from tracker.domain.text import same_name, tidy
from tracker.store.goals import all_goals, delete_goal, find_goal, insert_goal, update_goal
from tracker.store.journal import Store
from tracker.workbench.answers import DRAWS, SEED, learn_pace
from tracker.workbench.desk import Desk
from tracker.workbench.naming import good_name, shown, the_unit
from tracker.workbench.units_plan import Changed
from tracker.workbench.words import day_words

AHEAD_MOST_DAYS = 3660
_CUT_DRAWS = 500
_COUNT_MOST = 1_000_000


class GoalWish(NamedTuple):
    """What a goal asks for, as it was said; None = not said."""

    day: date | None = None
    units: tuple[str, ...] | None = None
    models: int | None = None
    points: float | None = None
    least_models: int | None = None
    name: str | None = None


def add_goal(desk: Desk, name: str, wish: GoalWish) -> Changed:
    """Set a goal: a day, and units, a number of models or points that must be table-ready by then."""
    called = good_name("the name", name)
    if wish.day is None:
        raise DataError(Problem("the day", "the goal has none", "Write it as 2027-03-13"))
    with desk.open() as store, store.change("goal") as change:
        _free(store, called)
        goal = _checked(store, Goal(0, called, wish.day, said_on=desk.evening_day()), wish, desk)
        insert_goal(store, goal)
        done = Changed(f'goal "{goal.name}": {_asks(store, goal)} by {day_words(goal.date, desk.today())}')
        change.words = done.words()
    return done


def change_goal(desk: Desk, name: str, wish: GoalWish) -> Changed:
    """Another day, name or size of a goal; what is not said stays."""
    with desk.open() as store, store.change("goal") as change:
        goal = _the_goal(store, name)
        if wish.name is not None and not same_name(wish.name, goal.name):
            _free(store, good_name("--name", wish.name))
        called = goal.name if wish.name is None else good_name("--name", wish.name)
        goal = _checked(store, goal._replace(name=called), wish, desk)
        update_goal(store, goal)
        done = Changed(f'goal "{goal.name}": {_asks(store, goal)} by {day_words(goal.date, desk.today())}')
        change.words = done.words()
    return done


def drop_goal(desk: Desk, name: str) -> Changed:
    """Give a goal up; the units and their plans stay."""
    with desk.open() as store, store.change("goal") as change:
        goal = _the_goal(store, name)
        delete_goal(store, goal.id)
        done = Changed(f'no longer the goal "{goal.name}"')
        change.words = done.words()
    return done


def goals(desk: Desk, as_of: date | None = None, *, seed: int = SEED, draws: int = DRAWS) -> GoalsAnswer:
    """Every goal, those of units too, with its chance, its days and the last day to begin."""
    from tracker.forecast.goals import goals_answer

    day = as_of or desk.evening_day()
    known = desk.records().as_of(day)
    answer = goals_answer(known, learn_pace(desk, known), day, seed=seed, draws=draws)
    return answer._replace(doubts=_pace_doubts(desk, known) + answer.doubts)


def cuts(
    desk: Desk, name: str, as_of: date | None = None, *, seed: int = SEED, draws: int = _CUT_DRAWS
) -> CutsAnswer:
    """What could be left undone so that a goal is kept 8 times in 10; nothing is stored."""
    from tracker.forecast.cuts import least_cuts

    day = as_of or desk.evening_day()
    known = desk.records().as_of(day)
    goal = _goal_named(known, name)
    if goal.date < day:
        raise DataError(
            Problem("the goal", f"its day, {goal.date.isoformat()}, is past", "Give it a new day, or drop it")
        )
    answer = least_cuts(known, learn_pace(desk, known), day, goal, seed=seed, draws=draws)
    return answer._replace(doubts=_pace_doubts(desk, known) + answer.doubts)


def pick(
    desk: Desk, said: date | str, as_of: date | None = None, *, seed: int = SEED, draws: int = DRAWS
) -> PickAnswer:
    """The units worth most points that can be ready by a day; nothing is stored.

    A goal's name stands for its day, and for the units it names.
    """
    from tracker.forecast.pick import pick_answer

    today = as_of or desk.evening_day()
    known = desk.records().as_of(today)
    goal = _goal_named(known, said) if isinstance(said, str) else Goal(0, "", said)
    _in_reach(goal.date, today)
    pace = learn_pace(desk, known)
    answer = pick_answer(known, pace, today, goal.date, among=goal.unit_ids, seed=seed, draws=draws)
    return answer._replace(doubts=_pace_doubts(desk, known) + answer.doubts)


def _pace_doubts(desk: Desk, known: Records) -> tuple[Any, ...]:
    from tracker.pace.doubts import MOVES_DATES, pace_doubts

    doubts = pace_doubts(known, learn_pace(desk, known))
    return tuple(doubt for doubt in doubts if doubt.code in MOVES_DATES)


def _checked(store: Store, goal: Goal, wish: GoalWish, desk: Desk) -> Goal:
    """The goal with what was said; a `DataError` for what cannot be."""
    if wish.day is not None:
        _in_reach(wish.day, desk.evening_day())
        goal = goal._replace(date=wish.day)
    if wish.units is not None:
        goal = goal._replace(unit_ids=_unit_ids(store, wish.units))
    if wish.models is not None and wish.points is not None:
        raise DataError(Problem("the goal", "it asks for models and for points", "Say one of them"))
    if wish.models is not None:
        goal = goal._replace(models=int(_count("--models", wish.models)), points=None)
    if wish.points is not None:
        goal = goal._replace(points=_count("--points", wish.points), models=None)
    if wish.least_models is not None:
        goal = goal._replace(least_models=int(_count("--least-models", wish.least_models)))
    return goal


def _unit_ids(store: Store, said: Sequence[str]) -> tuple[int, ...]:
    """Units by name; "Host: Spears" says the army too, where two have a unit of that name."""
    return tuple(dict.fromkeys(_one_unit(store, name) for name in said))


def _one_unit(store: Store, said: str) -> int:
    army, colon, unit = said.partition(":")
    try:
        return the_unit(store, said).id
    except DataError:
        if not colon:
            raise
    return the_unit(store, tidy(unit), tidy(army)).id


def _count(where: str, said: float) -> float:
    if isfinite(said) and 0 < said <= _COUNT_MOST:
        return said
    raise DataError(Problem(where, f"{said:g} cannot be", f"Say more than 0 and at most {_COUNT_MOST:,}"))


def _in_reach(day: date, today: date) -> None:
    if day < today:
        raise DataError(Problem("the day", f"{day.isoformat()} is past", "Say a day to come"))
    if (day - today).days > AHEAD_MOST_DAYS:
        raise DataError(Problem("the day", f"{day.isoformat()} is too far off", "Check the year"))


def _free(store: Store, name: str) -> None:
    if find_goal(store, name) is not None:
        what = f"there is a goal {shown(name)} already"
        raise DataError(Problem("the name", what, "Use another name, or drop that one"))


def _the_goal(store: Store, name: str) -> Goal:
    """A goal that was set by itself; the goal dates of units are changed with the unit."""
    number, there = find_goal(store, name), all_goals(store)
    found = next((goal for goal in there if goal.id == number), None)
    if found is not None:
        return found
    mend = did_you_mean(name, [goal.name for goal in there], "See lastcoat goal show")
    raise DataError(Problem("the goal", f"there is no goal {shown(name)}", mend))


def _goal_named(known: Records, name: str) -> Goal:
    """A goal by its name or, for a unit's own goal date, by that unit's name."""
    names = {unit.id: unit.name for unit in known.units}
    there = goals_of(known)
    for goal in there:
        if same_name(goal.name, name):
            return goal
    for goal in there:
        if goal.id == 0 and any(same_name(names.get(unit, ""), name) for unit in goal.unit_ids):
            return goal
    mend = did_you_mean(name, [goal.name for goal in there], "Set one: lastcoat goal add")
    raise DataError(Problem("the goal", f"there is no goal {shown(name)}", mend))


def _asks(store: Store, goal: Goal) -> str:
    """What must be table-ready, in words."""
    from tracker.store.units import all_unit_names

    by_id = {number: unit for number, _, unit in all_unit_names(store)}
    names = ", ".join(by_id[number] for number in goal.unit_ids if number in by_id)
    if goal.models is not None:
        what = f"{goal.models:,} models table-ready"
    elif goal.points is not None:
        what = f"{goal.points:,g} points table-ready"
    else:
        return f"{names or 'every unit'} table-ready"
    return what + (f" of {names}" if names else "")
