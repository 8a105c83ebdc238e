"""Backups: when they are made, where they lie, what there is."""

from __future__ import annotations

import os
import shlex
from collections.abc import Mapping
from contextlib import closing
from pathlib import Path
from typing import NamedTuple

from tracker.domain.backups import BY_HAND, DAILY, DAMAGED, Backup
from tracker.domain.problems import DataError, Problem, did_you_mean
from tracker.workbench.desk import Desk, evening_of
from tracker.workbench.words import count_words


class Kept(NamedTuple):
    """A backup that was just made."""

    path: str
    size_bytes: int

    def sentence(self) -> str:
        """Where it is."""
        return f"Backed up to {self.path} ({self.size_bytes / 1_000_000:.1f} MB). Photos are not in it."


class Seen(NamedTuple):
    """What there is."""

    folder: str
    backups: tuple[Backup, ...]
    """Newest first."""


def backup_folder(path: str, environment: Mapping[str, str]) -> str:
    """Where a log's backups lie: LASTCOAT_BACKUPS, else the setting `backup_folder`, else beside the log."""
    from tracker.store.backups import default_folder

    said = environment.get("LASTCOAT_BACKUPS") or _folder_set(environment)
    return os.path.abspath(os.path.expanduser(said)) if said else default_folder(path)  # noqa: PTH100, PTH111


def _folder_set(environment: Mapping[str, str]) -> str:
    """What the settings file says; a file that cannot be read says nothing here."""
    from tracker.workbench.settings import read_settings, settings_path

    file = settings_path(environment)
    return read_settings(file).settings.backup_folder if os.path.lexists(file) else ""


def keep(desk: Desk, why: str, *, check: bool = True) -> str:
    """Make a backup in the folder and drop those not kept any more; its path. `DataError` if it cannot be."""
    from tracker.store.backups import make

    return make(desk.path, backup_folder(desk.path, os.environ), why, desk.now(), check=check)


def before(desk: Desk, why: str) -> Path | None:
    """A backup before a bulk change ("import", "merge", "mend"); None where there is nothing to lose.

    `DataError` where it cannot be made, and then the change must not be made either. Before mending it is
    of the log as it is, damage and all.
    """
    if not holds_something(desk.path):
        return None
    return Path(keep(desk, f"before-{why}", check=why != "mend"))


def daily(desk: Desk) -> None:
    """One backup an evening; where it cannot be made, that is told, and the change goes on."""
    from tracker.store.backups import kept

    folder = backup_folder(desk.path, os.environ)
    today = desk.evening_day()
    if any(said.why == DAILY and evening_of(said.when) == today for said in kept(desk.path, folder)):
        return
    try:
        keep(desk, DAILY)
    except DataError as refusal:
        for problem in refusal.problems:
            desk.tell(problem)


def holds_something(path: str) -> bool:
    """Whether a log is there in which anything was ever stored; one that cannot be read may be."""
    import sqlite3

    from tracker.store.numbers import BUSY_SECONDS

    if not os.path.exists(path) or not os.path.getsize(path):  # noqa: PTH110, PTH202
        return False
    try:
        with closing(sqlite3.connect(path, timeout=BUSY_SECONDS)) as log:
            if not log.execute("SELECT 1 FROM sqlite_master WHERE name = 'change'").fetchone():
                return False
            some = "SELECT EXISTS (SELECT 1 FROM change) OR EXISTS (SELECT 1 FROM model)"
            return bool(log.execute(some).fetchone()[0])
    except sqlite3.Error:
        return True


def back_up_now(desk: Desk, file: str | None = None) -> Kept:
    """A backup by hand: in the folder, or to a file that is not there yet, which is never removed."""
    from tracker.store.backups import back_up

    if not os.path.lexists(desk.path):
        with desk.open():  # tells how to begin a log
            pass
    if file is None:
        made = keep(desk, BY_HAND)
    else:
        made = os.path.abspath(file)  # noqa: PTH100
        if os.path.lexists(made):
            raise DataError(Problem(file, "there is a file of that name already", "Give another name"))
        _ours(desk)
        back_up(desk.path, made)
    return Kept(made, os.path.getsize(made))  # noqa: PTH202


def _ours(desk: Desk) -> None:
    """Refuse to back up what is no log."""
    with desk.open():
        pass


