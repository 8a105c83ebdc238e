"""Writing an evening down on any screen: typed, shown as understood, turned, stored; a draft at every key."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from threading import Lock
from typing import NamedTuple

from tracker.report.screens.entry_words import heard_words, tidy_entry
from tracker.tui.frame import Frame
from tracker.tui.messages import Left, Said, Stored, Turned, Typed
from tracker.tui.widgets.entry import WRITE
from tracker.workbench.drafts import save_draft
from tracker.workbench.heard import Understood
from tracker.workbench.understanding import log_understood, turned, understand

_DRAFT_LOCK = Lock()


class Question(NamedTuple):
    """Something the entry line asks instead of an evening."""

    words: str
    then: Callable[[str], None]


class Writing(Frame):
    """A screen with an entry line that works."""

    def __init__(self) -> None:
        super().__init__()
        self.question: Question | None = None
        self.heard: Understood | None = None
        self.first = ""

    def action_write(self) -> None:
        """To the entry line: what is half typed, else the line that was left off."""
        usual = self.lastcoat.usual
        self.write_down(self.lastcoat.draft or usual, at_minutes=not self.lastcoat.draft)

    def write_down(self, text: str, *, at_minutes: bool = False, first: str = "") -> None:
        """Open the entry line with a text in it, the cursor where the minutes go.

        What is understood is shown behind the words `first`.
        """
        self.question, self.first = None, first
        self.entry.below(first)
        self.entry.ask(WRITE)
        place = len(text) - len(" min") if at_minutes and text.endswith(",  min") else None
        self.entry.fill(text, place)
        self.entry.line.focus()
        if self.entry.line.offered:
            self._read_entry(text)
        else:
            self.entry_changed(text)

    def ask(self, words: str, then: Callable[[str], None], text: str = "") -> None:
        """Ask something in the entry line; the half-typed evening waits."""
        self.question = Question(words, then)
        self.entry.ask(words)
        self.entry.fill(text)
        self.entry.below(words, "quiet")
        self.entry.line.focus()

    def close_entry(self) -> None:
        """Keys go to the page again; the half-typed evening is back in its place."""
        self.question, self.first = None, ""
        self.entry.ask(WRITE)
        self.entry.fill(self.lastcoat.draft)
        self.entry.below("")
        self.focus_page()

    def on_typed(self, message: Typed) -> None:
        """A key changed the line."""
        message.stop()
        if self.question is None:
            self.entry_changed(message.text)

    def entry_changed(self, text: str) -> None:
        """Keep the draft and show what is understood."""
        self.lastcoat.draft = text
        self.ask_verb(self._keep_draft, lambda _: None, "draft", alone=False)
        self._read_entry(text)

    def _read_entry(self, text: str) -> None:
        self.heard = None
        if tidy_entry(text):
            self.ask_verb(
                partial(understand, self.desk, tidy_entry(text)), partial(self.show_heard, text), "entry"
            )
        else:
            self.entry.below(self.first)

    def _keep_draft(self) -> None:
        """Whoever comes last keeps the newest text, in whatever order the workers run."""
        with _DRAFT_LOCK:
            save_draft(self.desk, self.lastcoat.draft)

    def show_heard(self, text: str, heard: Understood) -> None:
        """What would be stored, unless the line has moved on."""
        if self.question is None and text == self.entry.line.value:
            self.heard = heard
            words, look = heard_words(heard)
            self.entry.below(self.first + words, look)

    def on_turned(self, message: Turned) -> None:
        """Another step (up, down) or another unit (with shift) in place of what was understood."""
        message.stop()
        if self.heard is not None and self.question is None:
            verb = partial(turned, self.desk, self.heard, message.by, message.what)
            self.ask_verb(verb, partial(self.show_heard, self.entry.line.value), "entry")

    def on_said(self, message: Said) -> None:
        """Enter: store it, or answer the question."""
        message.stop()
        text = tidy_entry(message.text)
        if self.question is not None:
            then = self.question.then
            self.close_entry()
            then(message.text.strip())
        elif text:
            corrected = self.heard if self.heard is not None and self.heard.choices else None
            self.ask_verb(partial(self._store, text, corrected), self.entry_stored, "store", alone=False)
        else:
            self.close_entry()

    def _store(self, text: str, corrected: Understood | None) -> str:
        stored = log_understood(self.desk, corrected or understand(self.desk, text))
        with _DRAFT_LOCK:
            self.lastcoat.draft = ""
            save_draft(self.desk, "")
        return stored.sentence()

    def entry_stored(self, sentence: str) -> None:
        """The line is on disk: say what it bought."""
        self.heard = None
        self.close_entry()
        self.stored(sentence)

    def stored(self, sentence: str) -> None:
        """Say what was stored; every page that shows it is old now."""
        self.entry.below(sentence, "good")
        self.lastcoat.post_message(Stored(sentence))

    def on_left(self, message: Left) -> None:
        """Escape."""
        message.stop()
        self.close_entry()
        if self.lastcoat.draft:
            self.entry.below("Kept for later.", "quiet")

    async def action_send_off(self) -> None:
        """Enter, by a click."""
        await self.entry.line.run_action("submit")

    def action_turn(self) -> None:
        """Another reading, by a click."""
        self.entry.line.action_turn(1, "step")

    def action_turn_unit(self) -> None:
        """Another unit, by a click."""
        self.entry.line.action_turn(1, "unit")

    def action_leave_entry(self) -> None:
        """Leave, by a click."""
        self.entry.line.action_leave()
