"""Rows of evenings and of their lines."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from tracker.domain.records import Line, Mark, Session
from tracker.store.book_gone import forget_lines
from tracker.store.journal import Store


def find_session(store: Store, day: date, label: str = "") -> Session | None:
    """The evening of that day and label."""
    rows = store.rows(
        "SELECT id, date, label, start, minutes FROM session WHERE date = ? AND label = ?",
        (day.isoformat(), label),
    )
    return Session(rows[0][0], day, *rows[0][2:]) if rows else None


def insert_session(
    store: Store, day: date, label: str = "", start: str = "", minutes: float | None = None
) -> int:
    """Add an evening; its id."""
    return store.insert(
        "session", uid=store.new_uid(), date=day.isoformat(), label=label, start=start, minutes=minutes
    )


def minutes_of_lines(store: Store, session_id: int) -> float:
    """Minutes that the evening's lines have of their own, in sum."""
    rows = store.rows("SELECT coalesce(sum(minutes), 0.0) FROM line WHERE session_id = ?", (session_id,))
    return float(rows[0][0])


def insert_line(store: Store, line: Line, import_key: str = "") -> int:
    """Add a line with the models it moved on; its id."""
    number = store.insert(
        "line", uid=store.new_uid(), session_id=line.session_id, unit_id=line.unit_id, step=line.step,
        models=line.models, minutes=line.minutes, finished=int(line.finished),
        guess_minutes=line.guess_minutes, note=line.note, import_key=import_key,
    )  # fmt: skip
    store.connection.executemany(
        "INSERT INTO line_model (line_id, model_id) VALUES (?, ?)",
        ((number, model) for model in line.model_ids),
    )
    return number


def last_lines(store: Store) -> list[tuple[int, str, int, bool]]:
    """(unit id, step, models, finished) of every unit's last line, the most recent evening first."""
    return [
        (int(unit), str(step), int(models), bool(finished))
        for unit, step, models, finished, _, _ in store.rows(
            # SQLite gives the other columns of the row that has the greatest value (bare columns beside max).
            "SELECT unit_id, step, models, finished, max(date || substr('0000000000' || line.id, -10)) AS at,"
            " line.id FROM line JOIN session ON session.id = session_id GROUP BY unit_id ORDER BY at DESC"
        )
    ]


def lines_of_step(store: Store, unit_id: int, step: str) -> list[Line]:
    """The unit's lines of one step, in the order they were stored."""
    moved: dict[int, list[int]] = {}
    for line, model in store.rows(
        "SELECT line_id, model_id FROM line_model JOIN line ON line.id = line_id"
        " WHERE unit_id = ? AND step = ? ORDER BY line_id, model_id",
        (unit_id, step),
    ):
        moved.setdefault(line, []).append(model)
    return [
        Line(number, session, unit_id, step, models, finished=bool(finished),
             model_ids=tuple(moved.get(number, ())))
        for number, session, models, finished in store.rows(
            "SELECT id, session_id, models, finished FROM line WHERE unit_id = ? AND step = ? ORDER BY id",
            (unit_id, step),
        )
    ]  # fmt: skip


def marks_of_step(store: Store, unit_id: int, step: str) -> list[Mark]:
    """The marks on the unit's models for one step, in the order they were stored."""
    return [
        Mark(number, model, step, state, date.fromisoformat(day), after)
        for number, model, state, day, after in store.rows(
            "SELECT mark.id, model_id, state, date, after_line FROM mark JOIN model ON model.id = model_id"
            " WHERE unit_id = ? AND step = ? ORDER BY mark.id",
            (unit_id, step),
        )
    ]


def import_keys(store: Store) -> list[tuple[int, str]]:
    """(line id, key it was imported with) of every line that came from a sheet."""
    return [(int(n), str(k)) for n, k in store.rows("SELECT id, import_key FROM line WHERE import_key <> ''")]


def rename_step(store: Store, unit_id: int, old: str, new: str) -> None:
    """Call a step of one unit by another name in its lines and marks."""
    store.connection.execute(
        "UPDATE line SET step = ?1 WHERE unit_id = ?2 AND step = ?3", (new, unit_id, old)
    )
    store.connection.execute(
        "UPDATE mark SET step = ?1 WHERE step = ?3 AND model_id IN (SELECT id FROM model WHERE unit_id = ?2)",
        (new, unit_id, old),
    )


def delete_lines(store: Store, line_ids: Iterable[int]) -> None:
    """Take lines out, with what they say of models."""
    line_ids = tuple(line_ids)
    forget_lines(store, line_ids)
    for number in line_ids:
        store.connection.execute("DELETE FROM line_model WHERE line_id = ?", (number,))
        store.connection.execute("DELETE FROM line WHERE id = ?", (number,))
