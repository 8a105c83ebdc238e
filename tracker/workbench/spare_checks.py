"""What can be noted of a spare or asked of a role: one clear line for what cannot."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import isfinite

from tracker.domain.bases import parse_base
from tracker.domain.keeping import SPARE_STATES
from tracker.domain.problems import DataError, Problem
from tracker.domain.records import KINDS, MATERIALS
from tracker.domain.text import NAME_LETTERS_MOST, tidy
from tracker.workbench.naming import good_text, shown

HEIGHT_MOST_MM = 1000.0
TAGS_MOST = 50


def good_words(where: str, text: str, known: Sequence[str] = ()) -> str:
    """A short text, perhaps empty; a known word is written as it is known."""
    words = tidy(good_text(where, text))
    if len(words) > NAME_LETTERS_MOST:
        what = f"it has {len(words)} letters"
        raise DataError(Problem(where, what, f"Shorten it to {NAME_LETTERS_MOST}"))
    return words.casefold() if words.casefold() in known else words


def good_kind(text: str) -> str:
    """A kind, perhaps the person's own."""
    return good_words("--kind", text, KINDS)


def good_material(text: str) -> str:
    """A material, perhaps the person's own."""
    return good_words("--material", text, MATERIALS)


def good_base(text: str) -> str:
    """A base size in the person's words."""
    words = good_words("--base", text)
    base = parse_base(words) if words else None
    if isinstance(base, Problem):
        raise DataError(base._replace(where="--base"))
    return words


def good_height(height_mm: float | None) -> float | None:
    """A height in mm, more than 0."""
    if height_mm is None or (isfinite(height_mm) and 0 < height_mm <= HEIGHT_MOST_MM):
        return height_mm
    what = f"{height_mm:g} mm cannot be"
    raise DataError(Problem("--height", what, f"Say more than 0 and at most {HEIGHT_MOST_MM:g}"))


def good_state(text: str) -> str:
    """How far a spare has come."""
    word = good_words("--state", text, SPARE_STATES)
    if word and word not in SPARE_STATES:
        raise DataError(
            Problem("--state", f"{shown(word)} is no state", f"One of: {', '.join(SPARE_STATES)}")
        )
    return word


def good_tags(tags: Iterable[str]) -> tuple[str, ...]:
    """The person's own words, each once, without line ends."""
    found: dict[str, str] = {}
    for said in tags:
        tag = " ".join(good_words("--tag", said).split())
        if tag:
            found.setdefault(tag.casefold(), tag)
    if len(found) > TAGS_MOST:
        raise DataError(Problem("--tag", f"{len(found)} words cannot be", f"Say at most {TAGS_MOST}"))
    return tuple(found.values())
