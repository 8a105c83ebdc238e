"""What joining two logs reads of each of them: rows, what they refer to, and what they were before."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import groupby
from typing import Any

from tracker.store.document import TABLES
from tracker.store.journal import Store

Row = dict[str, Any]
"""A row of a table by its columns."""
Group = frozenset[tuple[Any, ...]]
"""Rows that belong to one thing, each without its own id and without whose it is."""
NOT_MERGED = ("lamp", "lamp_rest")
"""A session that is running belongs to the machine where it began."""
GROUPS = {"route_step": "unit_id", "goal_unit": "goal_id", "line_model": "line_id", "rank_place": "unit_id"}
"""Tables whose rows mean something only together, and whose they are."""
ORDER = ("own_step", *(table for table in TABLES if table not in ("own_step", *NOT_MERGED)))
"""Tables that are joined, in an order in which every row finds what it refers to."""
_Rows = list[tuple[Any, ...]]


class Side:
    """One of the two logs, with what its journal still knows of earlier states."""

    def __init__(self, store: Store) -> None:
        self.store = store
        self.columns = {table: _names(store, table) for table in ORDER}
        self.refers = {
            table: {str(row[3]): str(row[2]) for row in store.rows(f"PRAGMA foreign_key_list({table})")}
            for table in ORDER
        }
        self.past_rows: dict[str, dict[int, list[Row]]] = {}
        """Table -> id -> what the row said before."""
        self.past_groups: dict[str, dict[int, list[Group]]] = {table: {} for table in GROUPS}
        """Table -> whose -> which rows it had before."""
        self._look_back()
        self.gone = {table: self._gone(table) for table in self.past_rows}
        """Table -> id -> uid of rows that were taken out."""

    def earlier(self, table: str, row: Row) -> list[Row]:
        """What a row said before, oldest first; an id may have been another row's once."""
        past = self.past_rows.get(table, {}).get(row["id"], [])
        return [one for one in reversed(past) if one.get("uid") == row.get("uid")]

    def _gone(self, table: str) -> dict[int, str]:
        here = {row["id"] for row in self.rows(table)}
        past = self.past_rows[table]
        return {number: str(past[number][0].get("uid")) for number in past.keys() - here}

    def rows(self, table: str) -> list[Row]:
        """Every row of a table, by its key."""
        columns = self.columns[table]
        found = self.store.rows(f"SELECT * FROM {table} ORDER BY 1, 2")  # noqa: S608 - our own names
        return [dict(zip(columns, row, strict=True)) for row in found]

    def group_columns(self, table: str) -> list[str]:
        """The columns that a row of a group has, in the order of `Group`."""
        return [column for column in self.columns[table] if column not in ("id", GROUPS[table])]

    def groups(self, table: str) -> dict[int, Group]:
        """The rows of a table by whose they are."""
        return {owner: self._group(table, rows.values()) for owner, rows in self._keyed(table).items()}

    def _group(self, table: str, rows: Iterable[tuple[Any, ...]]) -> Group:
        at = [self.columns[table].index(column) for column in self.group_columns(table)]
        return frozenset(tuple(row[place] for place in at) for row in rows)

    def _keyed(self, table: str) -> dict[int, dict[tuple[Any, ...], tuple[Any, ...]]]:
        owner = self.columns[table].index(GROUPS[table])
        found: dict[int, dict[tuple[Any, ...], tuple[Any, ...]]] = {}
        for row in self.store.rows(f"SELECT * FROM {table}"):  # noqa: S608 - our own names
            found.setdefault(row[owner], {})[self._key(table, row)] = row
        return found

    def _key(self, table: str, row: tuple[Any, ...]) -> tuple[Any, ...]:
        return row[:1] if self.columns[table][0] == "id" else row[:2]

    def _look_back(self) -> None:
        """Take the changes of the journal back in memory, the newest first, and note every state."""
        rows = self.store.rows(
            "SELECT change_row.* FROM change_row"
            " JOIN change ON change.id = change_id WHERE undone = 0 ORDER BY change_row.id DESC"
        )
        now = {table: self._keyed(table) for table in GROUPS}
        for _, change in groupby(rows, key=lambda row: row[1]):
            touched: set[tuple[str, int]] = set()
            for _, _, table, act, *values in change:
                kept = tuple(values)
                if table in GROUPS:
                    touched.add((table, self._step_back(table, act, kept, now[table])))
                elif table in ORDER and act != "insert":
                    past = dict(zip(self.columns[table], kept, strict=False))
                    of_table = self.past_rows.setdefault(table, {})
                    of_table.setdefault(kept[0], []).append(past)
            for table, owner in touched:
                state = self._group(table, now[table].get(owner, {}).values())
                self.past_groups[table].setdefault(owner, []).append(state)

    def _step_back(
        self,
        table: str,
        act: str,
        kept: tuple[Any, ...],
        now: dict[int, dict[tuple[Any, ...], tuple[Any, ...]]],
    ) -> int:
        """Take one row's change back; whose it is."""
        key, width = self._key(table, kept), len(self.columns[table])
        owner = self.columns[table].index(GROUPS[table])
        if act == "insert":
            in_key = len(key) > 1
            whose = kept[0] if in_key else next((one for one, rows in now.items() if key in rows), 0)
            now.get(whose, {}).pop(key, None)
            return int(whose)
        now.setdefault(kept[owner], {})[key] = kept[:width]
        return int(kept[owner])


def _names(store: Store, table: str) -> list[str]:
    return [str(row[1]) for row in store.rows(f"PRAGMA table_info({table})")]


def who_moved(ours: Sequence[Any], theirs: Sequence[Any]) -> str | None:
    """Which of two histories, oldest value first, went on from the other's last value: "ours", "theirs".

    None where neither did, or where it cannot be told. Where each had the other's last value once, the one
    that holds the other's whole history went on.
    """
    theirs_did, ours_did = ours[-1] in theirs[:-1], theirs[-1] in ours[:-1]
    if theirs_did and ours_did:
        theirs_did, ours_did = _within(ours, theirs), _within(theirs, ours)
    if theirs_did == ours_did:
        return None
    return "theirs" if theirs_did else "ours"


def _within(short: Sequence[Any], long: Sequence[Any]) -> bool:
    """Whether all of it stands in the other in the same order, with or without others between."""
    rest = iter(_runs(long))
    return all(value in rest for value in _runs(short))


def _runs(values: Sequence[Any]) -> list[Any]:
    return [value for value, _ in groupby(values)]
