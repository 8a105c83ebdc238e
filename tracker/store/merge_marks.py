"""Marks have no identity of their own: model, step, state, day and place among the lines tell them apart."""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

from tracker.store.merge_sides import Row

if TYPE_CHECKING:
    from tracker.store.merging import Joining

Cell = tuple[int, str]
"""A model and a step."""


def join_marks(joining: Joining) -> None:
    """Add the marks that ours does not have; a cell on which both said something else is a clash."""
    theirs = _theirs(joining)
    ours = joining.ours.rows("mark")
    new = _unmatched(joining, theirs, ours)
    own_words: dict[Cell, str] = {_cell(row): str(row["state"]) for row in ours}
    their_words: dict[Cell, str] = {_cell(row): str(row["state"]) for row in new}
    clashing = {cell for cell, state in their_words.items() if cell in own_words and own_words[cell] != state}
    for cell in sorted(clashing):
        model = joining.store.rows("SELECT * FROM model WHERE id = ?", (cell[0],))[0]
        row = dict(zip(joining.ours.columns["model"], model, strict=True))
        if joining.clash("model", row, f"mark {cell[1]}", own_words[cell], their_words[cell]):
            clashing = clashing - {cell}
    for row in new:
        if _cell(row) not in clashing:
            values = {column: value for column, value in row.items() if column != "id"}
            joining.store.insert("mark", **values)
            joining.added["mark"] += 1


def _cell(row: Row) -> Cell:
    return row["model_id"], row["step"]


def _theirs(joining: Joining) -> list[Row]:
    """Their marks as they would be here, each after the lines that it came after there."""
    newest, places = 0, [(0, 0)]
    for line in joining.theirs.rows("line"):
        newest = max(newest, joining.ids["line"].get(line["id"], 0))
        places.append((line["id"], newest))
    out, at = [], 0
    for row in sorted(joining.theirs.rows("mark"), key=lambda mark: (mark["after_line"], mark["id"])):
        while at + 1 < len(places) and places[at + 1][0] <= row["after_line"]:
            at += 1
        mapped = joining.in_ours("mark", row)
        if mapped is not None:
            step = joining.steps.get(row["step"], row["step"])
            out.append(mapped | {"step": step, "after_line": places[at][1]})
    return out


def _unmatched(joining: Joining, theirs: list[Row], ours: list[Row]) -> list[Row]:
    """Their marks that ours does not have, counted; what ours alone has is left in `ours`.

    The same word on the same day after a later line counts after that line here too.
    """
    waiting: dict[tuple[object, ...], list[Row]] = defaultdict(list)
    for row in reversed(ours):
        waiting[(*_cell(row), row["state"], row["date"])].append(row)
    new = []
    for row in theirs:
        same = waiting[(*_cell(row), row["state"], row["date"])]
        if not same:
            new.append(row)
            continue
        mine = same.pop()
        ours.remove(mine)
        if row["after_line"] > _newest_line_before(joining, mine["after_line"]):
            joining.store.update("mark", mine["id"], after_line=row["after_line"])
            joining.taken += 1
        else:
            joining.same += 1
    return new


def _newest_line_before(joining: Joining, after_line: int) -> int:
    found = joining.store.rows("SELECT coalesce(max(id), 0) FROM line WHERE id <= ?", (after_line,))
    return int(found[0][0])
