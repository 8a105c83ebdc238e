"""Points and money: what the list is worth, what units cost, what came and went month by month."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from tracker.domain.answers_points import PointsAnswer
from tracker.domain.answers_sources import CostsAnswer, MonthsAnswer
from tracker.domain.problems import DataError, Problem
from tracker.report.screens.deal_line import ASK_DEAL, read_deal_line
from tracker.report.screens.line import PageLine
from tracker.report.screens.money_page import ASK_TARGET, ASK_TARGET_OF_ONE, money_lines, read_target
from tracker.tui.actions import own_bindings
from tracker.tui.messages import Chosen
from tracker.tui.unit_care import UnitCare
from tracker.workbench.points import drop_target, points, set_target
from tracker.workbench.sources import add_deal
from tracker.workbench.sources_answers import costs, months
from tracker.workbench.sources_models import SaidPart
from tracker.workbench.sources_said import DealWish


class MoneyPage(UnitCare):
    """The lists, and what they cost."""

    PAGE = "money"
    TITLE_WORDS = "Points and money"
    TWIN = "lastcoat source costs"
    BINDINGS = own_bindings("money")

    def __init__(self) -> None:
        super().__init__()
        self.points: PointsAnswer | None = None
        self.costs: CostsAnswer | None = None
        self.months: MonthsAnswer | None = None

    def read(self) -> None:
        """Money first, which is quick; then points, which may have to be simulated."""
        self.ask_verb(partial(costs, self.desk), self._costs, "costs")
        self.ask_verb(partial(months, self.desk), self._months, "months")
        self.ask_verb(partial(points, self.desk), self._points, "reading")

    def _costs(self, answer: CostsAnswer) -> None:
        self.costs = answer
        self.draw()

    def _months(self, answer: MonthsAnswer) -> None:
        self.months = answer
        self.draw()

    def _points(self, answer: PointsAnswer) -> None:
        self.points = answer
        self.draw()

    def lines(self, width: int) -> Sequence[PageLine]:
        """The page."""
        return money_lines(self.points, self.costs, self.months, width)

    def on_chosen(self, message: Chosen) -> None:
        """Enter on an army asks for its target."""
        message.stop()
        self.action_set_target()

    def action_set_target(self) -> None:
        """The points the list under the cursor is meant to have."""
        army = self.rows.key or None
        question = ASK_TARGET.format(army=army) if army else ASK_TARGET_OF_ONE
        self.ask(question, partial(self._target, army))

    def _target(self, army: str | None, said: str) -> None:
        if said:
            self.store(partial(self._stored_target, army, said))

    def _stored_target(self, army: str | None, said: str) -> object:
        target = read_target(said)
        if isinstance(target, Problem):
            raise DataError(target)
        return drop_target(self.desk, army) if target is None else set_target(self.desk, target, army)

    def action_note_deal(self) -> None:
        """Something came in or went out."""
        self.ask(ASK_DEAL, self._said)

    def _said(self, text: str) -> None:
        if text:
            self.store(partial(self._stored_deal, text))

    def _stored_deal(self, text: str) -> object:
        said = read_deal_line(text)
        if isinstance(said, Problem):
            raise DataError(said)
        parts = (SaidPart(said.unit, said.models),) if said.unit else None
        wish = DealWish(
            None, parts, said.spares, said.whom, said.cost, said.postage, said.exchange, said.note
        )
        return add_deal(self.desk, said.how, wish)
