"""The photos of a unit: a row for each, and the one under the cursor drawn below."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.events import Resize

from tracker.domain.answers_photos import PhotosAnswer, PhotoShown
from tracker.report.screens.line import PageLine
from tracker.report.screens.photos_page import ASK_OUT, ASK_PHOTO, photos_lines, read_photo
from tracker.tui.actions import own_bindings
from tracker.tui.messages import CursorMoved, Refused
from tracker.tui.unit_care import UnitCare
from tracker.tui.widgets.entry import Entry
from tracker.tui.widgets.hints import Hints
from tracker.tui.widgets.lamp_line import LampLine
from tracker.tui.widgets.picture import HalfBlocks, TerminalCanvas, terminal_canvas
from tracker.tui.widgets.rows import Rows
from tracker.workbench.photo_out import copy_out
from tracker.workbench.photos import PhotoWish, add_photos, drop_photo, photos
from tracker.workbench.photos_seen import picture_data, picture_points


class Photos(UnitCare):
    """Before and after."""

    PAGE = "photos"
    TITLE_WORDS = "Photos"
    TWIN = "lastcoat photo show --unit UNIT"
    BINDINGS: ClassVar[list[BindingType]] = [
        *own_bindings("photos"),
        Binding("left", "turn_page(-1)", show=False),
        Binding("right", "turn_page(1)", show=False),
    ]

    def __init__(self, unit: str, army: str) -> None:
        super().__init__()
        self.unit, self.army = unit, army
        self.answer: PhotosAnswer | None = None
        self.canvas: HalfBlocks | TerminalCanvas = terminal_canvas() or HalfBlocks()
        self.drawn = ("", 0, 0)
        """Which file is drawn, and how large."""

    def compose(self) -> ComposeResult:
        """The rows over the picture."""
        yield LampLine()
        yield Rows(id="page")
        yield self.canvas
        yield Entry()
        yield Hints()

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
        """The answer arrived; the cursor begins on the newest, and goes to one that was just added."""
        before = None if self.answer is None else {photo.number for photo in self.answer.photos}
        fresh = [photo.number for photo in answer.photos if before is not None and photo.number not in before]
        if before is None and answer.photos:
            fresh = [answer.photos[-1].number]
        self.answer = answer
        self.draw(str(max(fresh)) if fresh else "")
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
        photo, canvas = self.photo_here, self.canvas
        columns, lines = canvas.size
        path = photo.path if photo and photo.is_there and not self.app.no_color else ""
        if self.drawn == (path, columns, lines):
            return
        self.drawn = (path, columns, lines)
        if not path or not columns or not lines:
            self._empty()
        elif isinstance(canvas, HalfBlocks):
            self.ask_verb(partial(picture_points, path, columns, 2 * lines), canvas.show, "picture")
        else:
            self.ask_verb(partial(picture_data, path), canvas.show, "picture")

    def _empty(self) -> None:
        canvas = self.canvas
        canvas.show(()) if isinstance(canvas, HalfBlocks) else canvas.show(b"")

    def on_refused(self, message: Refused) -> None:
        """A picture that cannot be drawn leaves no other one standing in its place."""
        super().on_refused(message)
        if any(problem.where == self.drawn[0] for problem in message.problems):
            self._empty()

    def action_turn_page(self, by: int) -> None:
        """The photo before, or the next one."""
        self.rows.action_move(by)

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
