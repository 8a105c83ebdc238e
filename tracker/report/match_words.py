"""Who would stand best in which role, and why, in words and as JSON."""

from __future__ import annotations

from collections.abc import Sequence

from tracker.domain.answers_spares import MatchAnswer, Offer, RoleMatch
from tracker.domain.matching import Fit
from tracker.report.answers import Json
from tracker.report.plain import COLUMNS, clip, wrapped
from tracker.report.spare_words import NO_SPARES, role_json, spare_json, spare_words, wish_words

NO_OPEN_ROLES = "No role is open. Plan one: lastcoat role add Spears captain"
_GOOD, _FAIR = 0.8, 0.5
"""Scores from which a spare would do well, or would do."""
_ASKED = ("base", "height", "equipment", "kind")
"""What is compared, in the order of a fit's worths."""
_SAME_MM = 0.5


def match_text(answer: MatchAnswer, width: int = COLUMNS) -> str:
    """For each open role its best spares, why, and what they are equal in."""
    if not answer.roles:
        return "\n".join(wrapped(NO_OPEN_ROLES, width))
    if not answer.spares:
        return "\n".join(wrapped(NO_SPARES, width))
    out: list[str] = []
    for match in answer.roles:
        out += [*([""] * bool(out)), *match_lines(match, width)]
    return "\n".join(out)


def match_lines(match: RoleMatch, width: int) -> list[str]:
    """One role: what it asks, then a spare and its reason, best first."""
    out = wrapped(f"{match_title(match)}:", width, more="  ")
    if not match.offers:
        return [*out, "  No spare to look at."]
    for place, offer in enumerate(match.offers):
        before = match.offers[place - 1] if place else None
        out += wrapped(offer_words(offer, before), width, start="  ", more="      ")
    if match.also_best_for:
        out += wrapped(also_words(match), width, start="  ", more="  ")
    return out


def match_title(match: RoleMatch) -> str:
    """The role with what it asks, or what was described."""
    role = match.role
    asks = wish_words(role.wish)
    return (
        f"Most like {asks}" if not role.role else f"{clip(role.role, 40)} in {clip(role.unit, 30)} ({asks})"
    )


def also_words(match: RoleMatch) -> str:
    """That the first one is wanted elsewhere too."""
    others = ", ".join(clip(name, 40) for name in match.also_best_for)
    return f"Spare {match.offers[0].spare.number} is also best for {others}: it can fill only one of them."


def offer_words(offer: Offer, before: Offer | None = None) -> str:
    """As in "spare 12 spearman, primed, in drawer 2: would do well. Base 20x20 as wanted, …"."""
    spare = offer.spare
    more = ", ".join(part for part in (spare.state, spare.place) if part)
    alike = f" and {offer.alike - 1} more like it" if offer.alike > 1 else ""
    name = f"{spare.number:>3}  {clip(spare_words(spare), 30)}{alike}" + (
        f", {clip(more, 40)}" if more else ""
    )
    reason = reason_words(offer.fit)
    tie = tie_words(offer, before) if before is not None else ""
    return f"{name}: {verdict_words(offer.fit)}. {reason[:1].upper()}{reason[1:]}.{tie}"


def verdict_words(fit: Fit) -> str:
    """How well it would do, in a word."""
    return "would do well" if fit.score >= _GOOD else "would do" if fit.score >= _FAIR else "a makeshift"


def tie_words(offer: Offer, before: Offer) -> str:
    """Why this one stands after one that is as good; empty where it is not as good."""
    if offer.fit.score != before.fit.score:
        return ""
    same = [
        name
        for name, one, other in zip(_ASKED, offer.fit.worths, before.fit.worths, strict=True)
        if one is not None and one == other
    ]
    what = f"in {_and(same)}" if offer.fit.worths == before.fit.worths and same else "on the whole"
    return f" As good as {before.spare.number} {what}: the lower number stands first."


def reason_words(fit: Fit) -> str:
    """As in "base 20x20 as wanted, 2 mm taller, spear and shield"."""
    parts = (_base_words(fit), _height_words(fit), _tags_words(fit), _kind_words(fit), _part_words(fit))
    return ", ".join(part for part in parts if part) or "nothing is asked"


def _base_words(fit: Fit) -> str:
    base = clip(fit.look.base, 20)
    return {
        "as wanted": f"base {base} as wanted",
        "fits": f"base {base} stands in its place with room to spare",
        "about": f"base {base}: as much ground, another shape",
        "different": f"base {base} is another size",
        "unknown": "base not noted",
        "not asked": "",
    }[fit.base]


def _height_words(fit: Fit) -> str:
    if fit.worths[1] is None:
        return ""
    if fit.taller_mm is None:
        return "height not noted"
    if abs(fit.taller_mm) < _SAME_MM:
        return "as tall as wanted"
    way = "taller" if fit.taller_mm > 0 else "shorter"
    return f"{abs(fit.taller_mm):.0f} mm {way}"


def _tags_words(fit: Fit) -> str:
    if fit.worths[2] is None:
        return ""
    if not fit.look.tags:
        return "equipment not noted"
    has = _and(fit.tags_shared)
    lacks = f"no {' or '.join(fit.tags_missing)}" if fit.tags_missing else ""
    return " but ".join(part for part in (has, lacks) if part)


def _kind_words(fit: Fit) -> str:
    return f"{clip(fit.look.kind, 20)}, another kind" if fit.kind == "different" else ""


def _part_words(fit: Fit) -> str:
    return f"only its {clip(fit.look.part, 20)}" if fit.look.part else ""


def _and(words: Sequence[str]) -> str:
    return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)


def match_json(answer: MatchAnswer) -> Json:
    """Every open role with its best spares; scores from 0 to 1."""
    return {
        "as_of": answer.as_of.isoformat(),
        "spares": answer.spares,
        "looks": answer.looks,
        "roles": [
            role_json(match.role)
            | {
                "also_best_for": list(match.also_best_for),
                "offers": [_offer_json(offer) for offer in match.offers],
            }
            for match in answer.roles
        ],
        "doubts": [],
    }


def _offer_json(offer: Offer) -> Json:
    fit = offer.fit
    return {
        "spare": spare_json(offer.spare),
        "alike": offer.alike,
        "score": round(fit.score, 3),
        "base": fit.base,
        "taller_mm": fit.taller_mm,
        "kind": fit.kind,
        "tags_shared": list(fit.tags_shared),
        "tags_missing": list(fit.tags_missing),
        "reason": reason_words(fit),
    }
