"""The verbs of roles: places in a unit that a model is wanted for, filled by spares and freed again.

A role that nobody has is no model and no backlog.
"""

from __future__ import annotations

import os
from collections.abc import Sequence
from typing import NamedTuple

from tracker.domain.answers_spares import RolesAnswer
from tracker.domain.keeping import Role, StandIn
from tracker.domain.problems import DataError, Problem, did_you_mean
from tracker.domain.text import same_name
from tracker.report.plain import clip
from tracker.store.book import change as change_record
from tracker.store.book import drop, keep
from tracker.store.journal import Store
from tracker.store.spares import KeptRole, roles_kept
from tracker.workbench.desk import Desk
from tracker.workbench.naming import SHOWN_LETTERS, KnownUnit, good_name, shown, the_unit
from tracker.workbench.spare_checks import good_base, good_height, good_kind, good_tags
from tracker.workbench.spare_joins import join_unit
from tracker.workbench.spares import spare_numbered
from tracker.workbench.units_plan import Changed
from tracker.workbench.units_shape import take_over

ROLES_MOST = 500
HOW_WORDS = {"": "as meant", "stand-in": "as a stand-in", "for good": "for good"}


class RoleSaid(NamedTuple):
    """What a role asks; what is empty goes by its unit, or is not asked."""

    kind: str = ""
    base: str = ""
    height_mm: float | None = None
    tags: tuple[str, ...] = ()


def add_roles(
    desk: Desk, unit: str, name: str, said: RoleSaid, *, count: int = 1, army: str | None = None
) -> Changed:
    """Plan roles in a unit; several are numbered: "Spearman 1", "Spearman 2"."""
    called = good_name("the role", name)
    if not 1 <= count <= ROLES_MOST:
        raise DataError(Problem("--count", f"{count} roles cannot be", f"Say 1 to {ROLES_MOST}"))
    good = checked_role(said)
    with desk.open() as store, store.change("role") as change:
        known = the_unit(store, unit, army)
        names = _free_names(store, known, called, count)
        for one in names:
            keep(store, Role(0, known.id, one, *good, added_on=desk.evening_day()))
        listed = names[0] if count == 1 else f"{names[0]} to {names[-1]}"
        what = "role" if count == 1 else "roles"
        done = Changed(f"{what} {clip(listed, SHOWN_LETTERS)} in {known.name}, open", _NO_MODEL)
        change.words = done.words()
    return done


_NO_MODEL = "An open role is no model and no backlog. See who could fill it: lastcoat role match."


def drop_role(desk: Desk, role: str, *, unit: str | None = None, army: str | None = None) -> Changed:
    """Give a role up; a model that had it stays in the unit."""
    with desk.open() as store, store.change("role") as change:
        kept = the_role(store, role, unit, army)
        drop(store, kept.own)
        has = kept.standing.model
        stays = f"Model {has} stays in {kept.standing.unit}." if has is not None else ""
        done = Changed(f"no longer the role {kept.own.name} in {kept.standing.unit}", stays)
        change.words = done.words()
    return done


def fill_role(
    desk: Desk, role: str, spare: int, how: StandIn = "", *, unit: str | None = None, army: str | None = None
) -> Changed:
    """A spare takes a role: it joins the unit with its history, and has the role's name if it had none.

    `how`: "stand-in" for an evening, "for good" if it was converted for the role, "" as it was meant.
    """
    with desk.open() as store, store.change("role") as change:
        kept = the_role(store, role, unit, army, is_open=True)
        if kept.standing.model is not None:
            what = f"{shown(kept.own.name)} has a model already: {_who(kept)}"
            raise DataError(Problem("the role", what, f'Free it first: lastcoat role free "{kept.own.name}"'))
        model, its = spare_numbered(store, spare)
        behind = join_unit(store, [model], kept.unit_id, desk.evening_day())
        change_record(store, kept.own._replace(model_id=model, stand_in=how))
        if not its.name:
            store.update("model", model, name=kept.own.name)
        if kept.own.kind and not its.kind:
            store.update("model", model, kind=kept.own.kind)
        called = f"spare {spare}" + (f" ({clip(its.name, 30)})" if its.name else "")
        words = f"{called} fills {kept.own.name} in {kept.standing.unit} {HOW_WORDS[how]}"
        done = Changed(words.removesuffix(" as meant"), behind)
        change.words = done.words()
    return done


