"""The army: every unit with what is left, when it is table-ready, and the care of units."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from tracker.domain.standings import ArmyAnswer
from tracker.report.screens.army_page import SORTS, View, army_lines
from tracker.report.screens.chrome import NOT_YET_READ
from tracker.report.screens.line import PageLine
from tracker.report.screens.tonight_page import read_key
from tracker.tui.actions import own_bindings
from tracker.tui.messages import Chosen
from tracker.tui.unit_care import UnitCare
from tracker.workbench.army import army_list


class Army(UnitCare):
    """Every unit, a line each."""

    PAGE = "army"
    TITLE_WORDS = "The army"
    TWIN = "lastcoat army"
    BINDINGS = own_bindings("army")

    def __init__(self) -> None:
        super().__init__()
        self.answer: ArmyAnswer | None = None
        self.view = View()

    def read(self) -> None:
        """Every unit, in a worker."""
        self.ask_verb(partial(army_list, self.desk), self.show, "reading")

    def show(self, answer: ArmyAnswer) -> None:
        """The answer arrived."""
        self.answer = answer
        self.draw()

    def lines(self, width: int) -> Sequence[PageLine]:
        """The page."""
        if self.answer is None:
            return [PageLine(NOT_YET_READ, "quiet")]
        view = self.view._replace(columns=self.lastcoat.settings.columns)
        return army_lines(self.answer, self.lastcoat.answers.forecast, width, view)

    @property
    def unit_here(self) -> tuple[str, str] | None:
        """(army, unit) under the cursor."""
        if not self.rows.key:
            return None
        army, unit, _ = read_key(self.rows.key)
        return (army, unit) if unit else None

    def on_chosen(self, message: Chosen) -> None:
        """Enter on a unit opens its sheet, on an army folds it."""
        message.stop()
        self.action_sheet()

    def action_sheet(self) -> None:
        """The sheet of the unit under the cursor."""
        if self.unit_here:
            army, unit = self.unit_here
            self.lastcoat.open("unit", unit, army)
        else:
            self.action_fold()

    def action_sort(self) -> None:
        """The next way to sort."""
        self.view = self.view._replace(sort=(self.view.sort + 1) % len(SORTS))
        self.draw()

    def action_filter(self) -> None:
        """Only names with these letters."""
        self.ask("Letters in the name? Nothing shows every unit", self._filter, self.view.wanted)

    def _filter(self, text: str) -> None:
        self.view = self.view._replace(wanted=text)
        self.draw()

    def action_fold(self) -> None:
        """Fold or unfold the army under the cursor."""
        if self.rows.key:
            army = read_key(self.rows.key)[0]
            self.view = self.view._replace(folded=self.view.folded ^ {army})
            self.draw()
