"""What becomes of the bench book's rows when units, models or lines go or join others.

Apart from the records, so that logging a line loads none of them.
"""

from __future__ import annotations

from collections.abc import Iterable

from tracker.store.journal import Store

_OF_UNIT = ("recipe_use", "role", "photo", "cure", "lead_free")
_OF_MODEL = ("keeping", "deal_model", "photo")


def forget_unit(store: Store, unit_id: int) -> None:
    """A unit is taken out of the log; its photos of models stay with them."""
    store.connection.execute(
        "UPDATE photo SET unit_id = NULL WHERE unit_id = ? AND model_id IS NOT NULL", (unit_id,)
    )
    for table in _OF_UNIT:
        store.connection.execute(f"DELETE FROM {table} WHERE unit_id = ?", (unit_id,))  # noqa: S608


def unit_joined(store: Store, unit_id: int, other_id: int) -> None:
    """What is noted of a unit is noted of the one it joined, where that does not have it already."""
    for table in ("role", "photo", "cure"):
        store.connection.execute(
            f"UPDATE {table} SET unit_id = ? WHERE unit_id = ?",  # noqa: S608 - our own names
            (other_id, unit_id),
        )
    store.connection.execute(
        "UPDATE recipe_use SET unit_id = ?1 WHERE unit_id = ?2 AND version_id NOT IN"
        " (SELECT version_id FROM recipe_use WHERE unit_id = ?1)",
        (other_id, unit_id),
    )
    # Both must be known to be free of lead for the whole to be.
    store.connection.execute(
        "DELETE FROM lead_free WHERE unit_id = ?1 AND NOT EXISTS"
        " (SELECT 1 FROM lead_free WHERE unit_id = ?2)",
        (other_id, unit_id),
    )


def forget_models(store: Store, model_ids: Iterable[int]) -> None:
    """Models are taken out of the log: nothing of the book speaks of them, and their roles wait again."""
    for model in model_ids:
        store.connection.execute(
            "UPDATE role SET model_id = NULL, stand_in = '' WHERE model_id = ?", (model,)
        )
        for table in _OF_MODEL:
            store.connection.execute(f"DELETE FROM {table} WHERE model_id = ?", (model,))  # noqa: S608


def models_moved(store: Store, model_ids: Iterable[int]) -> None:
    """Models left their unit: the roles they had there wait again; all else stays with them."""
    for model in model_ids:
        store.connection.execute(
            "UPDATE role SET model_id = NULL, stand_in = '' WHERE model_id = ?", (model,)
        )


def forget_lines(store: Store, line_ids: Iterable[int]) -> None:
    """Lines are taken out of the log, and the word on when they were dry."""
    store.connection.executemany("DELETE FROM dried WHERE line_id = ?", ((line,) for line in line_ids))
