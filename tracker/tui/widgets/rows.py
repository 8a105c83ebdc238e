"""A page of lines that scrolls; some of them can be chosen.

Where the cursor stands is told by a mark in the margin as well as by colour. When fresh lines come, the
cursor stays with what it stood on and nothing jumps.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from rich.segment import Segment
from textual.binding import Binding, BindingType
from textual.events import Click, Resize
from textual.geometry import Region, Size
from textual.strip import Strip

from tracker.domain.text import printable
from tracker.report.screens.line import PageLine
from tracker.tui.messages import Chosen, CursorMoved
from tracker.tui.widgets.looks import Drawn

MARGIN = 2
_HERE, _ELSEWHERE = "› ", "  "


class Rows(Drawn):
    """Lines, of which those with a key can be chosen by Enter or a click."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up,k", "move(-1)", show=False),
        Binding("down,j", "move(1)", show=False),
        Binding("pageup", "page(-1)", show=False),
        Binding("pagedown", "page(1)", show=False),
        Binding("home", "edge(0)", show=False),
        Binding("end", "edge(-1)", show=False),
        Binding("enter", "choose", show=False),
    ]

    def __init__(self, *, id: str) -> None:  # noqa: A002 - the framework's name
        super().__init__(id=id)
        self.lines: Sequence[PageLine] = ()
        self.cursor = -1
        """Index of the line the cursor stands on; -1 = none can be chosen."""

    @property
    def key(self) -> str:
        """What the line under the cursor stands for."""
        return self.lines[self.cursor].key if 0 <= self.cursor < len(self.lines) else ""

    @property
    def room(self) -> int:
        """Columns a line may take."""
        return max(self.size.width - MARGIN - 1, 20)

    def show(self, lines: Sequence[PageLine], at: str = "") -> None:
        """Show these lines, the cursor on the key it was on (or on `at`), else as near as can be."""
        wanted, before = at or self.key, self.cursor
        self.lines = lines
        places = [i for i, line in enumerate(lines) if line.key]
        same = [i for i in places if lines[i].key == wanted]
        near = min(places, key=lambda i: abs(i - before), default=-1)
        self.cursor = same[0] if same else (near if before >= 0 else (places or [-1])[0])
        self.virtual_size = Size(max(self.size.width - 1, 1), len(lines))
        self._seen(at_once=bool(at))
        self.refresh()

    def on_resize(self, _: Resize) -> None:
        """Lines never scroll sideways."""
        self.virtual_size = Size(max(self.size.width - 1, 1), len(self.lines))

    def render_line(self, y: int) -> Strip:
        """One line of the widget."""
        place = y + self.scroll_offset.y
        ground = self.style_of("text")
        if place >= len(self.lines):
            return Strip.blank(self.size.width, ground)
        line, here = self.lines[place], place == self.cursor
        style = self.style_of("cursor" if here and self.has_focus else line.look)
        text = (_HERE if here else _ELSEWHERE) + printable(line.text)
        return Strip([Segment(text, style)]).adjust_cell_length(self.size.width, style)

    def action_move(self, by: int) -> None:
        """The next line that can be chosen in that direction; without any, the page scrolls."""
        place = self.cursor + by
        while 0 <= place < len(self.lines) and not self.lines[place].key:
            place += by
        if self.cursor >= 0 and 0 <= place < len(self.lines):
            self._put_cursor(place)
        else:
            self.scroll_to(y=self.scroll_y + by, animate=False, immediate=True)

    def action_page(self, by: int) -> None:
        """A page on or back."""
        self.scroll_to(y=self.scroll_y + by * max(self.size.height - 1, 1), animate=False, immediate=True)
        middle = self.scroll_offset.y + self.size.height // 2
        places = [i for i, line in enumerate(self.lines) if line.key]
        if places:
            nearest = min(places, key=lambda i: abs(i - middle))
            self._put_cursor(places[0 if by < 0 else -1] if nearest == self.cursor else nearest)

    def action_edge(self, which: int) -> None:
        """The first or the last line that can be chosen."""
        places = [i for i, line in enumerate(self.lines) if line.key]
        if places:
            self._put_cursor(places[which])
        self.scroll_to(y=0 if which == 0 else len(self.lines), animate=False, immediate=True)

    def action_choose(self) -> None:
        """Tell the screen."""
        if self.key:
            self.post_message(Chosen(self.key))

    def on_click(self, event: Click) -> None:
        """A click puts the cursor there; one on the cursor, or a double click, chooses."""
        place = event.y + self.scroll_offset.y
        if not (0 <= place < len(self.lines) and self.lines[place].key):
            return
        again = place == self.cursor
        self._put_cursor(place)
        if again or event.chain > 1:
            self.action_choose()

    def on_focus(self) -> None:
        """The cursor is brighter while keys go here."""
        self.refresh()

    def on_blur(self) -> None:
        """And paler while they go to the entry line."""
        self.refresh()

    def _put_cursor(self, place: int) -> None:
        """Draw only the two lines that change, so that a key is never felt to wait."""
        before, self.cursor = self.cursor, place
        self.post_message(CursorMoved())
        self._seen()
        for line in {before, place} - {-1}:
            self.refresh_line(line)

    def _seen(self, *, at_once: bool = True) -> None:
        if self.cursor < 0 or not at_once:
            return
        above = next((i for i in range(self.cursor - 1, -1, -1) if self.lines[i].key), -1)
        first = 0 if above < 0 else self.cursor
        self.scroll_to_region(
            Region(0, first, 1, self.cursor - first + 1), animate=False, immediate=True, force=True
        )
