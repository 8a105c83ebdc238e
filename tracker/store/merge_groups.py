"""Rows that mean something only together: a route, a goal's units, a line's models, an order in ranks."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from tracker.store.merge_sides import GROUPS, Group, Row, who_moved

if TYPE_CHECKING:
    from tracker.store.merging import Joining


def join_groups(joining: Joining, table: str) -> None:
    """What theirs says of each thing, where ours says nothing; else as with single values."""
    owner_table = joining.theirs.refers[table][GROUPS[table]]
    ours, theirs = joining.ours.groups(table), joining.theirs.groups(table)
    known = {row["uid"] for row in joining.ours.rows(owner_table)}
    uids = {row["id"]: row for row in joining.theirs.rows(owner_table)}
    for their_id, owner in joining.ids[owner_table].items():
        mapped = _in_ours(joining, table, owner, theirs.get(their_id, frozenset()))
        mine = ours.get(owner, frozenset())
        if mapped == mine or (table == "line_model" and mine and uids[their_id]["uid"] not in known):
            continue
        if _wants(joining, table, (their_id, owner), mine, mapped):
            _put(joining, table, owner, mapped)
            joining.taken += bool(mine)


def _wants(joining: Joining, table: str, pair: tuple[int, int], mine: Group, mapped: Group) -> bool:
    """Whether theirs is to stand in the place of ours; whose they are, there and here, is the pair."""
    their_id, owner = pair
    columns = joining.theirs.group_columns(table)

    def then(group: Group, value: Callable[[str, str, Any], Any]) -> Group:
        return frozenset(
            tuple(value(table, column, one) for column, one in zip(columns, row, strict=True))
            for row in group
        )

    ours_past = joining.ours.past_groups[table].get(owner, [])
    theirs_past = joining.theirs.past_groups[table].get(their_id, [])
    moved = who_moved(
        [*(then(past, joining.ours_then) for past in reversed(ours_past)), mine],
        [*(then(past, joining.theirs_then) for past in reversed(theirs_past)), mapped],
    )
    if moved is not None:
        joining.kept += moved == "ours"
        return moved == "theirs"
    if not mine or not mapped:
        return not mine
    row = _owner(joining, table, owner)
    return joining.clash(joining.theirs.refers[table][GROUPS[table]], row, table, mine, mapped)


def _owner(joining: Joining, table: str, owner: int) -> Row:
    owner_table = joining.theirs.refers[table][GROUPS[table]]
    columns = joining.ours.columns[owner_table]
    found = joining.store.rows(f"SELECT * FROM {owner_table} WHERE id = ?", (owner,))  # noqa: S608
    return dict(zip(columns, found[0], strict=True))


def _in_ours(joining: Joining, table: str, owner: int, group: Group) -> Group:
    """Their rows with references as they are here; what is not here, or not in that unit, is left out."""
    columns, refers = joining.theirs.group_columns(table), joining.theirs.refers[table]
    out: set[tuple[Any, ...]] = set()
    for row in group:
        values = dict(zip(columns, row, strict=True))
        for column in columns:
            if column in refers:
                values[column] = joining.ids[refers[column]].get(values[column])
            if column == "step":
                values[column] = joining.steps.get(values[column], values[column])
        if None in values.values() or (table == "rank_place" and not _stands_in(joining, values, owner)):
            continue
        out.add(tuple(values.values()))
    return frozenset(out)


def _stands_in(joining: Joining, place: Row, unit: int) -> bool:
    return joining.store.rows("SELECT unit_id FROM model WHERE id = ?", (place["model_id"],)) == [(unit,)]


def _put(joining: Joining, table: str, owner: int, group: Group) -> None:
    whose, columns = GROUPS[table], joining.theirs.group_columns(table)
    with joining.tried(joining.theirs.refers[table][whose], _owner(joining, table, owner)):
        joining.store.connection.execute(f"DELETE FROM {table} WHERE {whose} = ?", (owner,))  # noqa: S608
        for row in sorted(group):
            joining.store.insert(table, **{whose: owner}, **dict(zip(columns, row, strict=True)))
