"""How well a spare would stand in a role: base first, then height, equipment, kind.

Players accept another model where its base is right, its silhouette is close and its equipment reads at a
glance (common practice, no source). Spares that look alike are judged once.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from functools import lru_cache
from math import pi
from typing import Any, Literal, NamedTuple

from tracker.domain.bases import Base, parse_base
from tracker.domain.problems import Problem

BaseFit = Literal["as wanted", "fits", "about", "unknown", "different", "not asked"]
KindFit = Literal["same", "unknown", "different", "not asked"]

BASE_WEIGHT, HEIGHT_WEIGHT, TAGS_WEIGHT, KIND_WEIGHT = 0.55, 0.20, 0.15, 0.10
"""The base weighs more than all else together: no other likeness makes up for a wrong one."""
_WEIGHTS = (BASE_WEIGHT, HEIGHT_WEIGHT, TAGS_WEIGHT, KIND_WEIGHT)
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


Worths = tuple[float | None, float | None, float | None, float | None]
"""Base, height, tags, kind: 0 to 1 each, None = not asked."""

_Worth = Callable[[Any], float]


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
    worths: Worths


class Judge:
    """Judges looks by one wish; a base, a height, a set of tags, a kind that comes again is judged once."""

    def __init__(self, wish: Wish) -> None:
        worths = _worths_by(wish)
        total = sum(weight for weight, worth in zip(_WEIGHTS, worths, strict=True) if worth)
        self._shares = [
            weight / total if worth else 0.0 for weight, worth in zip(_WEIGHTS, worths, strict=True)
        ]
        self._worths = worths
        self._least = 0.0 if total else 1.0
        self._known: tuple[dict[Any, float], ...] = ({}, {}, {}, {})

    def score(self, look: Look) -> float:
        """sum(weight * worth) / sum(weight) over what is asked, 1 if nothing is; a part counts half of it."""
        bases, heights, tags, kinds = self._known
        try:
            score = bases[look.base] + heights[look.height_mm] + tags[look.tags] + kinds[look.kind]
        except KeyError:
            self._learn(look)
            return self.score(look)
        score = round(self._least + score, _EXACT_DIGITS)
        return score * PART_SHARE if look.part else score

    def _learn(self, look: Look) -> None:
        values = (look.base, look.height_mm, look.tags, look.kind)
        for known, value, worth, share in zip(self._known, values, self._worths, self._shares, strict=True):
            if value not in known:
                known[value] = share * worth(value) if worth else 0.0


def best_fits(wish: Wish, looks: Iterable[Look], most: int | None = None) -> tuple[Fit, ...]:
    """The looks in order of their score, best first; of equal ones the one with the lowest number."""
    judge = Judge(wish)
    order = sorted((-judge.score(look), look.first, look) for look in looks)
    return tuple(fit_of(wish, look) for _, _, look in order[:most])


def fit_of(wish: Wish, look: Look) -> Fit:
    """How well a look answers a wish, and in what; the score is that of `Judge`."""
    shared, missing = _shared(wish.tags, look.tags)
    return Fit(
        look,
        Judge(wish).score(look),
        base_fit(wish.base, look.base),
        _taller(wish, look),
        _kind_fit(wish.kind, look.kind),
        shared,
        missing,
        worths(wish, look),
    )


def worths(wish: Wish, look: Look) -> Worths:
    """How much of what is asked a look has, thing by thing."""
    base, height, tags, kind = _worths_by(wish)
    return (
        base and base(look.base),
        height and height(look.height_mm),
        tags and tags(look.tags),
        kind and kind(look.kind),
    )


def _worths_by(wish: Wish) -> tuple[_Worth | None, _Worth | None, _Worth | None, _Worth | None]:
    """What judges a base, a height, a set of tags and a kind; None = not asked."""
    wanted_mm = wish.height_mm
    return (
        (lambda has: _BASE_WORTH[base_fit(wish.base, has)]) if wish.base else None,
        None if wanted_mm is None else lambda has: height_worth(None if has is None else has - wanted_mm),
        (lambda has: _tags_worth(wish.tags, has)) if wish.tags else None,
        (lambda has: _KIND_WORTH[_kind_fit(wish.kind, has)]) if wish.kind else None,
    )


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


def _taller(wish: Wish, look: Look) -> float | None:
    if wish.height_mm is None or look.height_mm is None:
        return None
    return look.height_mm - wish.height_mm


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


def _tags_worth(wanted: Sequence[str], has: Sequence[str]) -> float:
    """Shared over all words of either (Jaccard); 0 without a word shared, a little where none is noted."""
    if not has:
        return UNKNOWN
    shared = len(_shared(wanted, has)[0])
    return shared / (len(wanted) + len(has) - shared)
