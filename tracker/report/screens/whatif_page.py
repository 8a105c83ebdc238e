"""What if on a screen: what is asked, and both plans side by side."""

from __future__ import annotations

from collections.abc import Sequence

from tracker.domain.answers_whatif import WhatIfAnswer
from tracker.domain.wishes import Wish
from tracker.report.screens.line import BLANK, PageLine, sentences
from tracker.report.whatif_words import whatif_text
from tracker.report.wish_words import wishes_words

ASK_WHAT_IF = 'What if? As in "one more evening a week" or "without Riders; Spears first"'
PLAYING = "Playing both plans …"


def whatif_lines(answer: WhatIfAnswer | None, wishes: Sequence[Wish], width: int) -> list[PageLine]:
    """Both plans; until they are there, what is being asked."""
    if answer is None:
        asked = sentences(f"What if: {wishes_words(wishes)}", width)
        return [*asked, BLANK, PageLine(PLAYING, "quiet")]
    return [PageLine(line) for line in whatif_text(answer, width).split("\n")]
