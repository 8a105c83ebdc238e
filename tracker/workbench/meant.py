"""One line: what was read of it, what last time adds, and which models it would move on."""

from __future__ import annotations

from datetime import date

from tracker.domain.problems import DataError, Problem
from tracker.sheets.partly import Reading
from tracker.store.journal import Store
from tracker.store.units import route_of
from tracker.workbench.heard import Choice, UnderstoodLine, UnitChoice
from tracker.workbench.last_time import LastTime
from tracker.workbench.lines import Entry, how_many, unit_is_open_ended
from tracker.workbench.naming import KnownUnit, shown, the_step, the_unit
from tracker.workbench.saying import soap_or_shade


def line_of(
    store: Store, last: LastTime, typed: str, said: Reading, *, choice: Choice, today: date
) -> UnderstoodLine:
    """The line that would be stored, or with a problem what is known of it and what could be meant."""
    read = said.read
    near = [UnitChoice(unit.army, unit.unit) for unit in said.units]
    line = UnderstoodLine(
        typed, read.army, read.unit, read.step, read.day, today, read.models or 0, minutes=read.minutes,
        finished=read.finished, guess_minutes=read.guess_minutes, note=read.note, exact=bool(read.numbers),
        named=said.names, units=tuple(dict.fromkeys((*near, *last.choices()))),
    )  # fmt: skip
    if said.problem and not (choice.unit or choice.step):
        return line._replace(problem=said.problem)
    try:
        unit = _unit(store, last, said, choice)
        mine = UnitChoice(unit.army, unit.name)
        line = line._replace(
            army=unit.army, unit=unit.name, steps=route_of(store, unit.id),
            units=tuple(dict.fromkeys((mine, *line.units))),
        )  # fmt: skip
        line = line._replace(step=_step(store, last, unit, said, choice=choice, line=line))
        return _with_models(store, last, unit, said, _told(line, said, choice))
    except DataError as refusal:
        return line._replace(problem=refusal.problems[0])


def _told(line: UnderstoodLine, said: Reading, choice: Choice) -> UnderstoodLine:
    unit_told = bool(said.read.unit or choice.unit)
    step_told = bool(said.read.step or said.steps or choice.step)
    left_out = [what for what, told in (("unit", unit_told), ("step", step_told)) if not told]
    return line._replace(from_last=tuple(left_out))


def _unit(store: Store, last: LastTime, said: Reading, choice: Choice) -> KnownUnit:
    if choice.unit:
        return the_unit(store, choice.unit.unit, choice.unit.army)
    if said.read.unit:
        return the_unit(store, said.read.unit, said.read.army or None)
    unit = last.unit()
    if unit is None:
        raise DataError(Problem("the entry", "no unit is said", "Name one"))
    return unit


def _step(
    store: Store, last: LastTime, unit: KnownUnit, said: Reading, *, choice: Choice, line: UnderstoodLine
) -> str:
    if choice.step:
        return the_step(line.steps, choice.step, unit.name)
    if said.read.step or said.steps:
        return _said_step(store, unit, said, line)
    step = last.step(unit)
    if step is None:
        what = f"no step is said, and none of {shown(unit.name)} is ready"
        raise DataError(Problem("the entry", what, 'Say what was done, such as "primed"'))
    return step


def _said_step(store: Store, unit: KnownUnit, said: Reading, line: UnderstoodLine) -> str:
    meant = [said.read.step] if said.read.step else [step for step in said.steps if step in line.steps]
    if len(meant) != 1 and set(said.steps) == {"washing", "shade"}:
        meant = ["shade"]
    if len(meant) != 1:
        names = " and ".join(map(shown, said.steps[:3]))
        raise DataError(Problem("the entry", f"it can mean the steps {names}", "Say the step's name"))
    return the_step(line.steps, soap_or_shade(store, unit.id, line.said, meant[0]), unit.name)


def _with_models(
    store: Store, last: LastTime, unit: KnownUnit, said: Reading, line: UnderstoodLine
) -> UnderstoodLine:
    standing = last.standing(unit, line.step)
    line = line._replace(models_of_unit=standing.total, models_left=standing.left)
    count: int | None = standing.left if said.read.all_left else said.read.models
    how_long = said.read.minutes is not None or last.total_said
    if count is None and standing.left > 1 and how_long:
        count = min(standing.begun or last.batch(unit) or 0, standing.left) or None
        line = line._replace(from_last=(*line.from_last, "models")) if count else line
    count = how_many(Entry(unit.name, line.step, models=count), standing, unit.name)
    line = line._replace(models=count)
    if count > standing.left and unit_is_open_ended(store, unit.id):
        return line
    chosen = standing.numbered(said.read.numbers, unit.name) if said.read.numbers else None
    chosen = chosen or standing.choose(count, unit.name, said.names)
    if isinstance(chosen, Problem):
        raise DataError(chosen)
    who = standing.who(chosen)
    standing.take(chosen, finished=line.finished)
    return line._replace(
        numbers=tuple(number for number, _ in who), names=tuple(name for _, name in who if name)
    )
