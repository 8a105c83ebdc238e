"""The spares in words: models without a role, by their numbers."""

from __future__ import annotations

import re
from collections.abc import Sequence

from tracker.domain.problems import Problem
from tracker.domain.spares import Spare
from tracker.report.plain import clip, count_words, date_words
from tracker.report.screens.chrome import NOT_YET_READ
from tracker.report.screens.line import BLANK, PageLine, sentences

ASK_ROLE = "Which unit takes spare {number}? Its name; for several spares: Spears: 2, 5-7"
_NONE = "There are no spares. A model becomes one on its unit's sheet, and then is no backlog."
_RANGE = re.compile(r"([0-9]{1,6})(?:-([0-9]{1,6}))?")
_RANGE_MOST = 1000


def spares_lines(spares: Sequence[Spare] | None, width: int) -> list[PageLine]:
    """A row for every spare."""
    if spares is None:
        return [PageLine(NOT_YET_READ, "quiet")]
    if not spares:
        return sentences(_NONE, width, "quiet")
    said = f"{count_words(len(spares), 'spare')}: kept, and no backlog until a unit takes them."
    out = [*sentences(said, width), BLANK]
    for spare in spares:
        words = ", ".join(part for part in (spare.name, spare.kind, spare.note) if part) or "no name"
        text = f"{spare.number:>3}  {clip(words, max(width - 24, 10))}, since {date_words(spare.added_on)}"
        out.append(PageLine(clip(text, width), "row", str(spare.number)))
    return out


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
