"""The entry line: one line to type in, and under it what was understood or what it bought."""

from __future__ import annotations

from typing import ClassVar, Literal

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.events import Key
from textual.widgets import Input, Static

from tracker.domain.text import printable
from tracker.tui.messages import Left, Said, Turned, Typed

WRITE = "What did you do?"
LETTERS_MOST = 4000


class EntryInput(Input):
    """The line itself. Enter sends it off, up and down turn to other readings, Escape leaves it."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "turn(-1, 'step')", show=False),
        Binding("down", "turn(1, 'step')", show=False),
        Binding("shift+up,pageup", "turn(-1, 'unit')", show=False),
        Binding("shift+down,pagedown,tab", "turn(1, 'unit')", show=False),
        Binding("escape", "leave", show=False),
    ]

    offered = False
    """The line was put there to have its minutes filled in; a word typed instead of them replaces it."""

    def insert_text_at_cursor(self, text: str) -> None:
        """Minutes go into the offered line; a sentence of the person's own takes its place."""
        if self.offered and text[:1].isalpha():
            self.value = ""
        self.offered = False
        super().insert_text_at_cursor(text)

    def action_turn(self, by: int, what: Literal["unit", "step"]) -> None:
        """Another unit or step."""
        self.post_message(Turned(by, what))

    def action_leave(self) -> None:
        """Back to the page; what is typed stays."""
        self.post_message(Left())

    async def on_key(self, event: Key) -> None:
        """A question mark on an empty line asks for help; elsewhere it is a question mark."""
        if event.key == "question_mark" and not self.value:
            event.prevent_default()
            event.stop()
            await self.run_action("screen.help")


class Entry(Vertical):
    """The line with its prompt, and two lines below it."""

    def __init__(self) -> None:
        super().__init__(id="entry")
        self._quiet_change = ""

    def compose(self) -> ComposeResult:
        """A prompt, the line, what it means."""
        with Horizontal(id="entry-row"):
            yield Static("›", id="prompt", markup=False)
            yield EntryInput(
                placeholder=WRITE, id="line", max_length=LETTERS_MOST, compact=True, select_on_focus=False
            )
        yield Static("", id="below", markup=False)

    @property
    def line(self) -> EntryInput:
        """The line to type in."""
        return self.query_one(EntryInput)

    def fill(self, text: str, cursor: int | None = None) -> None:
        """Put a text into the line without taking it for typing; with a `cursor` it is an offer."""
        self.line.offered = cursor is not None
        if self.line.value != text:
            self._quiet_change = text
            self.line.value = text
        self.line.cursor_position = len(text) if cursor is None else cursor

    def ask(self, question: str, *, secret: bool = False) -> None:
        """Show what the line is for."""
        self.line.placeholder = question
        self.line.password = secret
        self.query_one("#prompt", Static).update(Content("›" if question == WRITE else "?"))

    def below(self, text: str, look: str = "") -> None:
        """Show what is understood, bought or wrong; `look` is "", "good", "late" or "quiet"."""
        below = self.query_one("#below", Static)
        below.set_classes(look)
        below.update(Content(printable(text.replace("\n", " "))))

    def on_input_changed(self, event: Input.Changed) -> None:
        """Tell the screen about what was typed, not about what was put in."""
        event.stop()
        if event.value == self._quiet_change:
            self._quiet_change = "\0"
            return
        self._quiet_change = "\0"
        self.post_message(Typed(event.value))

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Enter."""
        event.stop()
        self.post_message(Said(event.value))
