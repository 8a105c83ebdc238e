"""The backlog: its course and its end, and the evenings of the past weeks."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from functools import partial

from tracker.domain.answers import BacklogAnswer
from tracker.report.screens.backlog_page import backlog_lines
from tracker.report.screens.line import PageLine
from tracker.tui.page import Page
from tracker.workbench.answers import backlog
from tracker.workbench.army import evening_minutes
from tracker.workbench.kept_before import Before, kept_before


class Backlog(Page):
    """How the backlog moved."""

    PAGE = "backlog"
    TITLE_WORDS = "The backlog"
    TWIN = "lastcoat backlog --evenings"

    def __init__(self) -> None:
        super().__init__()
        self.answer: BacklogAnswer | None = None
        self.evenings: Sequence[tuple[date, float | None]] = ()

    def read(self) -> None:
        """What was kept and the evenings at once; the fresh course as soon as it is worked out."""
        self.ask_verb(partial(evening_minutes, self.desk), self._evenings, "evenings")
        if self.answer is None:
            self.ask_verb(partial(kept_before, self.desk), self._kept, "kept")
        self.ask_verb(partial(backlog, self.desk), self._fresh, "reading")

    def _evenings(self, evenings: Sequence[tuple[date, float | None]]) -> None:
        self.evenings = evenings
        self.draw()

    def _kept(self, before: Before) -> None:
        if self.answer is None and before.backlog is not None:
            self._fresh(before.backlog)

    def _fresh(self, answer: BacklogAnswer) -> None:
        self.answer = answer
        self.draw()

    def lines(self, width: int) -> Sequence[PageLine]:
        """The page."""
        return backlog_lines(
            self.answer,
            self.evenings,
            width,
            plain=self.lastcoat.plain_signs,
            week_start=self.lastcoat.settings.week_start,
        )
