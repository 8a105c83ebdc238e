"""The pace: the minutes learned from you, and what past estimates came to."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from tracker.domain.answers import PaceAnswer, TrackRecordAnswer
from tracker.report.screens.line import PageLine
from tracker.report.screens.pace_page import pace_lines
from tracker.tui.actions import own_bindings
from tracker.tui.page import Page
from tracker.workbench.answers import pace_answer, track_record


class Pace(Page):
    """Minutes per model of every step."""

    PAGE = "pace"
    TITLE_WORDS = "Your pace"
    TWIN = "lastcoat pace --track-record"
    BINDINGS = own_bindings("pace")

    def __init__(self) -> None:
        super().__init__()
        self.answer: PaceAnswer | None = None
        self.past: TrackRecordAnswer | None = None
        self.with_record = False

    def read(self) -> None:
        """The pace, in a worker; the track record only once it was asked for."""
        self.ask_verb(partial(pace_answer, self.desk), self._fresh, "reading")
        if self.with_record:
            self.ask_verb(partial(track_record, self.desk), self._recorded, "record")

    def _fresh(self, answer: PaceAnswer) -> None:
        self.answer = answer
        self.draw()

    def _recorded(self, record: TrackRecordAnswer) -> None:
        self.past = record
        self.draw()

    def lines(self, width: int) -> Sequence[PageLine]:
        """The page."""
        return pace_lines(self.answer, self.past, width, with_record=self.with_record)

    def action_record(self) -> None:
        """Minutes or track record."""
        self.with_record = not self.with_record
        if self.with_record and self.past is None:
            self.read()
        self.draw()
