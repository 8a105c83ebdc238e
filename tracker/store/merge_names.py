"""What a row is called, so that a person knows which one is meant."""

from __future__ import annotations

from typing import Any

from tracker.store.journal import Store
from tracker.store.merge_sides import Row

_OF = {"model_id": "model", "unit_id": "unit", "army_id": "army", "line_id": "line", "deal_id": "deal",
       "recipe_id": "recipe", "version_id": "recipe_version", "session_id": "session", "first": "model",
       "second": "model", "like_id": "recipe_version", "goal_id": "goal"}  # fmt: skip


def name_of(store: Store, table: str, row: Row) -> str:
    """As in "Spears 3", "the evening of 2026-03-03", "Red cloaks, version 2"."""
    special = _SPECIAL.get(table)
    if special is not None:
        return special(store, row)
    own = next((str(row[column]) for column in ("name", "what", "whom", "note") if row.get(column)), "")
    return own or _whose(store, row) or next((str(row[day]) for day in _DAYS if row.get(day)), table)


def _model(store: Store, row: Row) -> str:
    return f"{_of(store, 'unit', row['unit_id']) or 'spare'} {row['number']}"


def _evening(_store: Store, row: Row) -> str:
    label = f' "{row["label"]}"' if row["label"] else ""
    return f"the evening{label} of {row['date']}"


def _line(store: Store, row: Row) -> str:
    evening, unit = _of(store, "session", row["session_id"]), _of(store, "unit", row["unit_id"])
    return f"{row['step']} on {unit or 'a unit'}, {evening or 'an evening'}"


def _version(store: Store, row: Row) -> str:
    return f"{_of(store, 'recipe', row['recipe_id']) or 'a recipe'}, version {row['number']}"


def _whose(store: Store, row: Row) -> str:
    """The thing that the row speaks of."""
    columns = ("model_id", "unit_id", "army_id", "line_id", "deal_id", "version_id", "first")
    found = next((c for c in columns if isinstance(row.get(c), int)), "")
    return _of(store, _OF[found], row[found]) if found else ""


_SPECIAL = {"model": _model, "session": _evening, "line": _line, "recipe_version": _version}
_DAYS = ("first", "day", "taken_on")


def _of(store: Store, table: str, row_id: int | None) -> str:
    if row_id is None:
        return ""
    columns = [str(row[1]) for row in store.rows(f"PRAGMA table_info({table})")]
    found = store.rows(f"SELECT * FROM {table} WHERE id = ?", (row_id,))  # noqa: S608 - our own names
    return name_of(store, table, dict(zip(columns, found[0], strict=True))) if found else ""


def said(store: Store, field: str, value: Any) -> str:
    """A value as it is shown in a clash."""
    if isinstance(value, frozenset):
        return _group_said(store, field, value)
    if value is None or value == "":
        return ""
    if field in _OF and isinstance(value, int):
        return _of(store, _OF[field], value)
    return f"{value:.12g}" if isinstance(value, float) else str(value)


def _group_said(store: Store, table: str, group: frozenset[tuple[Any, ...]]) -> str:
    if table == "route_step":
        return ", ".join(str(step) for _, step in sorted(group))
    if table == "rank_place":
        return f"an order of {len(group)} models"
    kind = "unit" if table == "goal_unit" else "model"
    return ", ".join(_of(store, kind, row[0]) for row in sorted(group))
