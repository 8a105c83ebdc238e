"""Backups: when they are made, where they lie, what there is."""

from __future__ import annotations

import os
from collections.abc import Mapping
from contextlib import closing
from pathlib import Path
from typing import NamedTuple

from tracker.domain.backups import BY_HAND, DAILY, Backup
from tracker.domain.problems import DataError, Problem
from tracker.workbench.desk import Desk, evening_of


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
