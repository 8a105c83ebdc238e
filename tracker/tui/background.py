"""The work behind the screens: the kept forecast at once, a fresh one as soon as it is worked out."""

from __future__ import annotations

import os
from contextlib import suppress
from functools import partial
from typing import cast

from textual.app import App
from textual.message import Message
from textual.worker import WorkerFailed, get_current_worker

from tracker.domain.problems import Problem
from tracker.report.screens.chrome import problem_line
from tracker.report.screens.help_page import ASK_FOR_ANYTHING
from tracker.tui.answers import Answers, Failed, Fresh, read_kept, work_out
from tracker.tui.messages import Stored
from tracker.tui.page import Page
from tracker.workbench.desk import Desk
from tracker.workbench.lamp import LampState
from tracker.workbench.past import Turned


class Background(App[None]):
    """What all screens share, and the worker that keeps the dates fresh."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.beside: list[Problem] = []
        """What went wrong beside what was stored, in a worker; told with it."""
        self.desk = desk._replace(tell=self.beside.append)
        self.draft = ""
        self.draft_is_read = False
        self.usual = ""
        """The line that was left off, offered when the entry line is opened."""
        self.lamp: LampState | None = None
        self.log_state = 0
        """Counts what was stored since the program was opened."""
        self.sure_of: Turned | None = None
        self.answers = Answers()
        self.trouble: tuple[Problem, ...] = ()
        """What is wrong with the settings; said once."""
        self.plain_signs = os.environ.get("TERM", "") == "linux"
        """Whether the terminal has no fine signs for charts."""

    @property
    def page(self) -> Page | None:
        """The screen that is shown, where it is one of ours."""
        return self.screen if isinstance(self.screen, Page) else None

    async def close_when_stored(self) -> None:
        """Close as soon as what is being written is on disk."""
        await self.until_stored()
        self.exit()

    async def until_stored(self) -> None:
        """Wait for what is being written."""
        writing = [worker for worker in self.workers if worker.group in ("store", "draft", "settings")]
        for worker in writing:
            with suppress(WorkerFailed):
                await worker.wait()

    def action_command_palette(self) -> None:
        """Everything by name, asked for in our words."""
        from textual.command import CommandPalette

        if not CommandPalette.is_open(cast("App[object]", self)):
            self.push_screen(CommandPalette(placeholder=ASK_FOR_ANYTHING, id="--command-palette"))

    def on_mount(self) -> None:
        """After the first paint: what was kept, then what is fresh."""
        self.call_after_refresh(self._begin)

    def _begin(self) -> None:
        if self.trouble and self.page is not None:
            self.page.entry.below(problem_line(self.trouble), "late")
        self.run_worker(partial(self._tell, read_kept), thread=True, group="answers", exit_on_error=False)

    def _tell(self, work: object) -> None:
        message: Message = work(self.desk)  # type: ignore[operator]
        if not get_current_worker().is_cancelled:
            self.post_message(message)

    def want_fresh(self) -> None:
        """Work the dates out, unless that is being done."""
        if self.answers.wanted():
            self.run_worker(partial(self._tell, work_out), thread=True, group="answers", exit_on_error=False)

    def on_fresh(self, message: Fresh) -> None:
        """Dates arrived: show them, and work out fresh ones where these are old."""
        self.answers.take(message.before)
        if not self.answers.fresh:
            self.want_fresh()
        if self.page is not None:
            self.page.dates_arrived()

    def on_failed(self, message: Failed) -> None:
        """No dates: say why, once."""
        self.answers.working = "no"
        if self.page is not None:
            self.page.entry.below(problem_line(message.problems), "late")

    def on_stored(self, message: Stored) -> None:
        """The log changed: every screen reads anew, and so does the forecast."""
        message.stop()
        self.log_state += 1
        if self.page is not None:
            if self.beside:
                self.page.entry.below(f"{message.sentence} {problem_line(tuple(self.beside))}", "late")
            self.page.reread()
        self.beside.clear()
        self.want_fresh()
