"""Spares and roles in words and as JSON."""

from __future__ import annotations

from collections.abc import Sequence

from tracker.domain.answers_spares import RolesAnswer, RoleStanding, SparesAnswer
from tracker.domain.matching import Wish
from tracker.domain.spares import Spare
from tracker.report.answers import Json
from tracker.report.plain import COLUMNS, Column, clip, count_words, table, wrapped

NO_SPARES = (
    "There are no spares. Bring some in:"
    ' lastcoat spare add 12 --name spearman --base 20x20 --place "drawer 2"'
)
NO_ROLES = 'No role is planned. Plan one: lastcoat role add Spears "banner bearer" --tag banner'
_NOTES_MOST = 10
"""Notes are written out below a list of so many spares at most."""


def spares_text(answer: SparesAnswer, width: int = COLUMNS) -> str:
    """A row for every spare."""
    if not answer.kept:
        return "\n".join(wrapped(NO_SPARES, width))
    if not answer.spares:
        return f"None of the {count_words(answer.kept, 'spare')} is noted like that."
    of_all = "" if len(answer.spares) == answer.kept else f" of {answer.kept:,}"
    head = f"{len(answer.spares):,}{of_all} spare{'s' * (answer.kept != 1)}: kept, and no backlog."
    few = answer.spares if len(answer.spares) <= _NOTES_MOST else ()
    notes = [
        line
        for spare in few
        if spare.note
        for line in wrapped(f"* {spare.number}: {clip(spare.note, 300)}", width, more="  ")
    ]
    return "\n".join([*wrapped(head, width), "", *spares_table(answer.spares, width), *notes])


def spares_table(spares: Sequence[Spare], width: int) -> list[str]:
    """Number, what, base, height, state, where kept, tags."""
    columns = [
        Column("no.", right=True), Column("what", gives=True), Column("base"), Column("mm", right=True),
        Column("state"), Column("kept in", gives=True), Column("tags", gives=True),
    ]  # fmt: skip
    return table(columns, [_spare_cells(spare) for spare in spares], width)


def _spare_cells(spare: Spare) -> tuple[str, ...]:
    return (
        str(spare.number), spare_words(spare), spare.base, _mm(spare.height_mm), spare.state, spare.place,
        ", ".join(spare.tags),
    )  # fmt: skip


def spare_words(spare: Spare) -> str:
    """What it is: its name, else its kind; its part; a star where there is a note."""
    what = spare.name or spare.kind or "model"
    return what + (f" ({spare.part})" if spare.part else "") + (" *" if spare.note else "")


def roles_text(answer: RolesAnswer, width: int = COLUMNS) -> str:
    """A row for every role: what it asks, who has it."""
    if not answer.roles:
        return "\n".join(wrapped(NO_ROLES, width))
    open_ones = sum(role.model is None for role in answer.roles)
    head = f"{count_words(len(answer.roles), 'role')}, {open_ones} open. An open role is no backlog."
    columns = [
        Column("unit", gives=True), Column("role", gives=True), Column("asks", gives=True),
        Column("who", gives=True),
    ]  # fmt: skip
    rows = [(role.unit, role.role, wish_words(role.wish), who_words(role)) for role in answer.roles]
    return "\n".join([*wrapped(head, width), "", *table(columns, rows, width)])


def wish_words(wish: Wish) -> str:
    """As in "20x20, 28 mm, spear, shield"."""
    kind = "" if wish.kind in ("", "infantry") else wish.kind
    parts = (kind, wish.base, f"{wish.height_mm:g} mm" if wish.height_mm else "", *wish.tags)
    return ", ".join(part for part in parts if part) or "any"


def who_words(role: RoleStanding) -> str:
    """Who has a role: "open", or "model 7 Old Tam (stand-in)"."""
    if role.model is None:
        return "open"
    name = "" if role.model_name.casefold() == role.role.casefold() else f" {role.model_name}"
    return f"model {role.model}{name.rstrip()}" + (f" ({role.stand_in})" if role.stand_in else "")


def _mm(height_mm: float | None) -> str:
    return "" if height_mm is None else f"{height_mm:g}"


def spare_json(spare: Spare) -> Json:
    """A spare; days as ISO text."""
    return spare._asdict() | {"added_on": spare.added_on.isoformat(), "tags": list(spare.tags)}


def spares_json(answer: SparesAnswer) -> Json:
    """Every spare asked for."""
    return {
        "as_of": answer.as_of.isoformat(),
        "kept": answer.kept,
        "spares": [spare_json(spare) for spare in answer.spares],
        "doubts": [],
    }


def role_json(role: RoleStanding) -> Json:
    """A role, what it asks, who has it."""
    return {
        "army": role.army,
        "unit": role.unit,
        "role": role.role,
        "asks": role.wish._asdict() | {"tags": list(role.wish.tags)},
        "model": role.model,
        "model_name": role.model_name,
        "stand_in": role.stand_in,
        "added_on": role.added_on.isoformat(),
    }


def roles_json(answer: RolesAnswer) -> Json:
    """Every role asked for."""
    return {
        "as_of": answer.as_of.isoformat(),
        "roles": [role_json(role) for role in answer.roles],
        "doubts": [],
    }
