"""What every screen has: the lamp's line, the page, the entry line, the hints; and its way to the verbs."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from typing import TYPE_CHECKING, Any, ClassVar, TypeVar, cast

from textual.app import ComposeResult
from textual.events import Resize
from textual.screen import Screen
from textual.worker import Worker, WorkerState, get_current_worker

from tracker.domain.problems import LastcoatError
from tracker.report.plain import clip
from tracker.report.screens.chrome import NOT_YET_READ, lamp_line, page_line, problem_line, too_small
from tracker.report.screens.line import PageLine
from tracker.tui.actions import HELP, actions_on, common_bindings, key_of
from tracker.tui.messages import Answered, Refused
from tracker.tui.widgets.entry import Entry
from tracker.tui.widgets.hints import Hints
from tracker.tui.widgets.lamp_line import LampLine
from tracker.tui.widgets.rows import Rows
from tracker.workbench.desk import Desk

if TYPE_CHECKING:
    from tracker.tui.app import Lastcoat

T = TypeVar("T")
LEAST_COLUMNS, LEAST_LINES = 60, 16
TICK_SECONDS = 20.0
ENTRY_HINTS = (
    ("Enter", "store", "screen.send_off"),
    ("↑ ↓", "step", "screen.turn"),
    ("Tab", "unit", "screen.turn_unit"),
    ("Esc", "later", "screen.leave_entry"),
)


class Frame(Screen[None]):
    """A screen with one page of lines."""

    BINDINGS = common_bindings()
    PAGE: ClassVar[str] = "tonight"
    TITLE_WORDS: ClassVar[str] = ""
    TWIN: ClassVar[str] = "lastcoat"
    """The command that prints the same as plain text."""

    @property
    def lastcoat(self) -> Lastcoat:
        """The program this screen belongs to."""
        return cast("Lastcoat", self.app)

    @property
    def desk(self) -> Desk:
        """Where the log lies."""
        return self.lastcoat.desk

    @property
    def rows(self) -> Rows:
        """The page."""
        return self.query_one(Rows)

    @property
    def entry(self) -> Entry:
        """The entry line."""
        return self.query_one(Entry)

    def compose(self) -> ComposeResult:
        """From top to bottom."""
        yield LampLine()
        yield Rows(id="page")
        yield Entry()
        yield Hints()

    def on_mount(self) -> None:
        """Keys go to the page first."""
        self.focus_page()
        self.set_interval(TICK_SECONDS, self.tick)

    def focus_page(self) -> None:
        """Keys go to the page."""
        self.rows.focus()

    def on_resize(self, event: Resize) -> None:
        """A clear word where there is no room; else the page is worded anew for the width."""
        small = event.size.width < LEAST_COLUMNS or event.size.height < LEAST_LINES
        self.set_class(small, "small")
        self.call_after_refresh(self.draw)

    def lines(self, width: int) -> Sequence[PageLine]:
        """What the page says, for that many columns; before anything was read, that."""
        return [PageLine(clip(NOT_YET_READ, width), "quiet")]

    def draw(self, at: str = "") -> None:
        """Word the page and the frame anew from what is known; nothing is read."""
        if not self.is_mounted:
            return
        small = self.has_class("small")
        lines = too_small(self.size.width, self.size.height) if small else self.lines(self.rows.room)
        self.rows.show(lines, at)
        self.tick()
        self.show_hints()

    def tick(self) -> None:
        """The top line, as of now."""
        state, desk = self.lastcoat.lamp, self.desk
        page = page_line(self.TITLE_WORDS, desk.evening_day())
        lamp = lamp_line(state, desk.now()) if state else ""
        self.query_one(LampLine).show(lamp, page, lit=bool(state and state.state == "on"))

    def show_hints(self) -> None:
        """The keys of this screen."""
        keymap = self.lastcoat.keymap_said
        if self.entry.line.has_focus:
            self.query_one(Hints).show(ENTRY_HINTS)
            return
        hints = [
            (key_of(action, keymap), action.hint, f"screen.{action.name}")
            for action in actions_on(self.PAGE)
            if action.hint and action.name != HELP.name
        ]
        self.query_one(Hints).show([*hints, (key_of(HELP, keymap), HELP.hint, "screen.help")])

    def on_descendant_focus(self) -> None:
        """Other keys while typing."""
        self.show_hints()

    def ask_verb(
        self, verb: Callable[[], T], then: Callable[[T], None], group: str, *, alone: bool = True
    ) -> None:
        """Call a verb in a worker; what it answers comes back as a message.

        With `alone` an earlier question of the group is given up: its answer no longer matters.
        """
        self.run_worker(
            partial(self._work, verb, then), group=group, exclusive=alone, thread=True, exit_on_error=False
        )

    def _work(self, verb: Callable[[], T], then: Callable[[T], None]) -> None:
        worker = get_current_worker()
        try:
            answer = verb()
        except LastcoatError as refusal:
            message: Answered | Refused = Refused(refusal.problems)
        else:
            message = Answered(cast("Callable[[Any], None]", then), answer)
        if not worker.is_cancelled:
            self.post_message(message)

    def on_answered(self, message: Answered) -> None:
        """Hand the answer to who asked."""
        message.stop()
        message.then(message.answer)

    def on_refused(self, message: Refused) -> None:
        """Say what is wrong and how to mend it."""
        message.stop()
        self.entry.below(problem_line(message.problems), "late")

    def on_worker_state_changed(self, event: Worker.StateChanged) -> None:
        """A fault of the program is said in one line, and the program goes on."""
        if event.state is WorkerState.ERROR and event.worker.error is not None:
            error = event.worker.error
            self.entry.below(f"A fault of the program: {type(error).__name__}: {error}", "late")
