"""The goals: their chances, the last day to begin, and the least that would have to give way."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from tracker.domain.answers_goals import CutsAnswer, GoalsAnswer
from tracker.domain.problems import DataError, Problem
from tracker.report.screens.goals_page import ASK_GOAL, WORKING_OUT, goals_lines, read_goal_line
from tracker.report.screens.line import PageLine
from tracker.tui.actions import own_bindings
from tracker.tui.messages import Chosen
from tracker.tui.unit_care import UnitCare
from tracker.workbench.goals import GoalWish, add_goal, cuts, drop_goal, goals


class Goals(UnitCare):
    """Every goal, by its day."""

    PAGE = "goals"
    TITLE_WORDS = "Goals"
    TWIN = "lastcoat goal show"
    BINDINGS = own_bindings("goals")

    def __init__(self) -> None:
        super().__init__()
        self.answer: GoalsAnswer | None = None
        self.cuts: CutsAnswer | None = None

    def read(self) -> None:
        """Every goal, in a worker."""
        self.cuts = None
        self.ask_verb(partial(goals, self.desk), self.show, "reading")

    def show(self, answer: GoalsAnswer) -> None:
        """The answer arrived."""
        self.answer = answer
        self.draw()

    def lines(self, width: int) -> Sequence[PageLine]:
        """The page."""
        return goals_lines(self.answer, self.cuts, width)

    def on_chosen(self, message: Chosen) -> None:
        """Enter on a goal asks what would keep it."""
        message.stop()
        self.action_cut()

    def action_cut(self) -> None:
        """The least that would have to give way for the goal under the cursor."""
        if self.rows.key:
            self.entry.below(WORKING_OUT, "quiet")
            self.ask_verb(partial(cuts, self.desk, self.rows.key), self._cut, "cuts")

    def _cut(self, answer: CutsAnswer) -> None:
        self.cuts = answer
        self.entry.below("")
        self.draw()

    def action_set_goal(self) -> None:
        """One more goal."""
        self.ask(ASK_GOAL, self._said)

    def _said(self, text: str) -> None:
        if text:
            self.store(partial(self._stored_goal, text))

    def _stored_goal(self, text: str) -> object:
        said = read_goal_line(text)
        if isinstance(said, Problem):
            raise DataError(said)
        wish = GoalWish(said.day, said.units or None, said.models, said.points)
        return add_goal(self.desk, said.name, wish)

    def action_drop_goal(self) -> None:
        """The goal under the cursor is given up."""
        if self.rows.key:
            self.store(partial(drop_goal, self.desk, self.rows.key))