def free_role(
    desk: Desk, role: str, *, stays: bool = False, unit: str | None = None, army: str | None = None
) -> Changed:
    """A role waits again; its model goes back to the spares, or stays in the unit if that is said."""
    with desk.open() as store, store.change("role") as change:
        kept = the_role(store, role, unit, army, is_open=False)
        standing, model = kept.standing, kept.own.model_id
        if model is None:
            what = f"nobody has the role {shown(kept.own.name)}"
            raise DataError(Problem("the role", what, "See lastcoat role show"))
        # It takes back the name that it lent.
        if same_name(standing.model_name, kept.own.name):
            store.update("model", model, name="")
        change_record(store, kept.own._replace(model_id=None, stand_in=""))
        where = f"model {standing.model} stays in {standing.unit}"
        if not stays:
            take_over(store, kept.unit_id, [model], None)
            number = store.rows("SELECT number FROM model WHERE id = ?", (model,))[0][0]
            where = f"its model is spare {number} again"
        done = Changed(f"the role {kept.own.name} in {standing.unit} is open, {where}")
        change.words = done.words()
    return done


def roles_answer(desk: Desk, unit: str | None = None, *, army: str | None = None) -> RolesAnswer:
    """Roles and who has them: all, or those of a unit."""
    if not os.path.lexists(desk.path):
        return RolesAnswer(desk.today(), ())
    with desk.open() as store, store.snapshot():
        return RolesAnswer(desk.today(), tuple(role.standing for role in roles_said(store, unit, army)))


def roles_said(store: Store, unit: str | None, army: str | None = None) -> tuple[KeptRole, ...]:
    """All roles, or those of a unit."""
    if unit is None:
        return roles_kept(store)
    return roles_kept(store, "role.unit_id = ?", (the_unit(store, unit, army).id,))


def the_role(
    store: Store, name: str, unit: str | None, army: str | None = None, *, is_open: bool | None = None
) -> KeptRole:
    """The role of that name; of several in one unit the first that is open (or taken) as wanted."""
    there = roles_said(store, unit, army)
    found = [role for role in there if same_name(role.own.name, name)]
    if len({role.unit_id for role in found}) > 1:
        units = " or ".join(dict.fromkeys(shown(role.standing.unit) for role in found))
        raise DataError(
            Problem("the role", f"{shown(name)} stands in more than one unit", f"Say --unit {units}")
        )
    if not found:
        names = [role.own.name for role in there]
        mend = did_you_mean(name, names, "See lastcoat role show, or plan it: lastcoat role add")
        raise DataError(Problem("the role", f"there is no role {shown(name)}", mend))
    fitting = [role for role in found if is_open is None or (role.standing.model is None) == is_open]
    return (fitting or found)[0]


def checked_role(said: RoleSaid) -> RoleSaid:
    """What was said, tidy; a `DataError` for what cannot be asked."""
    height = good_height(said.height_mm)
    return RoleSaid(good_kind(said.kind), good_base(said.base), height, good_tags(said.tags))


def _free_names(store: Store, known: KnownUnit, name: str, count: int) -> list[str]:
    """Names that no role of the unit has: the one said, or it with numbers that go on from the last."""
    taken = {role.own.name.casefold() for role in roles_kept(store, "role.unit_id = ?", (known.id,))}
    if count == 1:
        if name.casefold() in taken:
            what = f"there is a role {shown(name)} in {shown(known.name)} already"
            raise DataError(Problem("the role", what, "Use another name, or --count for several"))
        return [name]
    names: list[str] = []
    number = 0
    while len(names) < count:
        number += 1
        if f"{name} {number}".casefold() not in taken:
            names.append(f"{name} {number}")
    return names


def _who(kept: KeptRole) -> str:
    name = kept.standing.model_name
    return f"model {kept.standing.model}" + (f" ({clip(name, 30)})" if name else "")


def open_roles(store: Store, unit: str | None = None, army: str | None = None) -> Sequence[KeptRole]:
    """Roles that nobody has."""
    return [role for role in roles_said(store, unit, army) if role.standing.model is None]
