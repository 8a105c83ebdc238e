"""A unit in its ranks: a place under the cursor, and the marks of what clashes between places."""

from __future__ import annotations

from typing import ClassVar

from rich.segment import Segment
from textual.binding import Binding, BindingType
from textual.events import Click, Resize
from textual.geometry import Size
from textual.strip import Strip

from tracker.domain.ranks import place_name
from tracker.domain.text import printable
from tracker.report.plain import pad
from tracker.report.screens.ranks_rows import RankRows, mark_look
from tracker.tui.widgets.grid import GridMoved
from tracker.tui.widgets.looks import Drawn

_MARGIN, _BETWEEN = 4, 4
_TITLES = 3
"""Lines above the places: what to do now, which side is the front, the files."""
_OTHERS = 10
"""Lines of the screen that are not for the drawing: the frame, and three below it."""
IN_HAND = "‹"


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
        self.styles.height = (
            min(high, max(self.screen.size.height - _OTHERS, _TITLES + 1)) if rows.spots else 0
        )
        self.virtual_size = Size(max(self.size.width - 1, 1), high)
        self._seen()
        self.refresh()

    def on_resize(self, _: Resize) -> None:
        """The place under the cursor stays in sight."""
        self._seen()

    def render_line(self, y: int) -> Strip:
        """Titles first; then places and what clashes between ranks, by turns."""
        place = y - _TITLES
        if y == 0:
            return self.strip_of([Segment("  " + printable(self.rows.lead), self.style_of("head"))])
        if y == 1:
            return self.strip_of([Segment(" " * _MARGIN + self.rows.title, self.style_of("quiet"))])
        if y == 2:
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
            if file > self.first:
                out += self._mark(file, rank, beside=True, room=_BETWEEN)
            if (rank, file) == (self.rank, self.file):
                out[-1] = Segment(out[-1].text[:-1], out[-1].style)
            out.append(self._spot(rank, file))
        return out

    def _spot(self, rank: int, file: int) -> Segment:
        """A place: in brackets under the cursor, with a plus where it is marked."""
        spot, pitch = self.rows.spots[rank][file], self.rows.pitch
        text = printable(spot.text)
        if (rank, file) == (self.rank, self.file):
            return Segment(f"[{pad(text, pitch - 1)}]", self.style_of("cursor"))
        if (rank, file) == self.marked:
            return Segment(pad(f"+{text}", pitch)[:pitch], self.style_of("chosen"))
        return Segment(pad(text, pitch)[:pitch], self.style_of(spot.look))

    def _between(self, rank: int) -> list[Segment]:
        out = [Segment(" " * _MARGIN, self.style_of("text"))]
        for file in range(self.first, self._files):
            out.append(Segment(" ", self.style_of("text")))
            out += self._mark(file, rank, beside=False, room=self.rows.pitch + _BETWEEN - 1)
        return out

    def _mark(self, file: int, rank: int, *, beside: bool, room: int) -> list[Segment]:
        """What clashes on an edge, and the room after it; the joint in hand stands out, by a sign as well."""
        mark = (self.rows.beside if beside else self.rows.behind)[rank][file]
        in_hand = self.rows.hand == (file + 1, rank + 1, beside)
        text = f"{mark}{IN_HAND}"[:room] if in_hand else mark
        style = self.style_of("cursor" if in_hand else mark_look(mark) if mark else "text")
        return [Segment(text, style), Segment(pad("", room - len(text)), self.style_of("text"))]

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
