"""A unit in its ranks: a place under the cursor, and the marks of what clashes between places."""

from __future__ import annotations

from typing import ClassVar

from rich.segment import Segment
from textual.binding import Binding, BindingType
from textual.events import Click
from textual.geometry import Size
from textual.strip import Strip

from tracker.domain.ranks import place_name
from tracker.domain.text import printable
from tracker.report.plain import pad
from tracker.report.screens.ranks_page import RankRows, mark_look
from tracker.tui.widgets.grid import GridMoved
from tracker.tui.widgets.looks import Drawn

_MARGIN, _BETWEEN = 4, 4
_TITLES = 2


class RankGrid(Drawn):
    """Places rank by rank, the front on top."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "move(-1, 0)", show=False),
        Binding("down", "move(1, 0)", show=False),
        Binding("left", "move(0, -1)", show=False),
        Binding("right", "move(0, 1)", show=False),
        Binding("home", "move(0, -999)", show=False),
        Binding("end", "move(0, 999)", show=False),
    ]

    def __init__(self) -> None:
        super().__init__(id="ranks")
        self.rows = RankRows("")
        self.rank = 0
        self.file = 0
        self.marked: tuple[int, int] | None = None
        """(rank, file) of the place whose model is to change with another; none = nothing is marked."""
        self.first = 0
        """Index of the leftmost file that is shown."""

    @property
    def here(self) -> tuple[int, int]:
        """(file, rank) under the cursor, from 1."""
        return self.file + 1, self.rank + 1

    @property
    def model_here(self) -> int | None:
        """The model under the cursor."""
        return self.rows.spots[self.rank][self.file].model_id if self.rows.spots else None

    def show(self, rows: RankRows) -> None:
        """Show this order, the cursor where it was."""
        self.rows = rows
        self.rank = min(self.rank, max(len(rows.spots) - 1, 0))
        self.file = min(self.file, max(len(rows.spots[0]) - 1, 0)) if rows.spots else 0
        high = _TITLES + max(2 * len(rows.spots) - 1, 0)
        self.styles.height = high if rows.spots else 0
        self.virtual_size = Size(max(self.size.width - 1, 1), high)
        self._seen()
        self.refresh()

    def render_line(self, y: int) -> Strip:
        """Titles first; then places and what clashes between ranks, by turns."""
        place = y - _TITLES
        if y == 0:
            return self.strip_of([Segment(" " * _MARGIN + self.rows.title, self.style_of("quiet"))])
        if y == 1:
            return self.strip_of(self._letters())
        place += self.scroll_offset.y
        if place >= 2 * len(self.rows.spots) - 1:
            return Strip.blank(self.size.width, self.style_of("text"))
        return self.strip_of(self._places(place // 2) if place % 2 == 0 else self._between(place // 2 + 1))

    def _letters(self) -> list[Segment]:
        names = [place_name(file + 1, 0)[:-1] for file in range(self.first, self._files)]
        words = "".join(pad(name, self.rows.pitch + _BETWEEN) for name in names)
        return [Segment(" " * _MARGIN + words, self.style_of("quiet"))]

    def _places(self, rank: int) -> list[Segment]:
        out = [Segment(f"{rank + 1:>2}  ", self.style_of("quiet"))]
        for file in range(self.first, self._files):
            spot, mark = self.rows.spots[rank][file], self.rows.beside[rank][file]
            if file > self.first:
                out.append(Segment(pad(mark, _BETWEEN), self.style_of(mark_look(mark) if mark else "text")))
            here, chosen = (rank, file) == (self.rank, self.file), (rank, file) == self.marked
            text = printable(spot.text)
            if here:
                out[-1] = Segment(out[-1].text[:-1], out[-1].style)
                out.append(Segment(f"[{pad(text, self.rows.pitch - 1)}]", self.style_of("cursor")))
            else:
                sign = "+" if chosen else ""
                look = "chosen" if chosen else spot.look
                out.append(Segment(pad(sign + text, self.rows.pitch)[: self.rows.pitch], self.style_of(look)))
        return out

    def _between(self, rank: int) -> list[Segment]:
        out = [Segment(" " * _MARGIN, self.style_of("text"))]
        for file in range(self.first, self._files):
            mark = self.rows.behind[rank][file]
            wide = self.rows.pitch + _BETWEEN
            out.append(Segment(pad(f" {mark}", wide), self.style_of(mark_look(mark) if mark else "text")))
        return out

    @property
    def _files(self) -> int:
        return len(self.rows.spots[0]) if self.rows.spots else 0

    def action_move(self, down: int, right: int) -> None:
        """The cursor moves, never over the edge."""
        self.put(self.rank + down, self.file + right)

    def put(self, rank: int, file: int) -> None:
        """The cursor to a place."""
        self.rank = min(max(rank, 0), max(len(self.rows.spots) - 1, 0))
        self.file = min(max(file, 0), max(self._files - 1, 0))
        self._seen()
        self.post_message(GridMoved())
        self.refresh()

    def _seen(self) -> None:
        """Files and ranks move so that the place under the cursor is seen."""
        room = max((self.size.width - _MARGIN) // (self.rows.pitch + _BETWEEN), 1)
        self.first = min(max(self.first, self.file - room + 1), self.file)
        high, top = max(self.size.height - _TITLES, 1), self.scroll_offset.y
        if not top <= 2 * self.rank < top + high:
            y = 2 * self.rank if 2 * self.rank < top else 2 * self.rank - high + 1
            self.scroll_to(y=y, animate=False, immediate=True)

    def on_click(self, event: Click) -> None:
        """A click puts the cursor there."""
        rank = (event.y - _TITLES + self.scroll_offset.y) // 2
        file = (event.x - _MARGIN) // (self.rows.pitch + _BETWEEN) + self.first
        if event.y >= _TITLES and event.x >= _MARGIN:
            self.put(rank, file)
