"""A unit's sheet: models down, steps across, a letter for every cell, and a cursor on one of them."""

from __future__ import annotations

from typing import ClassVar

from rich.segment import Segment
from textual.binding import Binding, BindingType
from textual.events import Click
from textual.geometry import Size
from textual.message import Message
from textual.strip import Strip

from tracker.domain.text import printable
from tracker.report.screens.unit_page import LOOKS, Grid
from tracker.tui.widgets.looks import Drawn

_MARGIN = 2


class GridMoved(Message):
    """The cursor stands on another cell."""


class SheetGrid(Drawn):
    """The letters of a sheet under fixed titles."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "move(-1, 0)", show=False),
        Binding("down", "move(1, 0)", show=False),
        Binding("left", "move(0, -1)", show=False),
        Binding("right", "move(0, 1)", show=False),
        Binding("pageup", "move(-10, 0)", show=False),
        Binding("pagedown", "move(10, 0)", show=False),
        Binding("home", "move(0, -99)", show=False),
        Binding("end", "move(0, 99)", show=False),
        Binding("shift+up", "stretch(-1)", show=False),
        Binding("shift+down", "stretch(1)", show=False),
    ]

    def __init__(self) -> None:
        super().__init__(id="grid")
        self.grid = Grid((), (), (), -1)
        self.row = 0
        self.column = 0
        self.range_from: int | None = None
        """Row where a range begins; None = only the row under the cursor."""

    @property
    def chosen(self) -> range:
        """Rows of the range, or the one under the cursor."""
        first = self.row if self.range_from is None else self.range_from
        return range(min(first, self.row), max(first, self.row) + 1)

    def show(self, grid: Grid) -> None:
        """Show these letters, the cursor where it was."""
        self.grid = grid
        self.row = min(self.row, max(len(grid.letters) - 1, 0))
        self.column = min(self.column, max(len(grid.letters[0]) - 1, 0)) if grid.letters else 0
        if self.range_from is not None:
            self.range_from = min(self.range_from, max(len(grid.letters) - 1, 0))
        self.virtual_size = Size(max(self.size.width - 1, 1), len(grid.titles) + len(grid.letters))
        self.refresh()

    def render_line(self, y: int) -> Strip:
        """One line: titles never scroll."""
        titles = self.grid.titles
        if y < len(titles):
            return self.strip_of([Segment("  " + printable(titles[y]), self.style_of("quiet"))])
        place = y - len(titles) + self.scroll_offset.y
        if place >= len(self.grid.letters):
            return Strip.blank(self.size.width, self.style_of("text"))
        return self.strip_of(self._cells(place))

    def _cells(self, place: int) -> list[Segment]:
        chosen = place in self.chosen
        sign = "› " if place == self.row else "+ " if chosen else "  "
        look = "chosen" if chosen else "row"
        out = [Segment(sign + printable(self.grid.margins[place]), self.style_of(look))]
        gap = " " * (self.grid.pitch - 1)
        for column, letter in enumerate(self.grid.letters[place]):
            here = place == self.row and column == self.column
            style = self.style_of(
                "cursor" if here else "chosen" if chosen and column == self.column else LOOKS[letter]
            )
            after = ("|" + gap[1:]) if column == self.grid.finish else gap
            if here:
                before = out[-1]
                out[-1] = Segment(before.text[:-1], before.style)
                out += [Segment(f"[{letter}]", style), Segment(after[1:], self.style_of("quiet"))]
            else:
                out += [Segment(letter, style), Segment(after, self.style_of("quiet"))]
        return out

    def action_move(self, down: int, right: int) -> None:
        """The cursor moves, never over the edge."""
        self._put(self.row + down, self.column + right)

    def action_stretch(self, down: int) -> None:
        """The range grows or shrinks."""
        if self.range_from is None:
            self.range_from = self.row
        self._put(self.row + down, self.column)

    def toggle_range(self, *, all_rows: bool = False) -> None:
        """Begin a range here or give it up; or take every row."""
        if all_rows:
            self.range_from = 0
            self._put(len(self.grid.letters) - 1, self.column)
        else:
            self.range_from = self.row if self.range_from is None else None
        self.refresh()

    def on_click(self, event: Click) -> None:
        """A click puts the cursor there; with shift it stretches the range."""
        place = event.y - len(self.grid.titles) + self.scroll_offset.y
        if not 0 <= place < len(self.grid.letters):
            return
        margin = _MARGIN + len(self.grid.margins[place])
        self.range_from = (self.row if self.range_from is None else self.range_from) if event.shift else None
        column = (event.x - margin) // self.grid.pitch
        self._put(place, column if event.x >= margin else self.column)

    def _put(self, row: int, column: int) -> None:
        self.row = min(max(row, 0), max(len(self.grid.letters) - 1, 0))
        columns = len(self.grid.letters[0]) if self.grid.letters else 0
        self.column = min(max(column, 0), max(columns - 1, 0))
        room = max(self.size.height - len(self.grid.titles), 1)
        top = self.scroll_offset.y
        if not top <= self.row < top + room:
            self.scroll_to(
                y=self.row if self.row < top else self.row - room + 1, animate=False, immediate=True
            )
        self.post_message(GridMoved())
        self.refresh()
