"""Putting a backup in the place of a log, through SQLite, so that whoever has the log open sees it whole.

No file is copied over a live log: its write-ahead log would be taken for the new file's. The backup is
copied, checked, brought to the newest schema, and then written into the log as one transaction.
Source: sqlite.org/backup.html; sqlite.org/howtocorrupt.html (1.2, 1.4).
"""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from datetime import datetime
from pathlib import Path
from typing import NamedTuple

from tracker.domain.backups import DAMAGED, backup_name
from tracker.domain.problems import DataError, Problem
from tracker.store.backups import copied, copy_into, counts, make
from tracker.store.folders import make_own_folder
from tracker.store.migrations import migrate
from tracker.store.numbers import APPLICATION_ID, BUSY_SECONDS, NEWEST_SCHEMA
from tracker.store.opening import refusals
from tracker.store.seals import broken_seals, seal_head

STATES_AHEAD = 1000
"""So far the restored log's state number runs ahead, so that no kept answer is taken for one of its own."""
_OTHER = "Give another: lastcoat backup --list"


class Held(NamedTuple):
    """What a log holds."""

    units: int
    lines: int
    sealed: bool = True
    """False where rows are not as they were stored."""


@contextmanager
def ready_copy(backup: str, path: str, folder: str, now: datetime) -> Iterator[tuple[str, Held]]:
    """A checked copy of a backup at the newest schema, for the log at `path`; gone at the end.

    `DataError` for what is no backup of ours, is damaged, or is of a newer version.
    """
    with refusals(folder):
        make_own_folder(folder)
    target = os.path.join(folder, backup_name(Path(path).stem, now, "restore"))  # noqa: PTH118
    with refusals(backup), copied(backup, target, check=False) as copy:
        with closing(sqlite3.connect(copy, isolation_level=None)) as log:
            _accept(log, backup)
            migrate(log, copy, NEWEST_SCHEMA, keep=lambda _: None)
            held = Held(*counts(log), sealed=not broken_seals(log))
        yield copy, held


def put_in_place(copy: str, path: str, keep: Callable[[], object]) -> None:
    """Write a ready copy into the log as one transaction.

    `keep` is called when the log is locked for writing and nothing is written yet, so that what it backs
    up is exactly what is replaced; what it raises leaves the log as it was.
    """
    with refusals(path), closing(sqlite3.connect(path, timeout=BUSY_SECONDS, isolation_level=None)) as live:
        live.execute("PRAGMA synchronous = FULL")
        with closing(sqlite3.connect(copy, isolation_level=None)) as log:
            _fit(log, live)
            pages: int = log.execute("PRAGMA page_count").fetchone()[0]
            waiting = [keep]

            def step(status: int) -> None:
                if status == sqlite3.SQLITE_OK and waiting:
                    waiting.pop()()

            copy_into(log, live, pages // 2, step)


def keep_replaced(path: str, folder: str, now: datetime) -> str:
    """A backup of what is about to be replaced; of a damaged log one of its pages as they are."""
    try:
        return make(path, folder, "before-restore", now)
    except DataError as refusal:
        if "damaged" not in refusal.problems[0].what:
            raise
    return make(path, folder, DAMAGED, now, check=False)


def set_aside(path: str, folder: str, now: datetime) -> str:
    """Move a log that SQLite does not know any more into the folder, with what lies beside it."""
    with refusals(path):
        make_own_folder(folder)
        target = os.path.join(folder, backup_name(Path(path).stem, now, DAMAGED))  # noqa: PTH118
        if os.path.lexists(target):
            raise DataError(Problem(target, "it is there already", "Do it again"))
        for tail in ("-shm", "-wal", ""):
            if os.path.lexists(path + tail):
                os.rename(path + tail, target + tail)  # noqa: PTH104
    return target


def _accept(log: sqlite3.Connection, backup: str) -> None:
    """Refuse what is not ours, is too new or is damaged."""
    mark, schema = (
        log.execute(f"PRAGMA {name}").fetchone()[0] for name in ("application_id", "user_version")
    )
    if mark != APPLICATION_ID or not schema:
        raise DataError(Problem(backup, "this is not a Lastcoat log", _OTHER))
    if schema > NEWEST_SCHEMA:
        mend = "Install that version"
        raise DataError(Problem(backup, "this backup was made by a newer version of Lastcoat", mend))
    try:
        sound = log.execute("PRAGMA integrity_check(1)").fetchall() == [("ok",)]
        sound = sound and not log.execute("PRAGMA foreign_key_check").fetchall()
    except sqlite3.DatabaseError:
        sound = False
    if not sound:
        raise DataError(Problem(backup, "this backup is damaged, so nothing was restored", _OTHER))


def _fit(log: sqlite3.Connection, live: sqlite3.Connection) -> None:
    """The copy gets the live file's page size, and a state number that no kept answer knows."""
    try:
        state = int(live.execute("SELECT state FROM journal_head").fetchone()[0])
        bytes_a_page = int(live.execute("PRAGMA page_size").fetchone()[0])
    except (sqlite3.DatabaseError, TypeError, ValueError):
        state = bytes_a_page = 0
    log.execute("BEGIN IMMEDIATE")
    log.execute("UPDATE journal_head SET state = max(state, ?) + ?", (state, STATES_AHEAD))
    seal_head(log)
    log.execute("COMMIT")
    if bytes_a_page and bytes_a_page != log.execute("PRAGMA page_size").fetchone()[0]:
        log.execute(f"PRAGMA page_size = {bytes_a_page:d}")
        log.execute("VACUUM")
