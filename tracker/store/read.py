"""Rows to records: everything that is known, in the order it was stored."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date, datetime
from typing import Any, NamedTuple

from tracker.domain.cures import Cure, Dried, LeadFree
from tracker.domain.problems import DataError, Problem
from tracker.domain.records import Army, Line, Mark, Model, OwnStep, Records, Session, Unit
from tracker.store.declared import all_declared
from tracker.store.goals import all_goals
from tracker.store.journal import Store
from tracker.store.units import all_routes

_UNIT = (
    "id, army_id, name, kind, material, standard, base, files, ranks, points, guess_minutes, goal_date,"
    " goal, place, source, cost, note, finish_line, open_ended, added_on"
)


_OWN_STEPS = "SELECT id, name, catalogue, wait_hours FROM own_step ORDER BY id"


class _Only(NamedTuple):
    """Which rows are wanted: a condition for tables with a unit, one for marks, and their values."""

    of_unit: str = "1"
    of_model: str = "1"
    values: tuple[int, ...] = ()


_ALL = _Only()


@contextmanager
def _readable(store: Store) -> Iterator[None]:
    """A value that damage made unreadable is one clear line."""
    try:
        yield
    except (ValueError, TypeError) as refusal:
        raise DataError(
            Problem(store.path, f"a row of it cannot be read ({refusal})", "See which: lastcoat check")
        ) from refusal


def records(store: Store) -> Records:
    """Everything, from one moment even while another process writes."""
    with _readable(store), store.snapshot():
        return Records(
            armies=tuple(Army(*row) for row in store.rows("SELECT id, name FROM army ORDER BY id")),
            units=_units(store),
            models=_models(store, _ALL),
            steps=tuple(OwnStep(*row) for row in store.rows(_OWN_STEPS)),
            sessions=_sessions(store),
            lines=_lines(store, _ALL),
            marks=_marks(store, _ALL),
            declared=all_declared(store),
            goals=all_goals(store),
            **_book(store, _ALL),
        )


def unit_records(store: Store, unit_id: int) -> Records:
    """What is known of one unit alone: quick where the log is long."""
    only = _Only("unit_id = ?", "model_id IN (SELECT id FROM model WHERE unit_id = ?)", (unit_id,))
    with _readable(store), store.snapshot():
        unit = one_unit(store, unit_id)
        lines = _lines(store, only)
        return Records(
            armies=tuple(Army(*row) for row in store.rows("SELECT id, name FROM army ORDER BY id")),
            units=(unit,),
            models=_models(store, only),
            steps=tuple(OwnStep(*row) for row in store.rows(_OWN_STEPS)),
            sessions=tuple(
                session
                for number in sorted({line.session_id for line in lines})
                for session in _sessions(store, "WHERE id = ?", (number,))
            ),
            lines=lines,
            marks=_marks(store, only),
            **_book(store, only),
        )


def _book(store: Store, only: _Only) -> dict[str, tuple[Any, ...]]:
    """What the bench book says of drying and of metals; read here, for its other records load much more."""
    said = "SELECT id, line_id, dry_at FROM dried"
    if only != _ALL:
        said += f" WHERE line_id IN (SELECT id FROM line WHERE {only.of_unit})"  # noqa: S608 - our own names
    begun = (
        "SELECT id, what, unit_id, begun_at, low_hours, usual_hours, high_hours, ended_at"  # noqa: S608
        f" FROM cure WHERE {only.of_unit} ORDER BY id"
    )
    free = f"SELECT id, unit_id, said_on FROM lead_free WHERE {only.of_unit} ORDER BY id"  # noqa: S608
    at = datetime.fromisoformat
    return {
        "dried": tuple(Dried(n, line, at(when)) for n, line, when in store.rows(said, only.values)),
        "cures": tuple(
            Cure(n, what, unit, at(when), low, usual, high, at(ended) if ended else None)
            for n, what, unit, when, low, usual, high, ended in store.rows(begun, only.values)
        ),
        "lead_free": tuple(
            LeadFree(n, unit, date.fromisoformat(on)) for n, unit, on in store.rows(free, only.values)
        ),
    }


def _units(store: Store) -> tuple[Unit, ...]:
    routes = all_routes(store)
    return tuple(
        unit_of(row, routes.get(int(row[0]), ()))
        for row in store.rows(f"SELECT {_UNIT} FROM unit ORDER BY id")  # noqa: S608 - our own names
    )


def unit_of(row: tuple[object, ...], route: tuple[str, ...]) -> Unit:
    """A unit from its row, columns in the order of the record."""
    values = list(row)
    values[11] = date.fromisoformat(str(values[11])) if values[11] else None
    values[18] = bool(values[18])
    values[19] = date.fromisoformat(str(values[19]))
    return Unit._make([*values, route])


def one_unit(store: Store, unit_id: int) -> Unit:
    """One unit with its route."""
    route = store.rows("SELECT step FROM route_step WHERE unit_id = ? ORDER BY place", (unit_id,))
    row = store.rows(f"SELECT {_UNIT} FROM unit WHERE id = ?", (unit_id,))[0]  # noqa: S608
    return unit_of(row, tuple(step for (step,) in route))


def _sessions(store: Store, where: str = "", values: tuple[int, ...] = ()) -> tuple[Session, ...]:
    sql = f"SELECT id, date, label, start, minutes FROM session {where} ORDER BY id"  # noqa: S608 - our own
    return tuple(
        Session(number, date.fromisoformat(day), *rest) for number, day, *rest in store.rows(sql, values)
    )


def _marks(store: Store, only: _Only) -> tuple[Mark, ...]:
    sql = (
        "SELECT id, model_id, step, state, date, after_line FROM mark"  # noqa: S608 - our own names
        f" WHERE {only.of_model} ORDER BY id"
    )
    return tuple(
        Mark(number, model, step, state, date.fromisoformat(day), after)
        for number, model, step, state, day, after in store.rows(sql, only.values)
    )


def _models(store: Store, only: _Only) -> tuple[Model, ...]:
    days: dict[str, date] = {}
    out = []
    for number, unit, place, name, kind, note, added, left, how, part in store.rows(
        "SELECT id, unit_id, number, name, kind, note, added_on, left_on, left_how, part"  # noqa: S608
        f" FROM model WHERE {only.of_unit} ORDER BY id",
        only.values,
    ):
        came = days.get(added) or days.setdefault(added, date.fromisoformat(added))
        gone = date.fromisoformat(left) if left else None
        out.append(Model(number, unit, place, name, kind, note, came, gone, how, part))
    return tuple(out)


def _lines(store: Store, only: _Only) -> tuple[Line, ...]:
    moved: dict[int, list[int]] = {}
    sql = "SELECT line_id, model_id FROM line_model"
    if only != _ALL:
        sql += f" WHERE line_id IN (SELECT id FROM line WHERE {only.of_unit})"  # noqa: S608 - our own names
    for line, model in store.connection.execute(sql, only.values):
        if line in moved:
            moved[line].append(model)
        else:
            moved[line] = [model]
    return tuple(
        Line(number, session, unit, step, models, minutes, finished == 1, guess, note,
             tuple(moved.get(number, ())))
        for number, session, unit, step, models, minutes, finished, guess, note in store.rows(
            "SELECT id, session_id, unit_id, step, models, minutes, finished, guess_minutes, note"  # noqa: S608
            f" FROM line WHERE {only.of_unit} ORDER BY id",
            only.values,
        )
    )  # fmt: skip
