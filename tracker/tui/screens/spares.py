"""The spares: models without a role, what they look like, and the units that take them."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from tracker.domain.problems import DataError, Problem
from tracker.domain.spares import Spare
from tracker.report.screens.line import PageLine
from tracker.report.screens.spares_page import (
    ASK_FILTER,
    ASK_NEW,
    ASK_ROLE,
    read_new_spares,
    read_role,
    spares_lines,
)
from tracker.tui.actions import own_bindings
from tracker.tui.messages import Chosen
from tracker.tui.unit_care import UnitCare
from tracker.workbench.spares import SpareSaid, new_spares
from tracker.workbench.units_shape import give_role, spares


class Spares(UnitCare):
    """Every spare, a line each."""

    PAGE = "spares"
    TITLE_WORDS = "Spares"
    TWIN = "lastcoat spare show"
    BINDINGS = own_bindings("spares")

    def __init__(self) -> None:
        super().__init__()
        self.answer: Sequence[Spare] | None = None
        self.wanted = ""

    def read(self) -> None:
        """Every spare, in a worker."""
        self.ask_verb(partial(spares, self.desk), self.show, "reading")

    def show(self, answer: Sequence[Spare]) -> None:
        """The answer arrived."""
        self.answer = answer
        self.draw()

    def lines(self, width: int) -> Sequence[PageLine]:
        """The page."""
        return spares_lines(self.answer, width, self.wanted)

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

    def action_new_spares(self) -> None:
        """Spares come in: how many and what is enough."""
        self.ask(ASK_NEW, self._new)

    def _new(self, said: str) -> None:
        if said:
            self.store(partial(self._brought, said))

    def _brought(self, text: str) -> object:
        said = read_new_spares(text)
        if isinstance(said, Problem):
            raise DataError(said)
        looks = SpareSaid(
            name=said.name, kind=said.kind, base=said.base, height_mm=said.height_mm, material=said.material,
            state=said.state, place=said.place, tags=said.tags,
        )  # fmt: skip
        return new_spares(self.desk, said.models, looks)

    def action_filter_spares(self) -> None:
        """Only those of which these words are noted."""
        self.ask(ASK_FILTER, self._filter, self.wanted)

    def _filter(self, text: str) -> None:
        self.wanted = text
        self.draw()

    def action_roles(self) -> None:
        """The roles, and the spares that would stand best in them."""
        self.lastcoat.open("roles")
