"""Backups by SQLite's own backup interface: whole, checked, for their owner alone, kept by a rule.

A copy is made under a name that no reader takes for a backup, checked, put on the disk and only then
given its own name. Source: sqlite.org/backup.html; sqlite.org/fileformat2.html (bytes 60 and 68 of the
header: user version and application id).
"""

from __future__ import annotations

import os
import sqlite3
import time
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager, suppress
from datetime import datetime
from pathlib import Path

from tracker.domain.backups import DAMAGED, Backup, Named, backup_name, named, to_drop
from tracker.domain.problems import DataError, Problem
from tracker.store.folders import make_own_folder
from tracker.store.numbers import APPLICATION_ID, BUSY_SECONDS

UNREADY_SECONDS = 3600
"""A copy that is older than this and not ready belongs to a program that was stopped."""
_HEADER_BYTES = 72
_MAGIC = b"SQLite format 3\0"
_UNREADY = ".unready"


def default_folder(path: str) -> str:
    """Beside the log: "lastcoat.db" has "lastcoat-backups"."""
    log = Path(path)
    return str(log.with_name(f"{log.stem}-backups"))


def back_up(path: str, target: str, *, check: bool = True) -> None:
    """Copy the log as it stands, write-ahead log included; the target appears whole or not at all.

    What stands in its place is replaced. `DataError` where it cannot be made, or where the copy does not
    pass SQLite's quick check (unless `check` is off: a damaged log can be kept as it is).
    """
    with _refusals(target), copied(path, target, check=check) as unready:
        os.replace(unready, target)  # noqa: PTH105 - a text path, as everywhere in this room
        _folder_on_disk(os.path.dirname(target) or ".")  # noqa: PTH120


def make(path: str, folder: str, why: str, now: datetime, *, check: bool = True) -> str:
    """A backup in the folder of backups under the next free name; then those not kept any more go."""
    stem = Path(path).stem
    with _refusals(folder):
        make_own_folder(folder)
        first = os.path.join(folder, backup_name(stem, now, why))  # noqa: PTH118
        with copied(path, first, check=check) as unready:
            # Looked for after copying: whoever took the name meanwhile holds nothing newer than this copy.
            target = os.path.join(folder, _free_name(stem, folder, why, now))  # noqa: PTH118
            os.replace(unready, target)  # noqa: PTH105
        _folder_on_disk(folder)
    with suppress(OSError):
        tidy(path, folder, now)
    return target


def _free_name(stem: str, folder: str, why: str, now: datetime) -> str:
    """Made in one second, backups are told apart by a number, whatever they were made for."""
    when = now.replace(microsecond=0, tzinfo=None)
    known = (named(name, stem) for name in os.listdir(folder))  # noqa: PTH208
    turns = [said.turn for said in known if said is not None and said.when == when]
    return backup_name(stem, when, why, max(turns, default=0) + 1)


def kept(path: str, folder: str) -> list[Named]:
    """Backups of that log in the folder, newest first: our names on files that are ours."""
    stem = Path(path).stem
    try:
        names = os.listdir(folder)  # noqa: PTH208
    except OSError:
        return []
    read = [said for name in names if (said := named(name, stem)) and is_ours(os.path.join(folder, name))]  # noqa: PTH118
    return sorted(read, key=lambda said: (said.when, said.turn), reverse=True)


def tidy(path: str, folder: str, now: datetime) -> tuple[str, ...]:
    """Remove the backups that are not kept any more, and copies that never became ready; their names."""
    times = [(said.name, said.when) for said in kept(path, folder) if said.why != DAMAGED]
    gone = to_drop(times, now)
    for name in gone:
        with suppress(OSError):
            os.remove(os.path.join(folder, name))  # noqa: PTH107, PTH118
    _drop_unready(Path(path).stem, folder)
    return gone


def is_ours(path: str) -> bool:
    """Whether it is a plain file whose header bears our application id; nothing is opened by SQLite."""
    return schema_said(path) is not None


def schema_said(path: str) -> int | None:
    """The schema's number in the header of a file that is ours; None for any other."""
    try:
        if os.path.islink(path) or not os.path.isfile(path):  # noqa: PTH113, PTH114
            return None
        with open(path, "rb") as file:  # noqa: PTH123
            header = file.read(_HEADER_BYTES)
    except OSError:
        return None
    ours = header.startswith(_MAGIC) and header[68:72] == APPLICATION_ID.to_bytes(4, "big")
    return int.from_bytes(header[60:64], "big") if ours else None


