"""Rows of models and of a person's marks on them."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from tracker.store import book_gone
from tracker.store.journal import Store
from tracker.store.ranks import forget_models, forget_places


def next_number(store: Store, unit_id: int | None) -> int:
    """The number the next model of this unit gets (of the spares, for None)."""
    found = store.rows("SELECT coalesce(max(number), 0) + 1 FROM model WHERE unit_id IS ?", (unit_id,))
    return int(found[0][0])


def insert_models(
    store: Store, unit_id: int | None, count: int, added_on: date, *, kind: str = "", note: str = ""
) -> list[tuple[int, int]]:
    """Add models to a unit, numbered on from its last; their (id, number)."""
    first = next_number(store, unit_id)
    return [
        (insert_model(store, unit_id, number, added_on, kind=kind, note=note), number)
        for number in range(first, first + count)
    ]


def insert_model(
    store: Store, unit_id: int | None, number: int, added_on: date, *, kind: str = "", note: str = ""
) -> int:
    """Add one model; its id."""
    return store.insert(
        "model", uid=store.new_uid(), unit_id=unit_id, number=number, name="", kind=kind, note=note,
        added_on=added_on.isoformat(), left_on=None, left_how="",
    )  # fmt: skip


def models_of(store: Store, unit_id: int) -> list[tuple[int, int, str]]:
    """(id, number, name) of the unit's models that have not left, by number."""
    return [
        (int(model), int(number), str(name))
        for model, number, name in store.rows(
            "SELECT id, number, name FROM model WHERE unit_id = ? AND left_on IS NULL ORDER BY number",
            (unit_id,),
        )
    ]


def named_models(store: Store) -> list[tuple[str, str, str]]:
    """(unit, army, name) of every model of a unit that has a name and has not left."""
    return [
        (str(unit), str(army), str(name))
        for unit, army, name in store.rows(
            "SELECT unit.name, army.name, model.name FROM model JOIN unit ON unit.id = model.unit_id"
            " JOIN army ON army.id = unit.army_id WHERE model.name <> '' AND left_on IS NULL"
            " ORDER BY model.id"
        )
    ]


def spare_models(store: Store) -> list[tuple[int, int]]:
    """(id, number) of the models without a unit that have not left, by number."""
    rows = store.rows(
        "SELECT id, number FROM model WHERE unit_id IS NULL AND left_on IS NULL ORDER BY number"
    )
    return [(int(model), int(number)) for model, number in rows]


def move_models(store: Store, model_ids: Iterable[int], unit_id: int | None) -> None:
    """Give models to another unit (None = the spares), numbered on from its last; they leave their places."""
    model_ids = list(model_ids)
    forget_places(store, model_ids)
    book_gone.models_moved(store, model_ids)
    for number, model in enumerate(model_ids, start=next_number(store, unit_id)):
        store.update("model", model, unit_id=unit_id, number=number)


def untouched(store: Store, unit_id: int) -> list[int]:
    """Ids of the unit's models that nothing speaks of, no line, mark, measure or name, last first."""
    return [
        int(model)
        for (model,) in store.rows(
            "SELECT id FROM model WHERE unit_id = ? AND left_on IS NULL AND name = ''"
            " AND NOT EXISTS (SELECT 1 FROM line_model WHERE model_id = model.id)"
            " AND NOT EXISTS (SELECT 1 FROM mark WHERE model_id = model.id)"
            " AND NOT EXISTS (SELECT 1 FROM rank_model WHERE model_id = model.id)"
            " AND NOT EXISTS (SELECT 1 FROM photo WHERE model_id = model.id)"
            " AND NOT EXISTS (SELECT 1 FROM deal_model WHERE model_id = model.id)"
            " AND NOT EXISTS (SELECT 1 FROM role WHERE model_id = model.id)"
            " AND NOT EXISTS (SELECT 1 FROM keeping WHERE model_id = model.id) ORDER BY number DESC",
            (unit_id,),
        )
    ]


def is_spoken_of(store: Store, model_id: int) -> bool:
    """Whether anything would be lost with a model: a line, a mark that is no skip, a measure, a note."""
    found = store.rows(
        "SELECT EXISTS (SELECT 1 FROM line_model WHERE model_id = ?1)"
        " OR EXISTS (SELECT 1 FROM mark WHERE model_id = ?1 AND state <> 'skipped')"
        " OR EXISTS (SELECT 1 FROM rank_model WHERE model_id = ?1 AND front <> '')"
        " OR EXISTS (SELECT 1 FROM photo WHERE model_id = ?1)"
        " OR EXISTS (SELECT 1 FROM deal_model WHERE model_id = ?1)"
        " OR EXISTS (SELECT 1 FROM model WHERE id = ?1 AND (note <> '' OR part <> ''))",
        (model_id,),
    )
    return bool(found[0][0])


def delete_models(store: Store, model_ids: Iterable[int]) -> None:
    """Take models out as if they had never been there, marks and all; only where nothing is lost."""
    numbers = [(model,) for model in model_ids]
    forget_models(store, (model for (model,) in numbers))
    book_gone.forget_models(store, (model for (model,) in numbers))
    store.connection.executemany("DELETE FROM mark WHERE model_id = ?", numbers)
    store.connection.executemany("DELETE FROM model WHERE id = ?", numbers)


def came_by(store: Store, unit_id: int, model_ids: Iterable[int], day: date) -> None:
    """The unit was there on `day` at the latest: so were the models it came with, and these."""
    said = day.isoformat()
    store.connection.execute(
        "UPDATE model SET added_on = ?1 WHERE unit_id = ?2 AND added_on > ?1"
        " AND added_on = (SELECT added_on FROM unit WHERE id = ?2)",
        (said, unit_id),
    )
    store.connection.execute("UPDATE unit SET added_on = ?1 WHERE id = ?2 AND added_on > ?1", (said, unit_id))
    store.connection.executemany(
        "UPDATE model SET added_on = ?1 WHERE id = ?2 AND added_on > ?1",
        ((said, model) for model in model_ids),
    )


def insert_mark(store: Store, model_id: int, step: str, state: str, day: date) -> int:
    """Add a person's word on one model and step; it counts after every line stored so far."""
    newest = store.rows("SELECT coalesce(max(id), 0) FROM line")[0][0]
    return store.insert(
        "mark", model_id=model_id, step=step, state=state, date=day.isoformat(), after_line=newest
    )


def move_added(store: Store, unit_id: int, before: date, after: date) -> None:
    """The unit came in on another day, and so did the models that came with it."""
    store.connection.execute(
        "UPDATE model SET added_on = ? WHERE unit_id = ? AND added_on = ?",
        (after.isoformat(), unit_id, before.isoformat()),
    )
    store.update("unit", unit_id, added_on=after.isoformat())
