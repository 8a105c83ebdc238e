"""The last line: as many keys as fit, the ones used most first, each to be clicked as well."""

from __future__ import annotations

from collections.abc import Sequence

from rich.segment import Segment
from rich.style import Style
from textual.strip import Strip
from textual.widget import Widget

from tracker.report.plain import cells

_GAP = "   "


class Hints(Widget):
    """Keys and what they do; the last one always has room."""

    COMPONENT_CLASSES = {"hints--key", "hints--word"}  # noqa: RUF012 - the framework's form

    def __init__(self) -> None:
        super().__init__(id="hints")
        self.hints: Sequence[tuple[str, str, str]] = ()
        """(key, word, action)."""

    def show(self, hints: Sequence[tuple[str, str, str]]) -> None:
        """Show these, first things first."""
        if list(hints) != list(self.hints):
            self.hints = hints
            self.refresh()

    def render_line(self, _: int) -> Strip:
        """What fits."""
        key_style = self.get_component_rich_style("hints--key")
        word_style = self.get_component_rich_style("hints--word")
        segments = [Segment("  ", word_style)]
        for key, word, action in self._fitting():
            click = Style(meta={"@click": action})
            segments += [
                Segment(key, key_style + click), Segment(f" {word}", word_style + click),
                Segment(_GAP, word_style),
            ]  # fmt: skip
        return Strip(segments).adjust_cell_length(self.size.width, word_style)

    def _fitting(self) -> list[tuple[str, str, str]]:
        if not self.hints:
            return []
        *first, last = self.hints
        room = self.size.width - 2 - _cells(last)
        out = []
        for hint in first:
            room -= _cells(hint)
            if room < 0:
                break
            out.append(hint)
        return [*out, last]


def _cells(hint: tuple[str, str, str]) -> int:
    return cells(hint[0]) + 1 + cells(hint[1]) + len(_GAP)
