"""Rows of how units rank up: rules, models, blocks, places, dry fits, bases before."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
from math import isfinite
from typing import Any

from tracker.domain.ranks import Block, Check, Placed, RankModel, RankNotes, RankRules, Reach, canonical
from tracker.store.journal import Store

_NOTHING = "."
_RULE = "cuts, gap_mm, margin_mm, turns, front_most_mm, least_models, least_percent"
_MODEL = "front, right, back, left, base, cuts, turns, stems, place, measured_on"
_CHECK = "first, first_edge, second, second_edge, mm, first_stem_mm, second_stem_mm, checked_on, base"


def rank_notes(store: Store, unit_id: int) -> RankNotes:
    """All that is kept of a unit's ranks; dry fits of models that met in an earlier unit too."""
    with store.snapshot():
        return RankNotes(
            _rules(store, unit_id), _models(store, unit_id), blocks_of(store, unit_id),
            _placed(store, unit_id), _checks(store, unit_id),
        )  # fmt: skip


def unreadable_rank(store: Store) -> int | None:
    """Id of a row of measures, rules or dry fits that nobody can read; None where all are good."""
    for table in ("rank_model", "rank_rule", "rank_check"):
        for row in store.rows(f"SELECT * FROM {table}"):  # noqa: S608 - our own names
            said = dict(zip(_names(store, table), row, strict=True))
            try:
                _refuse_unreadable(said)
            except ValueError:
                return int(said["id"])
    return None


def _names(store: Store, table: str) -> list[str]:
    return [row[1] for row in store.rows(f"PRAGMA table_info({table})")]


def _refuse_unreadable(said: dict[str, Any]) -> None:
    """ValueError for what is no number or an endless one, and for bands that do not go with their heights."""
    if any(isinstance(value, float) and not isfinite(value) for value in said.values()):
        raise ValueError("no finite number")
    cuts = _numbers(said.get("cuts", ""), ",")
    if list(cuts) != sorted(set(cuts)):
        raise ValueError("heights do not rise")
    if "front" in said:
        _numbers(said["stems"], ",")
        reach = _reach([said[edge] for edge in Reach._fields])
        bands = {len(edge) for edge in reach} if reach else {len(cuts) + 1}
        if bands != {len(cuts) + 1}:
            raise ValueError("not as many numbers as bands")


def _rules(store: Store, unit_id: int) -> RankRules:
    rows = store.rows(f"SELECT {_RULE} FROM rank_rule WHERE unit_id = ?", (unit_id,))  # noqa: S608
    return RankRules(_numbers(rows[0][0], ","), *rows[0][1:]) if rows else RankRules()


def _models(store: Store, unit_id: int) -> tuple[RankModel, ...]:
    rows = store.rows(
        f"SELECT model_id, {_MODEL} FROM rank_model WHERE model_id IN"  # noqa: S608 - our own names
        " (SELECT id FROM model WHERE unit_id = ?) ORDER BY model_id",
        (unit_id,),
    )
    return tuple(
        RankModel(
            model, _reach(edges), base, _numbers(cuts, ","), turns, _numbers(stems, ","), place,
            date.fromisoformat(day) if day else None,
        )
        for model, *edges, base, cuts, turns, stems, place, day in rows
    )  # fmt: skip


def blocks_of(store: Store, unit_id: int) -> tuple[Block, ...]:
    """Larger bases of a unit, in the order they were put there."""
    rows = store.rows(
        "SELECT id, kind, file, rank, files, ranks, models, model_id, name FROM rank_block"
        " WHERE unit_id = ? ORDER BY id",
        (unit_id,),
    )
    return tuple(Block(*row) for row in rows)


def _placed(store: Store, unit_id: int) -> tuple[Placed, ...]:
    rows = store.rows(
        "SELECT model_id, file, rank, turn, stem_mm FROM rank_place WHERE unit_id = ? ORDER BY rank, file",
        (unit_id,),
    )
    return tuple(Placed(*row) for row in rows)


def _checks(store: Store, unit_id: int) -> tuple[Check, ...]:
    rows = store.rows(
        f"SELECT {_CHECK} FROM rank_check"  # noqa: S608 - our own names
        " WHERE first IN (SELECT id FROM model WHERE unit_id = ?1)"
        " AND second IN (SELECT id FROM model WHERE unit_id = ?1) ORDER BY id",
        (unit_id,),
    )
    return tuple(Check._make((*row[:7], date.fromisoformat(row[7]), row[8])) for row in rows)


def _reach(edges: Sequence[str]) -> Reach | None:
    if not edges[0]:
        return None
    return Reach(*(tuple(None if mm == _NOTHING else int(mm) for mm in edge.split()) for edge in edges))


def _numbers(text: str, between: str) -> tuple[int, ...]:
    return tuple(int(number) for number in text.split(between)) if text else ()


