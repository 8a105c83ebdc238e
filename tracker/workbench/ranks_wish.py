"""What a person types for a unit's ranks, read into a wish."""

from __future__ import annotations

import re

from tracker.domain.problems import Problem, UsageError
from tracker.workbench.naming import shown
from tracker.workbench.ranks_rules import NO_LIMIT, RankWish

_AWAY = ("none", "")
_NUMBER = re.compile(r"\d{1,4}(?:[.,]\d{1,3})?")


def rank_wish(
    *, files: int | None = None, ranks: int | None = None, base: str | None = None, turns: str | None = None,
    gap: str | None = None, bands: str | None = None, margin: str | None = None,
    front_most: str | None = None, least: str | None = None,
) -> RankWish:  # fmt: skip
    """The wish in numbers; "none" takes a value away. A `UsageError` says what is no number."""
    models, percent = _least(least)
    front = None
    if front_most is not None:
        front = NO_LIMIT if front_most in _AWAY else round(_mm("--front-most", front_most))
    return RankWish(
        files, ranks, "" if base == "none" else base, None if bands is None else _cuts(bands),
        None if gap is None else _mm("--gap", gap), None if margin is None else _mm("--margin", margin),
        turns, front, models, percent,
    )  # fmt: skip


def _least(said: str | None) -> tuple[int | None, float | None]:
    """(models, percent of the places) of "16" or "80%"."""
    if said is None:
        return None, None
    if said in _AWAY:
        return 0, 0.0
    number = said.strip().removesuffix("%").strip()
    if not _NUMBER.fullmatch(number) or (number == said.strip() and not number.isdigit()):
        raise UsageError(Problem("--least", f"{shown(said)} is no count", 'Say models like 16, or "80%"'))
    return (int(number), None) if number == said.strip() else (None, float(number.replace(",", ".")))


def _mm(option: str, said: str) -> float:
    if said in _AWAY:
        return 0.0
    if not _NUMBER.fullmatch(said.strip()):
        raise UsageError(Problem(option, f"{shown(said)} is no number of mm", "Say it like 0.5"))
    return float(said.strip().replace(",", "."))


def _cuts(said: str) -> tuple[int, ...]:
    if said in _AWAY:
        return ()
    parts = [part.strip() for part in said.split(",")]
    if not all(re.fullmatch(r"\d{1,3}", part) for part in parts):
        raise UsageError(Problem("--bands", f"{shown(said)} are no heights", 'Say whole mm like "14,26"'))
    return tuple(int(part) for part in parts)
