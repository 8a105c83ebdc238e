"""The spares: models without a role, and the units that take them."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from tracker.domain.problems import DataError, Problem
from tracker.domain.spares import Spare
from tracker.report.screens.line import PageLine
from tracker.report.screens.spares_page import ASK_ROLE, read_role, spares_lines
from tracker.tui.actions import own_bindings
from tracker.tui.messages import Chosen
from tracker.tui.unit_care import UnitCare
from tracker.workbench.units_shape import give_role, spares


class Spares(UnitCare):
    """Every spare, a line each."""

    PAGE = "spares"
    TITLE_WORDS = "Spares"
    TWIN = "lastcoat unit spares"
    BINDINGS = own_bindings("spares")

    def __init__(self) -> None:
        super().__init__()
        self.answer: Sequence[Spare] | None = None

    def read(self) -> None:
        """Every spare, in a worker."""
        self.ask_verb(partial(spares, self.desk), self.show, "reading")

    def show(self, answer: Sequence[Spare]) -> None:
        """The answer arrived."""
        self.answer = answer
        self.draw()

    def lines(self, width: int) -> Sequence[PageLine]:
        """The page."""
        return spares_lines(self.answer, width)

    def on_chosen(self, message: Chosen) -> None:
        """Enter on a spare gives it a role."""
        message.stop()
        self.action_role()

    def action_role(self) -> None:
        """A unit takes the spare under the cursor, or those that are said."""
        if self.rows.key:
            here = int(self.rows.key)
            self.ask(ASK_ROLE.format(number=here), partial(self._role, here))

    def _role(self, here: int, said: str) -> None:
        if said:
            self.store(partial(self._taken, here, said))

    def _taken(self, here: int, said: str) -> object:
        read = read_role(said, here)
        if isinstance(read, Problem):
            raise DataError(read)
        unit, numbers = read
        return give_role(self.desk, numbers, unit)
