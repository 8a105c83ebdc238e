"""How well a spare would stand in a role: base first, then height, equipment, kind.

Players accept another model where its base is right, its silhouette is close and its equipment reads at a
glance (common practice, no source). Spares that look alike are judged once.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import lru_cache
from math import pi
from typing import Literal, NamedTuple

from tracker.domain.bases import Base, parse_base
from tracker.domain.problems import Problem

BaseFit = Literal["as wanted", "fits", "about", "unknown", "different", "not asked"]
KindFit = Literal["same", "unknown", "different", "not asked"]

BASE_WEIGHT, HEIGHT_WEIGHT, TAGS_WEIGHT, KIND_WEIGHT = 0.55, 0.20, 0.15, 0.10
"""The base weighs more than all else together: no other likeness makes up for a wrong one."""
SAME_HEIGHT_MM, OTHER_HEIGHT_MM = 1.0, 6.0
UNKNOWN = 0.25
"""What nobody noted is worth a little: less than a near fit, more than a misfit."""
PART_SHARE = 0.5
"""A rider without its mount is half an answer."""
_BASE_WORTH: dict[str, float] = {
    "as wanted": 1.0, "fits": 0.6, "about": 0.6, "unknown": UNKNOWN, "different": 0.0,
}  # fmt: skip
_KIND_WORTH = {"same": 1.0, "unknown": UNKNOWN, "different": 0.0}
_ROOMY_MOST = 2.0
"""A place of up to twice its area still holds a smaller base without looking empty."""
_ABOUT = 1.25
"""Areas that differ by no more than a quarter are about the same."""
_EXACT_DIGITS = 9


class Wish(NamedTuple):
    """What a role asks of a model; what is empty is not asked."""

    base: str = ""
    height_mm: float | None = None
    kind: str = ""
    tags: tuple[str, ...] = ()


class Look(NamedTuple):
    """Spares that are alike in everything that is compared."""

    base: str
    height_mm: float | None
    kind: str
    part: str
    tags: tuple[str, ...]
    first: int
    """The lowest of their numbers."""
    alike: int = 1
    """How many of them there are."""


class Fit(NamedTuple):
    """How well one look answers a wish, and why."""

    look: Look
    score: float
    """0 to 1: the mean of what was asked, by the weights above."""
    base: BaseFit
    taller_mm: float | None
    """Height over the wanted one, negative = shorter; None = one of them is not known."""
    kind: KindFit
    tags_shared: tuple[str, ...]
    tags_missing: tuple[str, ...]
    worths: tuple[float | None, float | None, float | None, float | None]
    """Base, height, tags, kind: 0 to 1 each, None = not asked."""


def best_fits(wish: Wish, looks: Iterable[Look], most: int | None = None) -> tuple[Fit, ...]:
    """The looks in order of their score, best first; of equal ones the one with the lowest number."""
    fits = sorted((fit_of(wish, look) for look in looks), key=lambda fit: (-fit.score, fit.look.first))
    return tuple(fits[:most])


def fit_of(wish: Wish, look: Look) -> Fit:
    """How well a look answers a wish.

    score = sum(weight * worth) / sum(weight) over what is asked; a part counts half of it.
    """
    base, kind = base_fit(wish.base, look.base), _kind_fit(wish.kind, look.kind)
    taller = None if None in (wish.height_mm, look.height_mm) else _taller(wish, look)
    shared, missing = _shared(wish.tags, look.tags)
    worths = (
        _BASE_WORTH.get(base),
        None if wish.height_mm is None else height_worth(taller),
        _tags_worth(wish.tags, shared, look.tags),
        _KIND_WORTH.get(kind),
    )
    score = _mean(worths) * (PART_SHARE if look.part else 1.0)
    return Fit(look, round(score, _EXACT_DIGITS), base, taller, kind, shared, missing, worths)


def height_worth(taller_mm: float | None) -> float:
    """1 up to 1 mm of difference, falling evenly to 0 at 6 mm; unknown is worth a little."""
    if taller_mm is None:
        return UNKNOWN
    over = abs(taller_mm) - SAME_HEIGHT_MM
    return min(max(1 - over / (OTHER_HEIGHT_MM - SAME_HEIGHT_MM), 0.0), 1.0)


@lru_cache(maxsize=4096)
def base_fit(wanted: str, has: str) -> BaseFit:
    """How a base answers the wanted one, both in the person's words.

    "Fits": it stands inside the wanted one's place, a tray's too. "About": as much ground, another shape.
    """
    if not wanted:
        return "not asked"
    want, got = parse_base(wanted), parse_base(has) if has else None
    if isinstance(want, Problem):
        return "as wanted" if wanted.casefold() == has.casefold() else "unknown"
    if got is None or isinstance(got, Problem):
        return "unknown"
    if want == got:
        return "as wanted"
    ratio = _area(want) / _area(got)
    is_inside = got.width_mm <= want.width_mm and got.depth_mm <= want.depth_mm
    if is_inside and ratio <= _ROOMY_MOST:
        return "fits"
    return "about" if 1 / _ABOUT <= ratio <= _ABOUT else "different"


def also_best_for(firsts: Sequence[tuple[str, Fit | None]]) -> dict[str, tuple[str, ...]]:
    """For each role (by name) the other roles that the same spares are best for.

    Only where there are fewer of them than roles that they are best for.
    """
    takers: dict[int, list[str]] = {}
    counts: dict[int, int] = {}
    for role, fit in firsts:
        if fit is not None:
            takers.setdefault(fit.look.first, []).append(role)
            counts[fit.look.first] = fit.look.alike
    return {
        role: tuple(other for other in roles if other != role)
        for first, roles in takers.items()
        if len(roles) > counts[first]
        for role in roles
    }


def _area(base: Base) -> float:
    """The ground a base covers, mm²: width * depth, an ellipse pi / 4 of it."""
    return base.width_mm * base.depth_mm * (1.0 if base.shape == "rectangle" else pi / 4)


def _taller(wish: Wish, look: Look) -> float:
    return (look.height_mm or 0.0) - (wish.height_mm or 0.0)


def _kind_fit(wanted: str, has: str) -> KindFit:
    if not wanted:
        return "not asked"
    if not has:
        return "unknown"
    return "same" if wanted.casefold() == has.casefold() else "different"


def _shared(wanted: Sequence[str], has: Sequence[str]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    there = {tag.casefold() for tag in has}
    shared = tuple(tag for tag in wanted if tag.casefold() in there)
    return shared, tuple(tag for tag in wanted if tag.casefold() not in there)


def _tags_worth(wanted: Sequence[str], shared: Sequence[str], has: Sequence[str]) -> float | None:
    """Shared over all words of either (Jaccard); 0 without a word shared, a little where none is noted."""
    if not wanted:
        return None
    if not has:
        return UNKNOWN
    return len(shared) / (len(wanted) + len(has) - len(shared))


_WEIGHTS = (BASE_WEIGHT, HEIGHT_WEIGHT, TAGS_WEIGHT, KIND_WEIGHT)


def _mean(worths: Sequence[float | None]) -> float:
    asked = [(weight, worth) for weight, worth in zip(_WEIGHTS, worths, strict=True) if worth is not None]
    total = sum(weight for weight, _ in asked)
    return sum(weight * worth for weight, worth in asked) / total if total else 1.0
