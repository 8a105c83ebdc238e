"""Help for a screen, from the registry of actions."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from textual.binding import Binding, BindingType

from tracker.report.screens.help_page import help_lines
from tracker.report.screens.line import PageLine
from tracker.tui.actions import ACTIONS, HELP, actions_on, key_of
from tracker.tui.page import Page


class Help(Page):
    """What can be done on the screen below this one."""

    PAGE = "help"
    TITLE_WORDS = "Help"
    TWIN = "lastcoat --help"
    BINDINGS: ClassVar[list[BindingType]] = [Binding("question_mark,f1", "back", show=False)]

    def __init__(self, page: str, title: str, twin: str) -> None:
        super().__init__()
        self.about, self.title_about, self.twin_about = page, title, twin

    def lines(self, width: int) -> Sequence[PageLine]:
        """The page."""
        keymap = self.lastcoat.keymap_said
        own = [(key_of(a, keymap), a.words) for a in actions_on(self.about) if a.where]
        everywhere = [(key_of(a, keymap), a.words) for a in (*ACTIONS, HELP) if not a.where and a.keys]
        return help_lines(self.title_about, own, everywhere, self.twin_about, width)
