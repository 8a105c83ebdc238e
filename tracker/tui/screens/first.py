"""The first evening: a first unit, the demo, or a sheet that is there already."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from tracker.report.screens.first_page import DEMO, NEW, TOLD_DEMO, first_lines
from tracker.report.screens.line import PageLine
from tracker.tui.actions import own_bindings
from tracker.tui.messages import Chosen
from tracker.tui.unit_care import UnitCare
from tracker.workbench.demo import make_demo
from tracker.workbench.desk import Desk


class FirstRun(UnitCare):
    """An empty log."""

    PAGE = "first"
    TITLE_WORDS = "The first evening"
    TWIN = "lastcoat add --help"
    BINDINGS = own_bindings("first")

    def lines(self, width: int) -> Sequence[PageLine]:
        """The page."""
        return first_lines(width)

    def on_chosen(self, message: Chosen) -> None:
        """One of the three ways."""
        message.stop()
        if message.key == NEW:
            self.action_add_unit()
        elif message.key == DEMO:
            self.action_demo()
        else:
            self.action_bring_in()

    def stored(self, sentence: str) -> None:
        """There is a unit now: to tonight, where the entry line knows it."""
        self.lastcoat.go("tonight")
        super().stored(sentence)
        if self.lastcoat.page is not None:
            self.lastcoat.page.entry.below(sentence, "good")

    def action_demo(self) -> None:
        """Make the demo in a folder of its own and open it."""
        self.entry.below("Making the demo …", "quiet")
        self.ask_verb(partial(make_demo, None), self._open_demo, "demo")

    def _open_demo(self, desk: Desk) -> None:
        self.lastcoat.desk = desk
        self.stored(TOLD_DEMO)
