"""The dates: a range to every unit and the fan of the coming months."""

from __future__ import annotations

from collections.abc import Sequence

from tracker.report.screens.dates_page import dates_lines
from tracker.report.screens.line import PageLine
from tracker.report.screens.tonight_page import read_key
from tracker.tui.actions import own_bindings
from tracker.tui.messages import Chosen
from tracker.tui.screens.whatif import AsksWhatIf


class Dates(AsksWhatIf):
    """When every unit is table-ready."""

    PAGE = "dates"
    TITLE_WORDS = "The dates"
    TWIN = "lastcoat forecast --fan"
    BINDINGS = own_bindings("dates")

    def lines(self, width: int) -> Sequence[PageLine]:
        """The page, from what the worker in the background knows."""
        answers = self.lastcoat.answers
        plain = self.lastcoat.plain_signs
        return dates_lines(answers.forecast, width, fresh=answers.fresh, plain=plain, record=answers.record)

    def on_chosen(self, message: Chosen) -> None:
        """Enter opens the unit's sheet."""
        message.stop()
        self.action_sheet()

    def action_sheet(self) -> None:
        """The sheet of the unit under the cursor."""
        if self.rows.key:
            army, unit, _ = read_key(self.rows.key)
            self.lastcoat.open("unit", unit, army)
