"""Migrations broken off at every statement: python -m tests.faults.moments [--many].

A log of every older schema, with rows in it, is opened, which migrates it. In one run statement k fails or
the person presses Ctrl-C; in another the process is gone as statement k begins, those of triggers and of the
backup included; in a third SQLite is stopped in the middle of a statement. Afterwards the file is the old one
whole or the new one whole, a backup of it is the old one whole, and the next opening makes it the new one.
"""

from __future__ import annotations

import os
import sqlite3
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any
from unittest.mock import patch

from tests.faults.acts import Act
from tests.faults.sides import Sides, do_side, prepare, side_state
from tests.faults.telling import Tally, in_memory, tell
from tracker.domain.problems import DataError
from tracker.store.numbers import NEWEST_SCHEMA

MANY, FEW = 1, 15
"""Every statement, or every fifteenth: each schema begins the count at another one."""
STEPS = 200
"""Instructions of SQLite's machine between two looks in the middle of statements."""
Prepare = Callable[[sqlite3.Connection], None]


class BrokenOff(sqlite3.Connection):
    """A connection whose statement number `at`, counted over all of them, is not run but fails."""

    seen = 0
    at = 0

    def execute(self, *said: Any) -> sqlite3.Cursor:
        """Count, and fail or run it."""
        self._reach()
        return super().execute(*said)

    def executemany(self, *said: Any) -> sqlite3.Cursor:
        """Likewise."""
        self._reach()
        return super().executemany(*said)

    def backup(self, *said: Any, **more: Any) -> None:
        """Likewise."""
        self._reach()
        super().backup(*said, **more)

    def _reach(self) -> None:
        BrokenOff.seen += 1
        if BrokenOff.seen == BrokenOff.at:
            if BrokenOff.at % 2:
                raise KeyboardInterrupt
            raise sqlite3.OperationalError("broken off")


@contextmanager
def connections(kind: type[sqlite3.Connection], prepare_one: Prepare) -> Iterator[None]:
    """Every connection that is made inside is of this kind, and prepared."""
    plain = sqlite3.connect

    def connect(path: str, **more: Any) -> sqlite3.Connection:
        made: sqlite3.Connection = plain(path, factory=kind, **more)
        prepare_one(made)
        return made

    with patch.object(sqlite3, "connect", connect):
        yield


def failing(sides: Sides, number: int, every: int) -> Tally:
    """A statement of Python's fails."""
    tally, at, is_through = Tally(f"schema {number}: a statement fails"), 1 + number % every, False
    while not is_through:
        act = Act(f"migration from {number}", at)
        BrokenOff.seen, BrokenOff.at = 0, at
        complaint = 0
        with connections(BrokenOff, lambda _: None):
            try:
                do_side(sides, act)
            except KeyboardInterrupt:
                complaint = int(not at % 2)
            except DataError as refusal:
                complaint = int("\n" in str(refusal) or bool(at % 2))
        is_through = BrokenOff.seen < at
        tally = _look(sides, act, tally, complaint)
        at += every
    return tally


def vanishing(sides: Sides, number: int, every: int) -> Tally:
    """The process is gone as a statement of SQLite's begins."""
    tally, at, is_through = Tally(f"schema {number}: the process is gone"), 1 + number % every, False
    while not is_through:
        act = Act(f"migration from {number}", at)
        child = os.fork()
        if child == 0:
            with connections(sqlite3.Connection, _leave_at(at)):
                do_side(sides, act)
            os._exit(0)
        is_through = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == 0
        tally = _look(sides, act, tally)
        at += every
    return tally


def stopping(sides: Sides, number: int, every: int) -> Tally:
    """SQLite is stopped in the middle of a statement."""
    tally, at, is_through = Tally(f"schema {number}: stopped in a statement"), 1 + number % every, False
    while not is_through:
        act, seen = Act(f"migration from {number}", at), [0]
        complaint = 0

        def look(seen: list[int] = seen, at: int = at) -> int:
            seen[0] += 1
            return int(seen[0] == at)

        with connections(sqlite3.Connection, lambda made, look=look: made.set_progress_handler(look, STEPS)):  # type: ignore[misc]
            try:
                do_side(sides, act)
            except DataError as refusal:
                complaint = int("\n" in str(refusal))
        is_through = seen[0] < at
        tally = _look(sides, act, tally, complaint)
        at += every
    return tally


def _leave_at(at: int) -> Prepare:
    """Ends the process as statement number `at` begins, counted over all connections."""
    seen = [0]

    def reach(_: str) -> None:
        seen[0] += 1
        if seen[0] == at:
            os._exit(1)

    return lambda made: made.set_trace_callback(reach)


def _look(sides: Sides, act: Act, tally: Tally, complaint: int = 0) -> Tally:
    state = side_state(sides, act)
    return tally.plus(Tally("", int(state == "after"), 1, half=int(state == "half"), complaints=complaint))


def break_off(every: int) -> list[Tally]:
    """All three, from every older schema."""
    with tempfile.TemporaryDirectory(dir=in_memory()) as folder:
        sides = prepare(Path(folder))
        return [
            break_one(sides, number, every)
            for number in range(1, NEWEST_SCHEMA)
            for break_one in (failing, vanishing, stopping)
        ]


def main(words: list[str]) -> int:
    """Break off and tell."""
    return tell(break_off(MANY if "--many" in words else FEW))


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
