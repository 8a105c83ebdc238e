"""A unit's sheet: its models down, its steps across; mark one, a range or all, and mend a mistake."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from textual.app import ComposeResult

from tracker.domain.standings import UnitSheet as Sheet
from tracker.report.screens.line import PageLine
from tracker.report.screens.unit_page import cell_words, grid, sheet_foot, sheet_title
from tracker.report.screens.unit_words import ASK_MODEL, ASK_NOTE, ASK_PART, ASK_STEP
from tracker.tui.actions import own_bindings
from tracker.tui.unit_care import UnitCare
from tracker.tui.widgets.entry import Entry
from tracker.tui.widgets.grid import GridMoved, SheetGrid
from tracker.tui.widgets.hints import Hints
from tracker.tui.widgets.lamp_line import LampLine
from tracker.tui.widgets.rows import Rows
from tracker.workbench.army import sheet
from tracker.workbench.models import mark
from tracker.workbench.routing import RouteWish, change_route
from tracker.workbench.units_models import ModelWish, add_step_for, change_models
from tracker.workbench.units_shape import to_spares


class UnitSheet(UnitCare):
    """One unit."""

    PAGE = "unit"
    TITLE_WORDS = "A unit"
    TWIN = "lastcoat unit show UNIT --each"
    BINDINGS = own_bindings("unit")

    def __init__(self, unit: str, army: str) -> None:
        super().__init__()
        self.unit, self.army = unit, army
        self.sheet: Sheet | None = None

    def compose(self) -> ComposeResult:
        """The grid over a few lines."""
        yield LampLine()
        yield SheetGrid()
        yield Rows(id="foot")
        yield Entry()
        yield Hints()

    @property
    def grid(self) -> SheetGrid:
        """The letters."""
        return self.query_one(SheetGrid)

    @property
    def unit_here(self) -> tuple[str, str] | None:
        """This one."""
        return self.army, self.unit

    @property
    def step_here(self) -> str:
        """The step under the cursor."""
        return self.sheet.steps[self.grid.column] if self.sheet and self.sheet.steps else ""

    def focus_page(self) -> None:
        """Keys go to the grid."""
        self.grid.focus()

    def read(self) -> None:
        """The sheet, in a worker."""
        self.ask_verb(partial(sheet, self.desk, self.unit, self.army), self.show, "reading")

    def show(self, answer: Sheet) -> None:
        """The answer arrived."""
        self.sheet, self.unit, self.army = answer, answer.unit, answer.army
        self.TITLE_WORDS = sheet_title(answer)  # type: ignore[misc] # a sheet is named after its unit
        self.draw()

    def draw(self, at: str = "") -> None:
        """The grid as well."""
        if self.sheet is not None and self.is_mounted:
            self.grid.show(grid(self.sheet, max(self.size.width - 4, 20)))
        super().draw(at)

    def lines(self, width: int) -> Sequence[PageLine]:
        """What the cell is, the legend, the goal."""
        if self.sheet is None:
            return []
        words = cell_words(self.sheet, self.grid.row, self.grid.column)
        return [PageLine(words), *sheet_foot(self.sheet, width)]

    def on_grid_moved(self, message: GridMoved) -> None:
        """Another cell under the cursor."""
        message.stop()
        self.rows.show(self.lines(self.rows.room))

    @property
    def models_here(self) -> str:
        """The models of the range as the verbs take them: "3-7"."""
        rows = self.sheet.rows if self.sheet else ()
        return ",".join(str(rows[i].number) for i in self.grid.chosen)

    def _mark(self, state: str) -> None:
        if self.sheet is not None and self.sheet.rows:
            verb = partial(
                mark, self.desk, self.unit, self.models_here, self.step_here, state, army=self.army
            )
            self.store(verb)
            self.grid.range_from = None

    def action_say_done(self) -> None:
        """Done."""
        self._mark("done")

    def action_say_in_hand(self) -> None:
        """Begun."""
        self._mark("in hand")

    def action_say_not_yet(self) -> None:
        """A mistake is taken back."""
        self._mark("not yet")

    def action_say_skipped(self) -> None:
        """Goes without."""
        self._mark("skipped")

    def action_range(self) -> None:
        """A range begins or ends."""
        self.grid.toggle_range()

    def action_all_models(self) -> None:
        """Every model."""
        self.grid.toggle_range(all_rows=True)

    def _route(self, wish: RouteWish) -> None:
        self.store(partial(change_route, self.desk, self.unit, wish, army=self.army))

    def renamed(self, name: str) -> None:
        """The sheet follows its unit."""
        self.unit = name

    def _change_models(self, field: str, said: str) -> None:
        wish = ModelWish(**{field: said})
        self.store(partial(change_models, self.desk, self.unit, self.models_here, wish, army=self.army))

    def _now(self, field: str) -> str:
        row = self.sheet.rows[self.grid.row] if self.sheet and self.sheet.rows else None
        return str(getattr(row, field)) if row else ""

    def action_name_model(self) -> None:
        """A name for the model under the cursor."""
        self.grid.range_from = None
        self.ask(ASK_MODEL, partial(self._change_models, "name"), self._now("name"))

    def action_model_part(self) -> None:
        """Which part the models are."""
        self.ask(ASK_PART, partial(self._change_models, "part"), self._now("part"))

    def action_model_note(self) -> None:
        """A note on the models."""
        self.ask(ASK_NOTE, partial(self._change_models, "note"), self._now("note"))

    def action_add_step(self) -> None:
        """A step for the models of the range; a catalogue step finds its own place."""
        self.ask(ASK_STEP, self._add_step)

    def _add_step(self, step: str) -> None:
        if step:
            self.store(partial(add_step_for, self.desk, self.unit, self.models_here, step, army=self.army))

    def action_to_spares(self) -> None:
        """The models of the range leave the unit and are kept."""
        if self.sheet is not None and self.sheet.rows:
            self.store(partial(to_spares, self.desk, self.unit, self.models_here, army=self.army))
            self.grid.range_from = None

    def action_why(self) -> None:
        """Why the step under the cursor takes as long as it does."""
        if self.step_here:
            self.lastcoat.open("why", self.unit, self.army, self.step_here)

    def action_unit_recipes(self) -> None:
        """The recipes of this unit and its army."""
        self.lastcoat.open("recipes", self.unit, self.army)

    def action_drop_step(self) -> None:
        """The step under the cursor goes."""
        if self.step_here:
            self._route(RouteWish(dropped=(self.step_here,)))

    def action_finish_line(self) -> None:
        """Table-ready after the step under the cursor."""
        if self.step_here:
            self._route(RouteWish(finish_line=self.step_here))
