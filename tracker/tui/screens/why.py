"""Why a step takes a unit as long as it does: the estimate as a product."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from tracker.domain.answers import WhyAnswer
from tracker.report.pace_words import why_text
from tracker.report.screens.line import PageLine
from tracker.report.screens.pace_page import READING_PACE
from tracker.tui.page import Page
from tracker.workbench.answers import why


class Why(Page):
    """One estimate, explained."""

    PAGE = "why"
    TITLE_WORDS = "Why so long?"
    TWIN = "lastcoat pace --why UNIT STEP"

    def __init__(self, unit: str, army: str, step: str) -> None:
        super().__init__()
        self.asked = (unit, army, step)
        self.answer: WhyAnswer | None = None

    def read(self) -> None:
        """The product, in a worker."""
        unit, army, step = self.asked
        self.ask_verb(partial(why, self.desk, unit, step, army=army), self.show, "reading")

    def show(self, answer: WhyAnswer) -> None:
        """The answer arrived."""
        self.answer = answer
        self.draw()

    def lines(self, width: int) -> Sequence[PageLine]:
        """The page."""
        if self.answer is None:
            return [PageLine(READING_PACE, "quiet")]
        return [PageLine(line) for line in why_text(self.answer, width).split("\n")]