def look_at(folder: str, said: Named) -> Backup:
    """A backup with what is in it."""
    path = os.path.join(folder, said.name)  # noqa: PTH118
    backup = Backup(said.name, path, said.when, said.why, os.path.getsize(path), None)  # noqa: PTH202
    try:
        with closing(sqlite3.connect(path, timeout=BUSY_SECONDS)) as log:
            units, lines = counts(log)
            return backup._replace(schema=schema_said(path), units=units, lines=lines)
    except sqlite3.Error:
        return backup


def counts(log: sqlite3.Connection) -> tuple[int, int]:
    """How many units and lines a log holds."""
    units, lines = log.execute("SELECT (SELECT count(*) FROM unit), (SELECT count(*) FROM line)").fetchone()
    return units, lines


def copy_into(
    source: sqlite3.Connection,
    target: sqlite3.Connection,
    pages: int = -1,
    step: Callable[[int], None] | None = None,
) -> None:
    """SQLite's backup interface that waits for another program as long as everything here does, no longer.

    `step` is called with SQLite's status after every so many pages; what it raises takes all of it back.
    """
    until = time.monotonic() + BUSY_SECONDS

    def progress(status: int, _left: int, _of: int) -> None:
        if status in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED) and time.monotonic() > until:
            raise DataError(Problem("the log", "another program is writing to it", "Do it again later"))
        if step is not None:
            step(status)

    source.backup(target, pages=pages, progress=progress, sleep=0.05)


@contextmanager
def copied(path: str, target: str, *, check: bool) -> Iterator[str]:
    """A whole copy beside the target, on disk; gone at the end unless it was given another name."""
    unready = f"{target}.{os.getpid()}{_UNREADY}"
    _remove(unready)
    try:
        os.close(os.open(unready, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600))
        with closing(sqlite3.connect(path, timeout=BUSY_SECONDS)) as source:
            source.execute("PRAGMA query_only = ON")
            with closing(sqlite3.connect(unready, isolation_level=None)) as copy:
                # Nothing is lost if it is not on the disk yet: it is not a backup before the end.
                copy.execute("PRAGMA synchronous = OFF")
                copy_into(source, copy)
                _settle(path, copy, check=check)
        _on_disk(unready)
        yield unready
    finally:
        _remove(unready)


def _settle(path: str, copy: sqlite3.Connection, *, check: bool) -> None:
    """One file, without a write-ahead log beside it, and sound."""
    try:
        copy.execute("PRAGMA journal_mode = DELETE").fetchall()
        sound = not check or copy.execute("PRAGMA quick_check(1)").fetchall() == [("ok",)]
    except sqlite3.DatabaseError as refusal:
        if not _is_damage(refusal):
            raise
        sound = not check
    if not sound:
        raise DataError(
            Problem(path, "the log is damaged, so no backup of it was made", "See: lastcoat check")
        )


def _is_damage(refusal: sqlite3.DatabaseError) -> bool:
    return str(getattr(refusal, "sqlite_errorname", "")).startswith(("SQLITE_CORRUPT", "SQLITE_NOTADB"))


@contextmanager
def _refusals(where: str) -> Iterator[None]:
    """What SQLite or the system refuse becomes one line that says that the backup was not made."""
    from tracker.store.opening import refusals

    try:
        with refusals(where):
            yield
    except DataError as refusal:
        (problem, *_) = refusal.problems
        if "backup" in problem.what:
            raise
        what = problem.what.removesuffix(", so nothing was stored")
        mend = "Mend that, or keep backups elsewhere: lastcoat config set backup_folder FOLDER"
        raise DataError(Problem(where, f"the backup cannot be made: {what}", mend)) from refusal


def _drop_unready(stem: str, folder: str) -> None:
    for name in os.listdir(folder):  # noqa: PTH208
        whole, mark, _ = name.partition(".db.")
        if mark and _UNREADY in name and named(f"{whole}.db", stem):
            with suppress(OSError):
                if time.time() - Path(folder, name).stat().st_mtime > UNREADY_SECONDS:
                    os.remove(os.path.join(folder, name))  # noqa: PTH107, PTH118


def _remove(unready: str) -> None:
    for tail in ("", "-journal", "-wal", "-shm"):
        with suppress(FileNotFoundError):
            os.remove(unready + tail)  # noqa: PTH107


def _on_disk(path: str) -> None:
    handle = os.open(path, os.O_RDWR)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def _folder_on_disk(folder: str) -> None:
    """So that the new name outlives a loss of power, where the system can say so."""
    if not hasattr(os, "O_DIRECTORY"):
        return
    handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
