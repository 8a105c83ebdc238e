"""The photos of a unit: a row for each, and the one under the cursor drawn below."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from functools import partial

from textual.app import ComposeResult
from textual.events import Resize
from textual.widget import Widget

from tracker.domain.answers_photos import PhotosAnswer, PhotoShown
from tracker.report.screens.line import PageLine
from tracker.report.screens.photos_page import ASK_OUT, ASK_PHOTO, photos_lines, read_photo
from tracker.tui.actions import own_bindings
from tracker.tui.messages import CursorMoved
from tracker.tui.unit_care import UnitCare
from tracker.tui.widgets.entry import Entry
from tracker.tui.widgets.hints import Hints
from tracker.tui.widgets.lamp_line import LampLine
from tracker.tui.widgets.picture import Colour, HalfBlocks
from tracker.tui.widgets.rows import Rows
from tracker.workbench.photo_out import copy_out
from tracker.workbench.photos import PhotoWish, add_photos, drop_photo, photos
from tracker.workbench.photos_seen import picture_points

TERMINAL_PICTURES = "textual_image"
"""The optional package that lets a terminal draw pictures itself; `start` loads it where it is there."""


class Photos(UnitCare):
    """Before and after."""

    PAGE = "photos"
    TITLE_WORDS = "Photos"
    TWIN = "lastcoat photo show --unit UNIT"
    BINDINGS = own_bindings("photos")

    def __init__(self, unit: str, army: str) -> None:
        super().__init__()
        self.unit, self.army = unit, army
        self.answer: PhotosAnswer | None = None
        self.drawn = ("", 0, 0)
        """Which file is drawn, and how large."""

    def compose(self) -> ComposeResult:
        """The rows over the picture."""
        yield LampLine()
        yield Rows(id="page")
        yield self._canvas()
        yield Entry()
        yield Hints()

    def _canvas(self) -> Widget:
        if TERMINAL_PICTURES in sys.modules:
            from textual_image.widget import Image

            return Image(id="picture")
        return HalfBlocks()

    @property
    def unit_here(self) -> tuple[str, str] | None:
        """The unit of this screen."""
        return self.army, self.unit

    @property
    def photo_here(self) -> PhotoShown | None:
        """The photo under the cursor."""
        there = self.answer.photos if self.answer else ()
        return next((photo for photo in there if str(photo.number) == self.rows.key), None)

    def read(self) -> None:
        """The unit's photos, in a worker."""
        self.ask_verb(partial(photos, self.desk, self.unit, army=self.army), self.show, "reading")

    def show(self, answer: PhotosAnswer) -> None:
        """The answer arrived; the cursor begins on the newest."""
        first = self.answer is None
        self.answer = answer
        self.draw(str(answer.photos[-1].number) if first and answer.photos else "")
        self._draw_picture()

    def lines(self, width: int) -> Sequence[PageLine]:
        """The page."""
        return photos_lines(self.answer, width)

    def on_cursor_moved(self, message: CursorMoved) -> None:
        """Another photo."""
        message.stop()
        self._draw_picture()

    def on_resize(self, event: Resize) -> None:
        """More room, or less."""
        super().on_resize(event)
        self.call_after_refresh(self._draw_picture)

    def _draw_picture(self) -> None:
        photo, canvas = self.photo_here, self.query_one("#picture", Widget)
        columns, lines = canvas.size
        path = photo.path if photo and photo.is_there else ""
        if self.drawn == (path, columns, lines):
            return
        self.drawn = (path, columns, lines)
        if not isinstance(canvas, HalfBlocks):
            canvas.image = path or None  # type: ignore[attr-defined] # the optional package has no types
        elif not path or not columns or not lines:
            canvas.show(())
        else:
            self.ask_verb(partial(picture_points, path, columns, 2 * lines), self._points, "picture")

    def _points(self, points: Sequence[Sequence[Colour]]) -> None:
        canvas = self.query_one("#picture", Widget)
        if isinstance(canvas, HalfBlocks):
            canvas.show(points)

    def action_add_photo(self) -> None:
        """One more."""
        self.ask(ASK_PHOTO, self._said)

    def _said(self, text: str) -> None:
        if text:
            said = read_photo(text)
            wish = PhotoWish(self.unit, self.army, step=said.step)
            self.store(partial(add_photos, self.desk, [said.file], wish))

    def action_drop_photo(self) -> None:
        """The log forgets the one under the cursor."""
        if self.photo_here:
            self.store(partial(drop_photo, self.desk, self.photo_here.number))

    def action_photo_out(self) -> None:
        """The one under the cursor goes to a file."""
        if self.photo_here:
            number = self.photo_here.number
            self.ask(ASK_OUT, lambda said: self._out(number, said))

    def _out(self, number: int, said: str) -> None:
        if said:
            self.ask_verb(partial(copy_out, self.desk, number, said), self._told, "store", alone=False)

    def _told(self, words: str) -> None:
        self.entry.below(words, "good")
