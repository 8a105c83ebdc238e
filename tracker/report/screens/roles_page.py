"""The open roles as a page, the best spares below each; and how a role is said in one line."""

from __future__ import annotations

from collections.abc import Sequence
from json import dumps, loads
from typing import NamedTuple

from tracker.domain.answers_spares import MatchAnswer, RoleMatch, RolesAnswer
from tracker.domain.problems import Problem
from tracker.report.match_words import also_words, match_title, offer_words
from tracker.report.plain import clip, count_words, wrapped
from tracker.report.screens.chrome import NOT_YET_READ
from tracker.report.screens.line import BLANK, PageLine, head, sentences
from tracker.report.screens.spares_page import read_new_spares
from tracker.report.spare_words import who_words

ASK_NEW_ROLE = "Which role? Spears: banner bearer, 20x20, 28 mm, banner; several: Spears: 4 spearman, spear"
WORKING_OUT = "Looking through the spares …"
_NONE = "No role is planned. n plans one: a place in a unit that a model is wanted for. No backlog."
_NO_SPARES = "There are no spares to look at."
_MEND = 'Write it like "Spears: banner bearer, 20x20, 28 mm, banner"'


class SaidRole(NamedTuple):
    """Roles as they were typed."""

    unit: str
    role: str
    models: int = 1
    kind: str = ""
    base: str = ""
    height_mm: float | None = None
    tags: tuple[str, ...] = ()


class OfferKey(NamedTuple):
    """What a line of the page stands for: a role, perhaps with the spare offered for it."""

    army: str
    unit: str
    role: str
    spare: int | None = None


def roles_lines(match: MatchAnswer | None, roles: RolesAnswer | None, width: int) -> list[PageLine]:
    """Each open role with its best spares; below them who has the others."""
    if match is None or roles is None:
        return [PageLine(NOT_YET_READ, "quiet")]
    if not roles.roles:
        return sentences(_NONE, width, "quiet")
    out: list[PageLine] = []
    if match.roles:
        said = f"{count_words(len(match.roles), 'open role')}; Enter takes the spare under the cursor."
        out += sentences(said if match.spares else _NO_SPARES, width, "quiet")
    for one in match.roles:
        out += [BLANK, *_match_lines(one, width)]
    taken = [role for role in roles.roles if role.model is not None]
    if taken:
        out += [*([BLANK] if out else []), head("Filled")]
    for role in taken:
        text = f"{clip(role.role, 30)} in {clip(role.unit, 30)}: {who_words(role)}"
        out.append(PageLine(clip(text, width), "row", write_key(OfferKey(role.army, role.unit, role.role))))
    return out


def _match_lines(match: RoleMatch, width: int) -> list[PageLine]:
    role = match.role
    key = OfferKey(role.army, role.unit, role.role)
    out = [PageLine(clip(f"{match_title(match)}:", width), "head", write_key(key))]
    for place, offer in enumerate(match.offers):
        before = match.offers[place - 1] if place else None
        first, *more = wrapped(offer_words(offer, before), width, start="  ", more="       ")
        out.append(PageLine(first, "row", write_key(key._replace(spare=offer.spare.number))))
        out += [PageLine(line, "quiet") for line in more]
    if match.also_best_for:
        out += [PageLine(line, "care") for line in wrapped(also_words(match), width, start="  ", more="  ")]
    return out


def write_key(key: OfferKey) -> str:
    """A key of a line."""
    return dumps(key)


def read_key(text: str) -> OfferKey:
    """The other way round."""
    return OfferKey(*loads(text))


def read_new_role(text: str) -> SaidRole | Problem:
    """A unit, a colon, what the role is called, then what it asks; a number before the name makes several."""
    unit, colon, rest = text.partition(":")
    if not colon or not unit.strip() or not rest.strip():
        return Problem("the role", "the unit and the role's name are needed", _MEND)
    words = rest.strip()
    said = read_new_spares(words if words[0].isdigit() else f"1 {words}")
    if isinstance(said, Problem):
        return Problem("the role", said.what, _MEND)
    name = said.name or said.kind
    if not name or said.models < 1:
        return Problem("the role", "its name is missing", _MEND)
    return SaidRole(unit.strip(), name, said.models, said.kind, said.base, said.height_mm, said.tags)


def spare_of(answer: MatchAnswer | None, key: OfferKey) -> int | None:
    """The spare of a line, or the best one where the line is the role's own."""
    if key.spare is not None or answer is None:
        return key.spare
    found: Sequence[RoleMatch] = [
        one
        for one in answer.roles
        if (one.role.army, one.role.unit, one.role.role) == (key.army, key.unit, key.role)
    ]
    return found[0].offers[0].spare.number if found and found[0].offers else None
