"""Tonight: where you left off and what can be worked on. The first screen."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from tracker.domain.tonight import TonightAnswer
from tracker.report.screens.chrome import NOT_YET_READ
from tracker.report.screens.entry_words import ASK_MINUTES, read_minutes, usual_entry
from tracker.report.screens.line import PageLine
from tracker.report.screens.tonight_page import models_of_key, read_key, tonight_lines, usual_line
from tracker.tui.actions import own_bindings
from tracker.tui.messages import Chosen
from tracker.tui.page import Page
from tracker.workbench.tonight import tonight


class Tonight(Page):
    """What can be worked on now."""

    PAGE = "tonight"
    TITLE_WORDS = "Tonight"
    TWIN = "lastcoat tonight"
    BINDINGS = own_bindings("tonight")

    def __init__(self) -> None:
        super().__init__()
        self.answer: TonightAnswer | None = None
        self.minutes: float | None = None
        """The time the person has, once they said it."""

    def read(self) -> None:
        """What is ready, in a worker."""
        self.ask_verb(partial(tonight, self.desk, self.minutes), self.show, "reading")

    def show(self, answer: TonightAnswer) -> None:
        """The answer arrived."""
        self.answer = answer
        usual = usual_line(answer)
        self.lastcoat.usual = usual_entry(*usual) if usual else ""
        if not answer.has_units:
            self.lastcoat.go("first")
        else:
            self.draw()

    def lines(self, width: int) -> Sequence[PageLine]:
        """The page."""
        if self.answer is None:
            return [PageLine(NOT_YET_READ, "quiet")]
        return tonight_lines(
            self.answer, self.lastcoat.answers.forecast, width, self.rows.size.height,
            plain=self.lastcoat.plain_signs,
        )  # fmt: skip

    def on_chosen(self, message: Chosen) -> None:
        """Enter on a row: write that step down."""
        message.stop()
        self.action_take_up()

    def action_take_up(self) -> None:
        """The step under the cursor goes to the entry line."""
        if not self.rows.key or self.answer is None:
            return
        army, unit, step = read_key(self.rows.key)
        known = (*self.answer.ready, *self.answer.weather, *self.answer.drying)
        there = [line.models for line in known if (line.army, line.unit, line.step) == (army, unit, step)]
        models = models_of_key(self.rows.key) or next(iter(there), 1)
        self.write_down(usual_entry(step, models, unit), at_minutes=True)

    def action_minutes(self) -> None:
        """Ask for the time there is."""
        self.ask(ASK_MINUTES, self._have_minutes)

    def _have_minutes(self, text: str) -> None:
        self.minutes = read_minutes(text)
        self.rows.cursor = -1
        self.read()

    def action_curing(self) -> None:
        """What cures, with timers and own waits."""
        self.lastcoat.open("curing")

    def action_sheet(self) -> None:
        """The sheet of the unit under the cursor."""
        if self.rows.key:
            army, unit, _ = read_key(self.rows.key)
            self.lastcoat.open("unit", unit, army)
