"""The pace in words: minutes per model of every step, how they were learned, and whether they held."""

from __future__ import annotations

from tracker.domain.answers import PaceAnswer, TrackRecordAnswer
from tracker.report.pace_words import track_record_text
from tracker.report.screens.line import BLANK, PageLine
from tracker.report.words import pace_text

READING_PACE = "Reading your pace …"


def pace_lines(
    answer: PaceAnswer | None, record: TrackRecordAnswer | None, width: int, *, with_record: bool
) -> list[PageLine]:
    """The learned minutes; with `with_record`, what past estimates came to before them."""
    if with_record:
        text = (
            "Holding past estimates against what came …"
            if record is None
            else track_record_text(record, width)
        )
        return [*_lines(text), BLANK, PageLine("The same key shows the minutes again.", "quiet")]
    if answer is None:
        return [PageLine(READING_PACE, "quiet")]
    return _lines(pace_text(answer, width))


def _lines(text: str) -> list[PageLine]:
    return [
        PageLine(line, "quiet" if line.startswith(("Mind: ", "      ")) else "text")
        for line in text.split("\n")
    ]
