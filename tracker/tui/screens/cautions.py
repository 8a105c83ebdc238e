"""The cautions: those of the unit and step one came from, or all of them."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from tracker.report.screens.cautions_page import cautions_lines
from tracker.report.screens.line import PageLine
from tracker.tui.actions import own_bindings
from tracker.tui.page import Page
from tracker.workbench.cautions import CautionsAnswer, cautions


class Cautions(Page):
    """Each caution in a sentence."""

    PAGE = "cautions"
    TITLE_WORDS = "Cautions"
    TWIN = "lastcoat caution"
    BINDINGS = own_bindings("cautions")

    def __init__(self, unit: str = "", army: str = "", step: str = "") -> None:
        super().__init__()
        self.unit, self.army, self.step = unit, army, step
        self.answer: CautionsAnswer | None = None

    def read(self) -> None:
        """The cautions, in a worker."""
        verb = partial(cautions, self.desk, self.step, unit=self.unit, army=self.army or None)
        self.ask_verb(verb, self.show, "reading")

    def show(self, answer: CautionsAnswer) -> None:
        """The answer arrived."""
        self.answer = answer
        self.draw()

    def lines(self, width: int) -> Sequence[PageLine]:
        """The page."""
        if self.answer is None:
            return cautions_lines("", None, width, lead_free=False)
        return cautions_lines(self.answer.about, self.answer.rows, width, lead_free=self.answer.lead_free)
