"""Spares and roles, read in one query each: a big box of spares must not make an answer wait."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
from typing import Any, NamedTuple

from tracker.domain.answers_spares import RoleStanding
from tracker.domain.keeping import Role
from tracker.domain.matching import Look, Wish
from tracker.domain.spares import Spare
from tracker.store.journal import Store

_IS_SPARE = "model.unit_id IS NULL AND model.left_on IS NULL"
_KEPT = "model LEFT JOIN keeping ON keeping.model_id = model.id"
_NUMBERS_AT_ONCE = 500


class KeptRole(NamedTuple):
    """A role with its number, and how it stands."""

    id: int
    unit_id: int
    own: Role
    """As it is kept: empty where it goes by its unit."""
    standing: RoleStanding


def spares_kept(store: Store, numbers: Sequence[int] | None = None) -> tuple[Spare, ...]:
    """Spares by number, all of them or those with these numbers."""
    if numbers is None:
        return tuple(_read_spares(store, "1", ()))
    found: list[Spare] = []
    for start in range(0, len(numbers), _NUMBERS_AT_ONCE):
        some = tuple(numbers[start : start + _NUMBERS_AT_ONCE])
        found += _read_spares(store, f"model.number IN ({', '.join('?' * len(some))})", some)
    return tuple(sorted(found, key=lambda spare: spare.number))


def _read_spares(store: Store, test: str, values: tuple[int, ...]) -> Iterable[Spare]:
    sql = (
        "SELECT number, kind, name, note, added_on, part, coalesce(base, ''), height_mm,"  # noqa: S608
        " coalesce(material, ''), coalesce(state, ''), coalesce(place, ''), coalesce(tags, '')"
        f" FROM {_KEPT} WHERE {_IS_SPARE} AND {test} ORDER BY number"
    )
    days: dict[str, date] = {}
    for number, kind, name, note, added, part, base, height, *rest, tags in store.rows(sql, values):
        came = days.get(added) or days.setdefault(added, date.fromisoformat(added))
        material, state, place = rest
        yield Spare(number, kind, name, note, came, part, base, height, material, state, place, _words(tags))


def looks_kept(store: Store) -> tuple[Look, ...]:
    """What the spares look like, those that are alike together."""
    rows = store.rows(
        "SELECT coalesce(base, ''), height_mm, kind, part, coalesce(tags, '') AS words, min(number), count(*)"  # noqa: S608
        f" FROM {_KEPT} WHERE {_IS_SPARE} GROUP BY 1, 2, 3, 4, 5 ORDER BY 6"
    )
    return tuple(
        Look(base, height, kind, part, _words(tags), first, alike)
        for base, height, kind, part, tags, first, alike in rows
    )


def spare_count(store: Store) -> int:
    """How many spares there are."""
    return int(store.rows(f"SELECT count(*) FROM model WHERE {_IS_SPARE}")[0][0])  # noqa: S608


def state_of(store: Store, model_id: int) -> str:
    """What was said of how far a model has come; empty = nothing."""
    rows = store.rows("SELECT state FROM keeping WHERE model_id = ?", (model_id,))
    return str(rows[0][0]) if rows else ""


def steps_spoken_of(store: Store, model_id: int) -> frozenset[str]:
    """Steps that a mark or a line tells something of for a model."""
    rows = store.rows(
        "SELECT step FROM mark WHERE model_id = ?1 UNION SELECT step FROM line JOIN line_model"
        " ON line_model.line_id = line.id WHERE line_model.model_id = ?1",
        (model_id,),
    )
    return frozenset(str(step).casefold() for (step,) in rows)


def roles_kept(store: Store, test: str = "1", values: tuple[Any, ...] = ()) -> tuple[KeptRole, ...]:
    """Roles by army, unit and age; one whose model left waits again."""
    sql = (
        "SELECT role.id, role.unit_id, role.name, role.kind, role.base, role.height_mm, role.tags,"  # noqa: S608
        " model.id, CASE WHEN model.id IS NULL THEN '' ELSE role.stand_in END, role.added_on,"
        " army.name, unit.name, unit.kind, unit.base, model.number, coalesce(model.name, '')"
        " FROM role JOIN unit ON unit.id = role.unit_id JOIN army ON army.id = unit.army_id"
        " LEFT JOIN model ON model.id = role.model_id AND model.left_on IS NULL"
        f" WHERE {test} ORDER BY army.id, unit.id, role.id"
    )
    return tuple(map(_role_row, store.rows(sql, values)))


def _role_row(row: tuple[Any, ...]) -> KeptRole:
    number, unit_id, name, kind, base, height, tags, model, stand_in, added, *of_unit = row
    army, unit, its_kind, its_base, its_number, its_name = of_unit
    day, words = date.fromisoformat(added), _words(tags)
    own = Role(number, unit_id, name, kind, base, height, words, model, stand_in, day)
    wish = Wish(base or its_base, height, kind or its_kind, words)
    standing = RoleStanding(army, unit, name, wish, its_number, its_name, stand_in, day)
    return KeptRole(number, unit_id, own, standing)


def stand_ins_of(store: Store, unit_id: int) -> dict[int, str]:
    """How the models of a unit fill their roles, by the models' numbers; only where it was said."""
    rows = store.rows(
        "SELECT model.number, role.stand_in FROM role JOIN model ON model.id = role.model_id"
        " WHERE role.unit_id = ? AND role.stand_in <> ''",
        (unit_id,),
    )
    return {int(number): str(how) for number, how in rows}


def _words(text: str) -> tuple[str, ...]:
    return tuple(text.split("\n")) if text else ()