def backups(desk: Desk) -> Seen:
    """Every backup of the log in the folder, newest first, with what is in it."""
    from tracker.store.backups import kept, look_at

    folder = backup_folder(desk.path, os.environ)
    return Seen(folder, tuple(look_at(folder, said) for said in kept(desk.path, folder)))


class Restored(NamedTuple):
    """A backup that was put in the place of the log, or would be."""

    name: str
    then: tuple[int, int]
    """Units and lines of the backup."""
    now: tuple[int, int] | None
    """Units and lines of what it replaced; None where that could not be read, or was not there."""
    sealed: bool
    kept: str
    """Name of the backup of what was replaced; empty where nothing was."""
    dry_run: bool = False

    def sentence(self) -> str:
        """What came, what it replaced, and how to go back."""
        said = [f"{'Would restore' if self.dry_run else 'Restored'} {self.name}: {_held(self.then)}."]
        if self.now is not None:
            said.append(f"The log {'holds' if self.dry_run else 'held'} {_held(self.now)}.")
        if not self.sealed:
            said.append("Some of its rows are not as they were stored: lastcoat check")
        if self.dry_run:
            said.append("Nothing is changed.")
        elif self.kept:
            said.append(f"To go back: lastcoat restore {shlex.quote(self.kept)}")
        return "\n".join(said)


def restore(desk: Desk, which: str = "newest", *, dry_run: bool = False) -> Restored:
    """Put a backup in the place of the log, in one go, after backing up what it replaces.

    `which` is a file, the name of a backup in the folder, "newest", or why it was made ("daily": the newest
    of those). Undo knows only what the backup knows: the way back is another restore. `DataError` for a
    backup that is damaged, not ours or of a newer version, and where what it replaces cannot be backed up.
    """
    from tracker.store.restoring import keep_replaced, put_in_place, ready_copy, set_aside

    folder = backup_folder(desk.path, os.environ)
    file = _chosen(desk, which, folder)
    with ready_copy(file, desk.path, folder, desk.now()) as (copy, held):
        was, damaged = _live(desk, create=not dry_run)
        done = Restored(Path(file).name, held[:2], was, held.sealed, "", dry_run)
        if dry_run:
            return done
        kept: list[str] = []

        def keep_it() -> None:
            if damaged or holds_something(desk.path):
                kept.append(keep_replaced(desk.path, folder, desk.now()))

        try:
            put_in_place(copy, desk.path, keep_it)
        except DataError:
            if not damaged:
                raise
            kept = [set_aside(desk.path, folder, desk.now())]
            _live(desk, create=True)
            put_in_place(copy, desk.path, lambda: None)
    return done._replace(kept=Path(kept[0]).name if kept else "")


def _chosen(desk: Desk, which: str, folder: str) -> str:
    """The file that is meant."""
    from tracker.store.backups import kept

    known = kept(desk.path, folder)
    whole = [said for said in known if said.why != DAMAGED]
    for said in known:
        if which in (said.name, said.name.removesuffix(".db")):
            return os.path.join(folder, said.name)  # noqa: PTH118
    for said in whole:
        if which in ("newest", said.why):
            return os.path.join(folder, said.name)  # noqa: PTH118
    if os.path.isfile(which):  # noqa: PTH113
        return os.path.abspath(which)  # noqa: PTH100
    if not known:
        raise DataError(Problem(folder, "there is no backup here", "Make one: lastcoat backup"))
    otherwise = "See: lastcoat backup --list"
    raise DataError(
        Problem(
            which, "there is no such backup", did_you_mean(which, [said.name for said in known], otherwise)
        )
    )


def _live(desk: Desk, *, create: bool) -> tuple[tuple[int, int] | None, bool]:
    """Units and lines of the log as it is, where they can be read; and whether it is damaged.

    A log that is not there is begun, so that SQLite itself clears away what an earlier one left beside it.
    """
    from tracker.store.backups import counts
    from tracker.store.opening import DAMAGED as DAMAGED_SAID

    if not create and not os.path.lexists(desk.path):
        return None, False
    try:
        with desk.open(create=create) as store:
            return counts(store.connection), False
    except DataError as refusal:
        if refusal.problems[0].what != DAMAGED_SAID[0]:
            raise
        return None, True


def _held(counts: tuple[int, int]) -> str:
    units, lines = counts
    return f"{count_words(units, 'unit')}, {count_words(lines, 'line')}"
