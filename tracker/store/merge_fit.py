"""How a row of another log finds room in ours: free names, labels and numbers, and what may stand where.

Every rule returns the row as it can come in, and a note where that is not as it was there.
"""

from __future__ import annotations

import re
from typing import Any, NamedTuple

from tracker.store.journal import Store
from tracker.store.merge_sides import Row
from tracker.store.units import name_key

_NAME_MOST = 990


class Named(NamedTuple):
    """Which column tells rows of a table apart for a person, and within what."""

    column: str
    key: str
    within: tuple[str, ...] = ()


NAMED = {
    "army": Named("name", "name_key"),
    "unit": Named("name", "name_key", ("army_id",)),
    "recipe": Named("name", "name_key"),
    "goal": Named("name", "name_key"),
    "session": Named("label", "label", ("date",)),
    "role": Named("name", "name", ("unit_id",)),
}
NUMBERED = {"model": "unit_id", "recipe_version": "recipe_id"}
"""Tables whose rows are numbered, and within what; a number is given anew where it is taken."""
_ADDED_NUMBER = re.compile(r"(?P<name>.*) \((?P<number>[1-9]\d*)\)", re.DOTALL)


def same_but_for_number(one: str, other: str) -> bool:
    """Whether a name is the other one with the number it was given to tell them apart."""
    return _plain(one) == other or one == _plain(other)


def _plain(name: str) -> str:
    if name.isascii() and name.isdigit():
        return ""
    found = _ADDED_NUMBER.fullmatch(name)
    return found["name"] if found else name


def with_number(name: str, number: int) -> str:
    """As in "Spears (2)"; an evening without a label is "2"."""
    return f"{name[:_NAME_MOST]} ({number})" if name else str(number)


def fit(store: Store, table: str, row: Row, own_id: int | None) -> tuple[Row, list[str]]:
    """The row as there is room for it beside all rows of ours but the one with `own_id`."""
    notes: list[str] = []
    if table in NAMED:
        row = _fit_name(store, table, row, own_id, notes)
    if table in NUMBERED:
        row = _fit_number(store, table, row, own_id)
    if table == "role" and row["model_id"] is not None and not _free_for_role(store, row, own_id):
        notes.append(f'the role "{row["name"]}" comes in open: its model is taken or elsewhere here')
        row = row | {"model_id": None, "stand_in": ""}
    if table == "rank_block" and row["model_id"] is not None and not _stands_in(store, row):
        row = row | {"model_id": None}
    return row, notes


def _fit_name(store: Store, table: str, row: Row, own_id: int | None, notes: list[str]) -> Row:
    named = NAMED[table]
    name, number, at = str(row[named.column]), 1, dict(row)
    while _taken(store, table, {c: at[c] for c in (named.key, *named.within)}, own_id):
        number += 1
        at[named.column] = with_number(name, number)
        if named.key != named.column:
            at[named.key] = name_key(at[named.column])
    if number > 1:
        what = f"their evening of {row['date']}" if table == "session" else f'their {table} "{name}"'
        notes.append(f'{what} comes in as "{at[named.column]}": there is another one here')
    return at


def _fit_number(store: Store, table: str, row: Row, own_id: int | None) -> Row:
    within = NUMBERED[table]
    if not _taken(store, table, {within: row[within], "number": row["number"]}, own_id):
        return row
    sql = f"SELECT coalesce(max(number), 0) + 1 FROM {table} WHERE {within} IS ?"  # noqa: S608 - our own names
    return row | {"number": store.rows(sql, (row[within],))[0][0]}


def _free_for_role(store: Store, row: Row, own_id: int | None) -> bool:
    """Whether the model stands in the role's unit and in no other role."""
    return _stands_in(store, row) and not _taken(store, "role", {"model_id": row["model_id"]}, own_id)


def _stands_in(store: Store, row: Row) -> bool:
    found = store.rows("SELECT unit_id FROM model WHERE id = ?", (row["model_id"],))
    return bool(found) and found[0][0] == row["unit_id"]


def _taken(store: Store, table: str, values: dict[str, Any], own_id: int | None) -> bool:
    return find(store, table, values, own_id) is not None


def find(store: Store, table: str, values: dict[str, Any], but_id: int | None = None) -> int | None:
    """Id of a row with these values, but not that one."""
    tests = " AND ".join(f"{column} IS ?" for column in values)
    sql = f"SELECT id FROM {table} WHERE {tests} AND id IS NOT ? LIMIT 1"  # noqa: S608 - our own names
    found = store.rows(sql, (*values.values(), but_id))
    return int(found[0][0]) if found else None


def overlapping(store: Store, block: Row) -> list[int]:
    """Ids of larger bases of ours that would lie on the places of this one."""
    return [
        int(number)
        for (number,) in store.rows(
            "SELECT id FROM rank_block WHERE unit_id = ?1 AND id IS NOT ?6 AND uid <> ?7"
            " AND file < ?2 + ?3 AND ?2 < file + files AND rank < ?4 + ?5 AND ?4 < rank + ranks",
            (block["unit_id"], block["file"], block["files"], block["rank"], block["ranks"],
             block.get("id"), block["uid"]),
        )
    ]  # fmt: skip
