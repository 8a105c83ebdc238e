"""A page of lines in which a swatch's block takes its colour; the code beside it says the same in words."""

from __future__ import annotations

import re

from rich.segment import Segment
from rich.style import Style
from textual.strip import Strip

from tracker.domain.text import printable
from tracker.report.plain import cells
from tracker.report.recipe_words import BLOCK
from tracker.tui.widgets.rows import MARGIN, Rows

_SWATCH = re.compile(rf"{BLOCK} (#[0-9a-f]{{6}})$")


class SwatchRows(Rows):
    """Lines that may end in a colour."""

    def render_line(self, y: int) -> Strip:
        """One line of the widget, its block in its own colour."""
        strip = super().render_line(y)
        place = y + self.scroll_offset.y
        text = printable(self.lines[place].text) if place < len(self.lines) else ""
        found = _SWATCH.search(text)
        if found is None:
            return strip
        start = MARGIN + cells(text[: found.start()])
        ground = self.style_of("cursor" if place == self.cursor and self.has_focus else "text")
        block = Segment(BLOCK, ground + Style(color=found[1]))
        width = strip.cell_length
        parts = [strip.crop(0, start), Strip([block]), strip.crop(start + len(BLOCK), width)]
        return Strip.join(parts).crop(0, width)
