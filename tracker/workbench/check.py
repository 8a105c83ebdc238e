"""The verbs of check: look over the whole log, mend what cannot lose anything, save what can be read."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Iterable
from hashlib import sha256
from pathlib import Path

from tracker.domain.answers_check import CheckAnswer, Found, MendAnswer, SalvageAnswer
from tracker.domain.problems import DataError, Problem
from tracker.store.check import SAVE, any_text, damage, look_at_file
from tracker.store.check_states import look_at_states
from tracker.store.document import TABLES
from tracker.store.journal import Store
from tracker.store.mending import mend_facts, mend_file
from tracker.store.wal import look_at_wal
from tracker.workbench.desk import Desk
from tracker.workbench.evening_now import moment
from tracker.workbench.photo_files import photo_folder
from tracker.workbench.words import count_words

_WAL_LOOKS = 3
"""A page that another program is just writing looks unreadable; damage looks the same each time."""
_UNREADABLE = (sqlite3.DatabaseError, ValueError, TypeError, OverflowError)
"""What reading a damaged log can raise."""


def check(desk: Desk) -> CheckAnswer:
    """Look over the whole log: the file, its seals, states that cannot be, photos. Nothing is changed.

    A file that SQLite cannot read through is told as found, not refused; where there is no log, or another
    program's, it is a `DataError`.
    """
    wal = _wal(desk.path)
    if wal is not None:
        return CheckAnswer(desk.path, 0, (wal,), damaged=True)
    try:
        with desk.open() as store, any_text(store), store.snapshot():
            return _look(desk, store)
    except DataError as refusal:
        cause = refusal.__cause__
        if not isinstance(cause, sqlite3.DatabaseError | UnicodeDecodeError) or _is_no_damage(cause):
            raise
        return CheckAnswer(desk.path, 0, (damage(cause),), damaged=True)


def mend(desk: Desk) -> MendAnswer:
    """Mend what `check` found and calls safe, after a backup; what the log says can be taken back by undo."""
    before = check(desk)
    if before.damaged:
        one = before.found[0]
        raise DataError(Problem(desk.path, f"{one.what}, so nothing is written to it", SAVE))
    if not before.mendable:
        return MendAnswer((), "", before)
    backup = _back_up(desk)
    with desk.open() as store:
        mend_file(store, before.mendable)
        with store.change("mend", count_words(len(before.mendable), "thing")):
            mend_facts(store, before.mendable)
    now = check(desk)
    left = {(one.code, one.where, one.rows) for one in now.found}
    done = tuple(one for one in before.mendable if (one.code, one.where, one.rows) not in left)
    return MendAnswer(done, backup, now)


def salvage(desk: Desk, file: str) -> SalvageAnswer:
    """Save what can be read of a damaged log as a document and a fresh log; the log itself stays as it is."""
    from tracker.sheets.document import write_document
    from tracker.store.salvage import save_what_can_be_read
    from tracker.workbench.files_out import write_whole

    if not os.path.lexists(desk.path):
        raise DataError(Problem(desk.path, "there is no log here", "Say which with --db"))
    if Path(file).exists() and Path(file).samefile(desk.path):
        raise DataError(Problem(file, "that is the log itself", "Give another file"))
    saved = _free_name(desk.path)
    document, answer = save_what_can_be_read(desk.path, saved, now=desk.now, new_uid=desk.new_uid)
    write_whole(Path(file), write_document(document).encode())
    return answer._replace(document=file)


def _wal(path: str) -> Found | None:
    """Pages of the write-ahead log that SQLite would drop without a word."""
    looks = {look_at_wal(path) for _ in range(_WAL_LOOKS)}
    look = looks.pop()
    if looks or not look.bad:
        return None
    what = (
        f"{count_words(look.bad, 'page')} of it cannot be read, so what was stored last may be missing"
        " (after a power cut this can be what was not stored yet)"
    )
    return Found("wal", f"{path}-wal", what, f"{SAVE}; opening the log drops them")


def _look(desk: Desk, store: Store) -> CheckAnswer:
    found, damaged = look_at_file(store)
    rows = 0
    if not damaged:
        rows = sum(store.rows(f"SELECT count(*) FROM {table}")[0][0] for table in TABLES)  # noqa: S608
        try:
            found += look_at_states(store, moment(desk))
        except _UNREADABLE as refusal:
            found.append(damage(refusal))
        found += _photos(desk, store)
    return CheckAnswer(desk.path, rows, tuple(found), damaged)


def _photos(desk: Desk, store: Store) -> Iterable[Found]:
    """Photos whose file is gone or is not the picture it was: a file's name is the hash of its content."""
    folder = photo_folder(desk.path)
    for number, name in store.rows("SELECT id, file FROM photo ORDER BY id"):
        where, path = f"photo {number}", folder / name
        if not path.is_file():
            mend = f"Put {name} back into {folder}, or: lastcoat photo drop {number}"
            yield Found("photo", where, "its file is not there", mend, rows=(number,))
        elif _hash(path) != Path(name).stem:
            mend = f"Put the file of a backup in its place, or: lastcoat photo drop {number}"
            yield Found("photo", where, "its file is not the picture it was", mend, rows=(number,))


def _hash(path: Path) -> str:
    return sha256(path.read_bytes()).hexdigest()


def _is_no_damage(refusal: Exception) -> bool:
    """Busy, full, not writable: the log itself may be whole."""
    name = str(getattr(refusal, "sqlite_errorname", ""))
    return name.startswith(
        ("SQLITE_BUSY", "SQLITE_FULL", "SQLITE_READONLY", "SQLITE_CANTOPEN", "SQLITE_IOERR")
    )


def _back_up(desk: Desk) -> str:
    """The log as it is, before it is mended."""
    from tracker.workbench.backups import before

    return str(before(desk, "mend") or "")


def _free_name(log: str) -> str:
    """Beside the log: "lastcoat.db" is saved as "lastcoat-saved.db", or with a number behind."""
    path = Path(log)
    names = (path.with_name(f"{path.stem}-saved{number}{path.suffix}") for number in ("", *range(2, 1000)))
    return str(next(name for name in names if not name.exists()))
