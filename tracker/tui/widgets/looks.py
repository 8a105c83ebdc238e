"""Lines drawn sign by sign: the styles of the looks, found once for each theme."""

from __future__ import annotations

from typing import ClassVar

from rich.segment import Segment
from rich.style import Style
from textual.scroll_view import ScrollView
from textual.strip import Strip

LOOKS = ("head", "row", "quiet", "good", "late", "chart", "care", "text")


class Drawn(ScrollView, can_focus=True):
    """A widget that draws its own lines in the looks of the pages."""

    COMPONENT_CLASSES: ClassVar[set[str]] = {
        *(f"rows--{look}" for look in LOOKS), "rows--cursor", "rows--chosen",
    }  # fmt: skip

    def __init__(self, *, id: str) -> None:  # noqa: A002 - the framework's name
        super().__init__(id=id)
        self._styles: dict[str, Style] = {}

    def notify_style_update(self) -> None:
        """Another theme: colours are looked up anew."""
        self._styles = {}
        super().notify_style_update()

    def style_of(self, look: str) -> Style:
        """The style of a look."""
        if look not in self._styles:
            self._styles[look] = self.get_component_rich_style(f"rows--{look}")
        return self._styles[look]

    def strip_of(self, segments: list[Segment]) -> Strip:
        """A line as wide as the widget."""
        return Strip(segments).adjust_cell_length(self.size.width, self.style_of("text"))
