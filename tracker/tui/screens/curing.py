"""What cures until when: timers begun and ended, steps said to be dry, waits of one's own."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from tracker.domain.answers_curing import Curing as Row
from tracker.domain.answers_curing import CuringAnswer
from tracker.report.screens.curing_page import ASK_CURE, ASK_DRY, ASK_WAIT, curing_lines, read_cure
from tracker.report.screens.line import PageLine
from tracker.tui.actions import own_bindings
from tracker.tui.messages import Chosen
from tracker.tui.unit_care import UnitCare
from tracker.workbench.curing import begin, curing, read_wait, set_own_wait, thing_done, thing_of
from tracker.workbench.curing import read_hours as hours_said


class Curing(UnitCare):
    """Everything that cures, a row each."""

    PAGE = "curing"
    TITLE_WORDS = "Curing"
    TWIN = "lastcoat curing"
    BINDINGS = own_bindings("curing")

    def __init__(self) -> None:
        super().__init__()
        self.answer: CuringAnswer | None = None

    def read(self) -> None:
        """All that cures, in a worker."""
        self.ask_verb(partial(curing, self.desk), self.show, "reading")

    def show(self, answer: CuringAnswer) -> None:
        """The answer arrived."""
        self.answer = answer
        self.draw()

    def lines(self, width: int) -> Sequence[PageLine]:
        """The page."""
        return curing_lines(self.answer, width)

    @property
    def row_here(self) -> Row | None:
        """What stands under the cursor."""
        if self.answer is None or not self.rows.key:
            return None
        return self.answer.curing[int(self.rows.key)]

    @property
    def unit_here(self) -> tuple[str, str] | None:
        """(army, unit) that it is on."""
        row = self.row_here
        return (row.army, row.unit) if row and row.unit else None

    @property
    def step_here(self) -> str:
        """The step that dries; empty for a timer."""
        row = self.row_here
        return row.what if row and not row.cure_id else ""

    def on_chosen(self, message: Chosen) -> None:
        """Enter says that it is dry."""
        message.stop()
        self.action_cured()

    def action_begin_cure(self) -> None:
        """One more timer."""

        def then(text: str) -> None:
            if text:
                self.store(partial(self._begun, text))

        self.ask(ASK_CURE, then)

    def _begun(self, text: str) -> object:
        said = read_cure(text)
        return begin(self.desk, said.what, hours=hours_said(said.hours) if said.hours else ())

    def action_cured(self) -> None:
        """The row under the cursor is dry, now or since a time that is asked for."""
        row = self.row_here
        if row is None:
            return

        def then(text: str) -> None:
            self.store(partial(thing_done, self.desk, thing_of(row), text or "now"))

        self.ask(ASK_DRY, then)

    def action_own_wait(self) -> None:
        """The person's own wait for the step under the cursor."""
        step = self.step_here
        if not step:
            return

        def then(text: str) -> None:
            if text:
                self.store(partial(self._wait, step, text))

        self.ask(ASK_WAIT.format(step=step), then)

    def _wait(self, step: str, text: str) -> object:
        return set_own_wait(self.desk, step, read_wait(text))
