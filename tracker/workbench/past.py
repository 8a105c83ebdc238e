"""Taking the last change back, and bringing it back again."""

from __future__ import annotations

from typing import NamedTuple

from tracker.domain.problems import DataError, Problem
from tracker.workbench.desk import Desk
from tracker.workbench.words import day_words


class Turned(NamedTuple):
    """A change that was taken back or brought back."""

    verb: str
    words: str
    day_words: str

    def sentence(self, how: str) -> str:
        """As in "Taken back: log: washing, 10 of 20 Spears (stored Tue 3 Mar)."."""
        return f"{how}: {self.verb}: {self.words} (stored {self.day_words})."


def undo(desk: Desk) -> Turned:
    """Take back the last change, whole; a `DataError` when there is none."""
    with desk.open() as store:
        past = store.undo()
    if past is None:
        raise DataError(Problem("undo", "there is nothing to take back", "Nothing was changed"))
    return Turned(past.verb, past.words, day_words(past.at.date(), desk.today()))


def redo(desk: Desk) -> Turned:
    """Bring back what was taken back last; a `DataError` when there is nothing."""
    with desk.open() as store:
        past = store.redo()
    if past is None:
        raise DataError(Problem("redo", "there is nothing to bring back", "Nothing was changed"))
    return Turned(past.verb, past.words, day_words(past.at.date(), desk.today()))
