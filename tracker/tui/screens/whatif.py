"""What if: wishes asked as a sentence, both plans side by side. Nothing is stored."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from tracker.domain.answers_whatif import WhatIfAnswer
from tracker.domain.wishes import Wish
from tracker.report.screens.line import PageLine
from tracker.report.screens.whatif_page import ASK_WHAT_IF, whatif_lines
from tracker.tui.actions import own_bindings
from tracker.tui.page import Page
from tracker.workbench.whatif import understood, whatif


class AsksWhatIf(Page):
    """A screen from which what if can be asked."""

    def action_what_if(self) -> None:
        """Ask; what is not understood is said at once, and the screen stays."""
        self.ask(ASK_WHAT_IF, self._said)

    def _said(self, text: str) -> None:
        if text:
            self.ask_verb(partial(understood, self.desk, text), self.play, "reading")

    def play(self, wishes: Sequence[Wish]) -> None:
        """Show what these wishes would do."""
        self.lastcoat.open("whatif", tuple(wishes))


class WhatIf(AsksWhatIf):
    """Both plans."""

    PAGE = "whatif"
    TITLE_WORDS = "What if"
    TWIN = 'lastcoat whatif "one more evening a week"'
    BINDINGS = own_bindings("whatif")

    def __init__(self, wishes: Sequence[Wish]) -> None:
        super().__init__()
        self.wishes = wishes
        self.answer: WhatIfAnswer | None = None

    def read(self) -> None:
        """Both plans, in a worker."""
        self.ask_verb(partial(whatif, self.desk, self.wishes), self.show, "reading")

    def show(self, answer: WhatIfAnswer) -> None:
        """The answer arrived."""
        self.answer = answer
        self.draw()

    def play(self, wishes: Sequence[Wish]) -> None:
        """Other wishes in place of these."""
        self.wishes, self.answer = wishes, None
        self.draw()
        self.read()

    def lines(self, width: int) -> Sequence[PageLine]:
        """The page."""
        return whatif_lines(self.answer, self.wishes, width)
