"""The plans: evenings to come as the person means them, and days away."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from tracker.report.plan_words import ASK_PLAN, plans_lines
from tracker.report.screens.line import PageLine
from tracker.tui.actions import own_bindings
from tracker.tui.messages import Chosen
from tracker.tui.unit_care import UnitCare
from tracker.workbench.declared import PlansAnswer, drop_plan, plan_said, plan_words, plans


class Plans(UnitCare):
    """Every plan, a line each."""

    PAGE = "plans"
    TITLE_WORDS = "Your plans"
    TWIN = "lastcoat plan show"
    BINDINGS = own_bindings("plans")

    def __init__(self) -> None:
        super().__init__()
        self.answer: PlansAnswer | None = None

    def read(self) -> None:
        """Every plan, in a worker."""
        self.ask_verb(partial(plans, self.desk), self.show, "reading")

    def show(self, answer: PlansAnswer) -> None:
        """The answer arrived."""
        self.answer = answer
        self.draw()

    def lines(self, width: int) -> Sequence[PageLine]:
        """The page."""
        said = self.answer.declared if self.answer else ()
        words = [plan_words(one, self.answer.as_of) for one in said] if self.answer else []
        return plans_lines(self.answer, words, width)

    def on_chosen(self, message: Chosen) -> None:
        """A plan by itself opens nothing."""
        message.stop()

    def action_say_plan(self) -> None:
        """One more plan."""
        self.ask(ASK_PLAN, self._said)

    def _said(self, text: str) -> None:
        if text:
            self.store(partial(plan_said, self.desk, text))

    def action_drop_plan(self) -> None:
        """The plan under the cursor is given up."""
        if self.rows.key:
            self.store(partial(drop_plan, self.desk, int(self.rows.key)))
