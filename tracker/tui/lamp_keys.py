"""The lamp's keys, on any screen: one key on, one key off, and then what was done."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from functools import partial

from tracker.domain.problems import DataError, Problem
from tracker.report.screens.entry_words import with_minutes
from tracker.report.screens.lamp_words import ASK_DONE, ASK_SINCE, ASK_STOPPED, lamp_lit
from tracker.tui.writing import Writing
from tracker.workbench.lamp import (
    LampOff,
    LampState,
    lamp_off,
    lamp_on,
    lamp_pause,
    lamp_resume,
    lamp_state,
    lamp_take_back,
)
from tracker.workbench.moments import read_moment


class LampKeys(Writing):
    """A screen whose lamp can be lit."""

    def read_lamp(self) -> None:
        """How the lamp stands, from the log."""
        self.ask_verb(partial(lamp_state, self.desk), self.show_lamp, "lamp")

    def show_lamp(self, state: LampState) -> None:
        """The top line, and the question of a forgotten lamp."""
        self.lastcoat.lamp = state
        self.tick()

    def action_lamp(self) -> None:
        """On, or off; a lamp that was forgotten asks when the person really stopped."""
        state = self.lastcoat.lamp
        if state is None or state.state == "off":
            self._lit(partial(lamp_on, self.desk))
        elif state.forgotten:
            self.ask(ASK_STOPPED, self._stopped_at)
        else:
            self._put_out(partial(lamp_off, self.desk))

    def _stopped_at(self, text: str) -> None:
        def verb() -> LampOff:
            return lamp_off(self.desk, at=_moment(text, self))

        self._put_out(verb)

    def _put_out(self, verb: Callable[[], LampOff]) -> None:
        self.ask_verb(verb, self.lamp_is_out, "store", alone=False)

    def lamp_is_out(self, done: LampOff) -> None:
        """Ask what was done, the minutes filled in."""
        self.read_lamp()
        self.stored(done.sentence())
        if done.minutes:
            draft, usual = self.lastcoat.draft, self.lastcoat.usual
            line = with_minutes(draft or usual, done.minutes, done.day, done.today)
            self.write_down(line, first=ASK_DONE.format(minutes=done.minutes))

    def action_rest(self) -> None:
        """Rest, or go on."""
        state = self.lastcoat.lamp
        paused = state is not None and state.state == "paused"
        self._lit(partial(lamp_resume if paused else lamp_pause, self.desk))

    def action_lamp_since(self) -> None:
        """Light it as of an earlier time."""
        self.ask(ASK_SINCE, self._since)

    def _since(self, text: str) -> None:
        def verb() -> LampState:
            return lamp_on(self.desk, since=_moment(text, self))

        self._lit(verb)

    def action_lamp_forget(self) -> None:
        """As if it had never been on."""
        self._lit(partial(lamp_take_back, self.desk))

    def _lit(self, verb: Callable[[], LampState]) -> None:
        self.ask_verb(verb, self.lamp_was_changed, "store", alone=False)

    def lamp_was_changed(self, state: LampState) -> None:
        """Say how it stands now."""
        self.show_lamp(state)
        self.stored(lamp_lit(state, self.desk.now()))


def _moment(text: str, screen: LampKeys) -> datetime:
    said = read_moment(text, screen.desk.now())
    if isinstance(said, Problem):
        raise DataError(said)
    return said
