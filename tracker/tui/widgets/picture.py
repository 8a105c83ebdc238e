"""A picture drawn with half blocks: two points of it in every cell, in any terminal that has colours."""

from __future__ import annotations

from collections.abc import Sequence

from rich.color import Color
from rich.segment import Segment
from rich.style import Style
from textual.strip import Strip

from tracker.tui.widgets.looks import Drawn

_HALF = "▀"
Colour = tuple[int, int, int]
WHITE = (255, 255, 255)


class HalfBlocks(Drawn, can_focus=False):
    """Rows of square points, the upper of two in the sign and the lower in its ground."""

    def __init__(self) -> None:
        super().__init__(id="picture")
        self.points: Sequence[Sequence[Colour]] = ()

    def show(self, points: Sequence[Sequence[Colour]]) -> None:
        """Draw these points instead."""
        self.points = points
        self.refresh()

    def render_line(self, y: int) -> Strip:
        """One line of the widget: two rows of points."""
        upper = self.points[2 * y] if 2 * y < len(self.points) else ()
        lower = self.points[2 * y + 1] if 2 * y + 1 < len(self.points) else (WHITE,) * len(upper)
        return self.strip_of([
            Segment(_HALF, Style(color=Color.from_rgb(*top), bgcolor=Color.from_rgb(*below)))
            for top, below in zip(upper, lower, strict=True)
        ])  # fmt: skip
