"""Rows to records: everything that is known, in the order it was stored."""

from __future__ import annotations

from datetime import date

from tracker.domain.records import Army, Line, Mark, Model, OwnStep, Records, Session, Unit
from tracker.store.journal import Store

_UNIT = (
    "id, army_id, name, kind, material, standard, base, files, ranks, points, guess_minutes, goal_date,"
    " goal, place, source, cost, note, finish_line, open_ended, added_on"
)


def records(store: Store) -> Records:
    """Everything, from one moment even while another process writes."""
    with store.snapshot():
        return Records(
            armies=tuple(Army(*row) for row in store.rows("SELECT id, name FROM army ORDER BY id")),
            units=_units(store),
            models=_models(store),
            steps=tuple(
                OwnStep(*row)
                for row in store.rows("SELECT id, name, catalogue, wait_hours FROM own_step ORDER BY id")
            ),
            sessions=tuple(
                Session(number, date.fromisoformat(day), *rest)
                for number, day, *rest in store.rows(
                    "SELECT id, date, label, start, minutes FROM session ORDER BY id"
                )
            ),
            lines=_lines(store),
            marks=tuple(
                Mark(number, model, step, state, date.fromisoformat(day), after)
                for number, model, step, state, day, after in store.rows(
                    "SELECT id, model_id, step, state, date, after_line FROM mark ORDER BY id"
                )
            ),
        )


def _units(store: Store) -> tuple[Unit, ...]:
    routes: dict[int, list[str]] = {}
    for unit, step in store.rows("SELECT unit_id, step FROM route_step ORDER BY unit_id, place"):
        routes.setdefault(unit, []).append(step)
    return tuple(
        unit_of(row, tuple(routes.get(row[0], ())))
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


def _models(store: Store) -> tuple[Model, ...]:
    days: dict[str, date] = {}
    out = []
    for number, unit, place, name, kind, note, added, left, how in store.rows(
        "SELECT id, unit_id, number, name, kind, note, added_on, left_on, left_how FROM model ORDER BY id"
    ):
        came = days.get(added) or days.setdefault(added, date.fromisoformat(added))
        gone = date.fromisoformat(left) if left else None
        out.append(Model(number, unit, place, name, kind, note, came, gone, how))
    return tuple(out)


def _lines(store: Store) -> tuple[Line, ...]:
    moved: dict[int, list[int]] = {}
    for line, model in store.connection.execute("SELECT line_id, model_id FROM line_model"):
        if line in moved:
            moved[line].append(model)
        else:
            moved[line] = [model]
    return tuple(
        Line(number, session, unit, step, models, minutes, finished == 1, guess, note,
             tuple(moved.get(number, ())))
        for number, session, unit, step, models, minutes, finished, guess, note in store.rows(
            "SELECT id, session_id, unit_id, step, models, minutes, finished, guess_minutes, note"
            " FROM line ORDER BY id"
        )
    )  # fmt: skip