def set_rule(store: Store, unit_id: int, rules: RankRules) -> None:
    """Put the unit's rules in place of those it had."""
    values = rules._asdict() | {"cuts": ",".join(map(str, rules.cuts_mm))}
    del values["cuts_mm"]
    _put(store, "rank_rule", ("unit_id", unit_id), values)


def set_rank_model(store: Store, model: RankModel) -> None:
    """Put what is known of a model in place of what was."""
    edges = {
        edge: " ".join(_NOTHING if mm is None else str(mm) for mm in getattr(model.reach, edge))
        if model.reach
        else ""
        for edge in Reach._fields
    }
    values = {
        **edges, "base": model.base, "cuts": ",".join(map(str, model.cuts_mm)), "turns": model.turns,
        "stems": ",".join(map(str, model.stems_mm)), "place": model.place,
        "measured_on": model.measured_on.isoformat() if model.measured_on else None,
    }  # fmt: skip
    _put(store, "rank_model", ("model_id", model.model_id), values)


def _put(store: Store, table: str, key: tuple[str, int], values: dict[str, Any]) -> None:
    column, number = key
    found = store.rows(f"SELECT id FROM {table} WHERE {column} = ?", (number,))  # noqa: S608 - our own names
    if found:
        store.update(table, found[0][0], **values)
    else:
        store.insert(table, uid=store.new_uid(), **{column: number}, **values)


def insert_block(store: Store, unit_id: int, block: Block) -> int:
    """Put a larger base on places of a unit; its id."""
    values = block._asdict()
    del values["id"]
    return store.insert("rank_block", uid=store.new_uid(), unit_id=unit_id, **values)


def delete_block(store: Store, block_id: int) -> None:
    """Take a larger base away."""
    store.connection.execute("DELETE FROM rank_block WHERE id = ?", (block_id,))


def set_places(store: Store, unit_id: int, placed: Iterable[Placed]) -> None:
    """The order the unit stands in, in place of the one it had."""
    store.connection.execute("DELETE FROM rank_place WHERE unit_id = ?", (unit_id,))
    for one in placed:
        store.insert("rank_place", unit_id=unit_id, **one._asdict())


def set_check(store: Store, check: Check) -> None:
    """Keep a dry fit, in place of one of the same edges on the same base; one without a day is of today."""
    day = check.checked_on or store.now().date()
    check = canonical(check)
    values = check._asdict() | {"checked_on": day.isoformat()}
    same = {field: values[field] for field in values if field not in ("mm", "checked_on")}
    where = " AND ".join(f"{field} = ?" for field in same)
    found = store.rows(f"SELECT id FROM rank_check WHERE {where}", tuple(same.values()))  # noqa: S608
    if found:
        store.update("rank_check", found[0][0], mm=check.mm, checked_on=values["checked_on"])
    else:
        store.insert("rank_check", uid=store.new_uid(), **values)


def bases_before(store: Store, unit_id: int) -> tuple[tuple[str, date], ...]:
    """(base, day it was given up) of a unit, oldest first."""
    rows = store.rows("SELECT base, until FROM base_before WHERE unit_id = ? ORDER BY until, id", (unit_id,))
    return tuple((base, date.fromisoformat(until)) for base, until in rows)


def base_changed(store: Store, unit_id: int, base: str, until: date) -> None:
    """Remember the base a unit had until that day."""
    store.insert("base_before", uid=store.new_uid(), unit_id=unit_id, base=base, until=until.isoformat())


def forget_places(store: Store, model_ids: Iterable[int]) -> None:
    """Models left their unit: they stand nowhere in it, keep no place, and no larger base is theirs.

    What was measured and dry-fitted stays with them. A filler or a shared base stays in the unit.
    """
    numbers = [(model,) for model in model_ids]
    for sql in (
        "DELETE FROM rank_place WHERE model_id = ?",
        "UPDATE rank_model SET place = '' WHERE model_id = ? AND place <> ''",
        "DELETE FROM rank_block WHERE model_id = ? AND kind = 'large model'",
        "UPDATE rank_block SET model_id = NULL WHERE model_id = ?",
    ):
        store.connection.executemany(sql, numbers)


def forget_models(store: Store, model_ids: Iterable[int]) -> None:
    """Models are taken out of the log: nothing is kept of their ranks, nor their larger bases."""
    for model in model_ids:
        for sql in (
            "DELETE FROM rank_place WHERE model_id = ?1",
            "DELETE FROM rank_model WHERE model_id = ?1",
            "DELETE FROM rank_check WHERE first = ?1 OR second = ?1",
            "DELETE FROM rank_block WHERE model_id = ?1",
        ):
            store.connection.execute(sql, (model,))


def forget_unit(store: Store, unit_id: int) -> None:
    """A unit is taken out of the log."""
    for table in ("rank_rule", "rank_block", "rank_place", "base_before"):
        store.connection.execute(f"DELETE FROM {table} WHERE unit_id = ?", (unit_id,))  # noqa: S608
