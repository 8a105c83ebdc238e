"""The spares as a page: a row for each, the one-line ways to bring some in and to give them a role."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import NamedTuple

from tracker.domain.bases import parse_base
from tracker.domain.keeping import SPARE_STATES
from tracker.domain.problems import Problem
from tracker.domain.records import KINDS, MATERIALS
from tracker.domain.spares import Spare, with_words
from tracker.report.plain import clip, count_words
from tracker.report.screens.chrome import NOT_YET_READ
from tracker.report.screens.line import BLANK, PageLine, sentences
from tracker.report.spare_words import spares_table

ASK_ROLE = "Which unit takes spare {number}? Its name; for several spares: Spears: 2, 5-7"
ASK_NEW = "Which spares? 12 spearman, 20x20, 28 mm, primed, in drawer 2, spear, shield"
ASK_FILTER = "Words in what is noted? Nothing shows every spare"
_NONE = "There are no spares. n brings some in; a model becomes one on its unit's sheet. No backlog."
_MEND = 'Write it like "12 spearman, 20x20, 28 mm, primed, in drawer 2, spear"'
_RANGE = re.compile(r"([0-9]{1,6})(?:-([0-9]{1,6}))?")
_RANGE_MOST = 1000
_COUNT = re.compile(r"(?P<count>\d{1,5})(?:\s+(?P<name>.+))?", re.DOTALL)
_HEIGHT = re.compile(r"(?P<mm>\d{1,3}(?:\.\d+)?)\s*mm(?:\s+tall)?", re.IGNORECASE)
_DECIMAL = re.compile(r"(?<![\dx×*])(\d{1,3}),(\d+\s*mm)", re.IGNORECASE)
"""A comma inside a height, as in "28,5 mm"."""
_PLACE = re.compile(r"(?:kept\s+)?(?:in|on|under|at)\s+(?P<place>.+)", re.IGNORECASE | re.DOTALL)
_BASE_LIKE = re.compile(r"\d.*(?:[x×*]|round|oval|square).*", re.IGNORECASE | re.DOTALL)


class SaidSpares(NamedTuple):
    """Spares as they were typed."""

    models: int
    name: str = ""
    kind: str = ""
    base: str = ""
    height_mm: float | None = None
    material: str = ""
    state: str = ""
    place: str = ""
    tags: tuple[str, ...] = ()


def spares_lines(spares: Sequence[Spare] | None, width: int, wanted: str = "") -> list[PageLine]:
    """A row for every spare, or for those of which all the wanted words are noted."""
    if spares is None:
        return [PageLine(NOT_YET_READ, "quiet")]
    if not spares:
        return sentences(_NONE, width, "quiet")
    said = f"{count_words(len(spares), 'spare')}: kept, and no backlog until a unit takes them."
    shown = with_words(spares, wanted.split())
    if wanted.strip():
        said += f" {len(shown):,} with {clip(wanted.strip(), 30)}."
    out = [*sentences(said, width), BLANK]
    if not shown:
        return [*out, PageLine("None is noted like that. / and nothing shows all again.", "quiet")]
    titles, _, *rows = spares_table(shown, width)
    out.append(PageLine(titles, "quiet"))
    return [
        *out,
        *(PageLine(row, "row", str(spare.number)) for row, spare in zip(rows, shown, strict=True)),
    ]


def read_role(said: str, here: int) -> tuple[str, list[int]] | Problem:
    """(unit, numbers of spares): "Spears" for the spare under the cursor, "Spears: 2, 5-7" for those."""
    unit, colon, tail = said.rpartition(":")
    if not colon:
        return said.strip(), [here]
    numbers: list[int] = []
    for part in tail.replace(",", " ").split():
        found = _RANGE.fullmatch(part)
        low, high = (int(found[1]), int(found[2] or found[1])) if found else (0, 0)
        if not 0 < low <= high < low + _RANGE_MOST:
            return Problem("spares", f"{clip(part, 20)} cannot be", 'Write it like "Spears: 2, 5-7"')
        numbers += range(low, high + 1)
    return unit.strip(), numbers


def read_new_spares(text: str) -> SaidSpares | Problem:
    """How many and what, then base, height, state, kind, material, place and tags in any order."""
    first, *pieces = (piece.strip() for piece in _DECIMAL.sub(r"\1.\2", text).split(","))
    counted = _COUNT.fullmatch(first)
    if counted is None:
        return Problem("the spares", "it does not begin with how many", _MEND)
    said = SaidSpares(int(counted["count"]))
    if counted["name"]:
        is_kind = counted["name"].casefold() in KINDS
        said = _with_piece(said, counted["name"]) if is_kind else said._replace(name=counted["name"])
    for piece in filter(None, pieces):
        said = _with_piece(said, piece)
    return said


def _with_piece(said: SaidSpares, piece: str) -> SaidSpares:
    """What one piece between commas tells; what is nothing else is one of the person's own words."""
    height, place = _HEIGHT.fullmatch(piece), _PLACE.fullmatch(piece)
    word = piece.casefold()
    if height is not None:
        return said._replace(height_mm=float(height["mm"]))
    if _BASE_LIKE.fullmatch(piece) and not isinstance(parse_base(piece), Problem):
        return said._replace(base=piece)
    if word in (*SPARE_STATES, *KINDS, *MATERIALS):
        return said._replace(
            state=word if word in SPARE_STATES else said.state,
            kind=word if word in KINDS else said.kind,
            material=word if word in MATERIALS else said.material,
        )
    return said._replace(tags=(*said.tags, piece)) if place is None else said._replace(place=place["place"])
