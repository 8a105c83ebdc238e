"""The top line: the lamp on the left, the page and the day on the right."""

from __future__ import annotations

from textual.app import RenderResult
from textual.content import Content
from textual.widget import Widget

from tracker.report.plain import cells, clip


class LampLine(Widget):
    """Two short texts on one line; a click lights the lamp or puts it out."""

    def __init__(self) -> None:
        super().__init__(id="lamp")
        self.lamp_words = ""
        self.page_words = ""
        self.lit = False

    def show(self, lamp_words: str, page_words: str, *, lit: bool) -> None:
        """Show these words."""
        if (lamp_words, page_words, lit) != (self.lamp_words, self.page_words, self.lit):
            self.lamp_words, self.page_words, self.lit = lamp_words, page_words, lit
            self.set_class(lit, "lit")
            self.refresh()

    def render(self) -> RenderResult:
        """Left and right, the left one cut when there is no room."""
        width = self.size.width
        right = clip(self.page_words, max(width // 2, width - cells(self.lamp_words) - 2, 1))
        left = clip(self.lamp_words, max(width - cells(right) - 2, 1))
        return Content(left + " " * max(width - cells(left) - cells(right), 1) + right)

    async def on_click(self) -> None:
        """The lamp can be clicked."""
        await self.run_action("screen.lamp")
