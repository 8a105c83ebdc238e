"""Taking the last change back, and bringing it back again."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING, NamedTuple

from tracker.domain.problems import DataError, Problem
from tracker.workbench.desk import Desk
from tracker.workbench.words import day_words

if TYPE_CHECKING:
    from tracker.store.journal import Past


class Turned(NamedTuple):
    """A change that was taken back or brought back."""

    verb: str
    words: str
    day_words: str
    """The day it was stored, when that is not today."""

    def sentence(self, how: str) -> str:
        """As in "Taken back: log: washing, 10 of 20 Spears (stored Tue 3 Mar)."."""
        stored = f" (stored {self.day_words})" if self.day_words else ""
        return f"{how}: {self.verb}: {self.words}{stored}."


def undo(desk: Desk) -> Turned:
    """Take back the last change, whole; a `DataError` when there is none."""
    with desk.open() as store:
        past = store.undo()
    if past is None:
        raise DataError(Problem("undo", "there is nothing to take back", "Nothing was changed"))
    return _turned(past, desk)


def redo(desk: Desk) -> Turned:
    """Bring back what was taken back last; a `DataError` when there is nothing."""
    with desk.open() as store:
        past = store.redo()
    if past is None:
        raise DataError(Problem("redo", "there is nothing to bring back", "Nothing was changed"))
    return _turned(past, desk)


def would_undo(desk: Desk) -> Turned | None:
    """What `undo` would take back; None when there is nothing."""
    if not os.path.lexists(desk.path):
        return None
    with desk.open() as store:
        past = store.to_undo()
    return past and _turned(past, desk)


def would_redo(desk: Desk) -> Turned | None:
    """What `redo` would bring back; None when there is nothing."""
    if not os.path.lexists(desk.path):
        return None
    with desk.open() as store:
        past = store.to_redo()
    return past and _turned(past, desk)


def _turned(past: Past, desk: Desk) -> Turned:
    day, today = past.at.date(), desk.today()
    return Turned(past.verb, past.words, "" if day == today else day_words(day, today))
