"""The cautions as a page: each a sentence, and below it what brings it."""

from __future__ import annotations

from collections.abc import Sequence

from tracker.domain.caution_rules import CautionRow
from tracker.report.caution_words import cautions_parts
from tracker.report.plain import wrapped
from tracker.report.screens.chrome import NOT_YET_READ
from tracker.report.screens.line import BLANK, Look, PageLine, sentences

_LABEL = "The label of what you use, its safety data sheet and local rules come first, always."


def cautions_lines(
    about: str, rows: Sequence[CautionRow] | None, width: int, *, lead_free: bool
) -> list[PageLine]:
    """Every caution; None = nothing was read yet."""
    if rows is None:
        return [PageLine(NOT_YET_READ, "quiet")]
    out = [*sentences(_LABEL, width, "quiet"), BLANK]
    for words, start, more in cautions_parts(about, rows, lead_free=lead_free):
        look: Look = "quiet" if words.startswith("With: ") else "head" if not start else "text"
        out += [PageLine(line, look) for line in wrapped(words, width, start, more)]
    return out
