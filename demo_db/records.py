"""A demo as records, without a database: for whoever wants to ask the pace a few hundred times."""

from __future__ import annotations

from collections import defaultdict
from datetime import date

from demo_db.army import route_of
from demo_db.builder import Demo
from tracker.domain.records import Army, Line, Mark, Model, Records, Session, Unit
from tracker.domain.routes import up_to_finish
from tracker.domain.rows import RosterRow


def to_records(demo: Demo) -> Records:
    """The records that an import of the demo's sheets gives, departures and marks included."""
    armies = {name: Army(i, name) for i, name in enumerate(dict.fromkeys(r.army for r in demo.roster), 1)}
    units = {row.unit: _unit(i, row, armies[row.army].id) for i, row in enumerate(demo.roster, 1)}
    models = _models(demo, units)
    sessions: dict[date, Session] = {}
    for row in demo.evenings:
        sessions.setdefault(row.date, Session(len(sessions) + 1, row.date, minutes=row.evening_minutes))
    return Records(
        armies=tuple(armies.values()),
        units=tuple(units.values()),
        models=tuple(model for group in models.values() for model in group),
        sessions=tuple(sessions.values()),
        lines=_lines(demo, units, models, sessions),
        marks=_marks(demo, units, models),
    )


def _unit(number: int, row: RosterRow, army_id: int) -> Unit:
    return Unit(
        id=number,
        army_id=army_id,
        name=row.unit,
        kind=row.kind,
        material=row.material,
        standard=row.standard,
        base=row.base,
        files=row.files,
        ranks=row.ranks,
        points=row.points,
        guess_minutes=row.guess_minutes,
        goal_date=row.goal_date,
        goal=row.goal,
        order=row.order,
        source=row.source,
        note=row.note,
        finish_line=row.finish_line,
        added_on=row.added or demo_start(row),
        route=route_of(row),
    )


def demo_start(row: RosterRow) -> date:
    """The day a unit came in; every unit of the demo says it."""
    if row.added is None:
        raise AssertionError(f"{row.unit} does not say when it came in")
    return row.added


def _models(demo: Demo, units: dict[str, Unit]) -> dict[str, list[Model]]:
    out: dict[str, list[Model]] = {}
    number = 0
    for row in demo.roster:
        unit = units[row.unit]
        out[row.unit] = []
        for place in range(1, row.models + 1):
            number += 1
            out[row.unit].append(Model(number, unit.id, place, added_on=unit.added_on))
    for gone in demo.departures:
        group = out[gone.unit]
        for i in range(gone.first - 1, gone.last):
            group[i] = group[i]._replace(left_on=gone.date, left_how=gone.how)
    return out


def _lines(
    demo: Demo, units: dict[str, Unit], models: dict[str, list[Model]], sessions: dict[date, Session]
) -> tuple[Line, ...]:
    done: dict[tuple[str, str], set[int]] = defaultdict(set)
    for word in demo.already:
        for step in up_to_finish(units[word.unit].route, word.up_to):
            done[word.unit, step] = {model.id for model in models[word.unit]}
    lines = []
    for number, row in enumerate(demo.evenings, 1):
        behind = done[row.unit, row.step]
        left = [m.id for m in models[row.unit] if m.id not in behind and not _gone(m, row.date)]
        chosen = tuple(left[: row.models])
        if row.finished:
            behind.update(chosen)
        lines.append(
            Line(
                number, sessions[row.date].id, units[row.unit].id, row.step, row.models, row.minutes,
                row.finished, row.guess_minutes, row.note, chosen,
            )
        )  # fmt: skip
    return tuple(lines)


def _gone(model: Model, day: date) -> bool:
    return model.left_on is not None and model.left_on <= day


def _marks(demo: Demo, units: dict[str, Unit], models: dict[str, list[Model]]) -> tuple[Mark, ...]:
    marks: list[Mark] = []
    for word in demo.already:
        for step in up_to_finish(units[word.unit].route, word.up_to):
            marks += [
                Mark(len(marks) + 1 + i, model.id, step, "done", word.date)
                for i, model in enumerate(models[word.unit])
            ]
    return tuple(marks)
