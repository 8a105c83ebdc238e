"""Rows of the bench book as records and back: a record's fields are its table's columns, in order."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime
from decimal import Decimal, InvalidOperation
from math import isfinite
from typing import Any, TypeVar

from tracker.domain.cures import Cure, Dried, LeadFree
from tracker.domain.keeping import Keeping, Role
from tracker.domain.photos import Photo
from tracker.domain.recipes import PaintOut, Recipe, RecipeStep, RecipeUse, RecipeVersion
from tracker.domain.sources import Deal, DealModel, ListTarget
from tracker.store.journal import Store

TABLES: dict[type, str] = {
    Recipe: "recipe", RecipeVersion: "recipe_version", RecipeStep: "recipe_step", RecipeUse: "recipe_use",
    PaintOut: "paint_out", Keeping: "keeping", Role: "role", Deal: "deal", DealModel: "deal_model",
    ListTarget: "list_target", Photo: "photo", Cure: "cure", Dried: "dried", LeadFree: "lead_free",
}  # fmt: skip
"""The table of each record."""
Record = TypeVar("Record", bound=tuple[Any, ...])


def every(store: Store, kind: type[Record], **where: Any) -> tuple[Record, ...]:
    """All records of a kind, in the order they were added; with `where` only rows with these values."""
    columns = _columns(kind)
    tests = " AND ".join(f"{column} IS ?" for column in where) or "1"
    sql = f"SELECT {', '.join(columns)} FROM {TABLES[kind]} WHERE {tests} ORDER BY id"  # noqa: S608 - our own
    read = [_READ.get(_sort(column)) for column in columns]
    return tuple(
        kind(*(value if value is None or take is None else take(value)
               for value, take in zip(row, read, strict=True)))
        for row in store.rows(sql, tuple(where.values()))
    )  # fmt: skip


def keep(store: Store, record: tuple[Any, ...]) -> int:
    """Add a record; its id (that of the record does not matter)."""
    values = _values(record)
    return store.insert(TABLES[type(record)], uid=store.new_uid(), **values)


def change(store: Store, record: tuple[Any, ...]) -> None:
    """Put a record in the place of the one with its id."""
    store.update(TABLES[type(record)], record[0], **_values(record))


def drop(store: Store, record: tuple[Any, ...]) -> None:
    """Take a record out; what refers to it must be gone."""
    store.connection.execute(f"DELETE FROM {TABLES[type(record)]} WHERE id = ?", (record[0],))  # noqa: S608


def unreadable(store: Store) -> str | None:
    """Table and row of a record that nobody can read; None where all are good."""
    for kind, table in TABLES.items():
        for (number,) in store.rows(f"SELECT id FROM {table} ORDER BY id"):  # noqa: S608 - our own names
            try:
                found: tuple[tuple[Any, ...], ...] = every(store, kind, id=number)
            except (ValueError, InvalidOperation):
                return f"{table} {number}"
            if any(isinstance(value, (float, Decimal)) and not isfinite(value) for value in found[0]):
                return f"{table} {number}"
    return None


def _columns(kind: type) -> tuple[str, ...]:
    fields: tuple[str, ...] = kind._fields  # type: ignore[attr-defined] # named tuples only
    return fields


def _values(record: tuple[Any, ...]) -> dict[str, Any]:
    pairs = zip(_columns(type(record)), record, strict=True)
    return {column: _plain(value) for column, value in pairs if column != "id"}


def _plain(value: Any) -> Any:
    """A value as its column holds it."""
    if isinstance(value, datetime):
        return value.isoformat(timespec="minutes")
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, Decimal):
        return str(value)
    return "\n".join(value) if isinstance(value, tuple) else value


def _sort(column: str) -> str:
    """Which sort of value a column holds, told by its name."""
    return column if column in _READ else column.rpartition("_")[1] + column.rpartition("_")[2]


def _words(text: str) -> tuple[str, ...]:
    return tuple(text.split("\n")) if text else ()


_READ: dict[str, Callable[[Any], Any]] = {
    "_on": date.fromisoformat, "day": date.fromisoformat, "_at": datetime.fromisoformat,
    "amount": Decimal, "postage": Decimal, "tags": _words,
}  # fmt: skip
"""How what a column holds is read, by its name or its last word."""
