"""A picture in the terminal: drawn by the terminal itself, or with half blocks, two points in every cell."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from io import BytesIO

from rich.color import Color
from rich.segment import Segment
from rich.style import Style
from textual.app import ComposeResult
from textual.strip import Strip
from textual.widget import Widget

from tracker.tui.widgets.looks import Drawn

_HALF = "▀"
Colour = tuple[int, int, int]
TERMINAL_PICTURES = "textual_image"
"""The optional package that lets a terminal draw pictures itself; `start` loads it where it is there."""


class TerminalCanvas(Widget, can_focus=False):
    """The room for a picture that the terminal draws itself, in its own shape."""

    def __init__(self, image: Widget) -> None:
        super().__init__(id="picture")
        self.image = image
        # In a room of fixed width and height the optional package would stretch the picture.
        image.styles.width = image.styles.height = "auto"

    def compose(self) -> ComposeResult:
        """The picture alone."""
        yield self.image

    def show(self, data: bytes) -> None:
        """Draw the picture of this file instead; none where there are no bytes."""
        self.image.image = BytesIO(data) if data else None  # type: ignore[attr-defined] # optional


def terminal_canvas() -> TerminalCanvas | None:
    """The optional package's canvas, where it is loaded and found that the terminal can draw pictures."""
    if TERMINAL_PICTURES not in sys.modules:
        return None
    from textual_image import renderable
    from textual_image.widget import Image

    if renderable.Image not in (renderable.SixelImage, renderable.TGPImage):
        return None
    return TerminalCanvas(Image())


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
        lower = self.points[2 * y + 1] if 2 * y + 1 < len(self.points) else (None,) * len(upper)
        ground = self.style_of("text").bgcolor
        return self.strip_of([
            Segment(_HALF, Style(
                color=Color.from_rgb(*top), bgcolor=Color.from_rgb(*below) if below else ground
            ))
            for top, below in zip(upper, lower, strict=True)
        ])  # fmt: skip
