"""Acts on a file of their own: a whole log put into an empty one, an older file that is migrated.

Each is done on a file named by the act's number: one look tells whether it was done, not done, or half.
"""

from __future__ import annotations

import shutil
import sqlite3
from contextlib import closing
from pathlib import Path
from typing import Any, Literal, NamedTuple

from tests.faults.acts import MODELS, NOW, Act, Fact, unsound
from tracker.domain.rows import RosterRow
from tracker.store.backups import back_up, default_folder
from tracker.store.document import TABLES
from tracker.store.numbers import APPLICATION_ID, NEWEST_SCHEMA
from tracker.workbench.adding import add_unit
from tracker.workbench.backups import restore
from tracker.workbench.desk import Desk
from tracker.workbench.lines import Entry, log_line
from tracker.workbench.whole import export_document, import_document

OLD = Path(__file__).parent.parent / "old_databases"
_BACKUP, _REPLACED = "backup.db", "replaced.db"
State = Literal["before", "after", "half"]
KINDS = ("import all", "restore", *(f"migration from {number}" for number in range(1, NEWEST_SCHEMA)))


class Sides(NamedTuple):
    """What the acts start from."""

    folder: Path
    document: dict[str, Any]
    rows: dict[int, dict[str, list[Fact]]]
    """Rows of each older schema's file, by schema and table."""
    replaced: dict[str, Any]
    """What the log holds that a restore puts the source's backup in the place of."""


def prepare(folder: Path) -> Sides:
    """Make a document, and a file of every older schema."""
    source = Desk(str(folder / "source.db"), lambda: NOW)
    add_unit(source, RosterRow("Bows", MODELS))
    for number in range(40):
        log_line(source, Entry("Bows", "cleaning", models=3, minutes=1.0, finished=False, note=str(number)))
    rows = {number: rows_of(an_old_file(folder, number)) for number in range(1, NEWEST_SCHEMA)}
    back_up(source.path, str(folder / _BACKUP))
    other = Desk(str(folder / "other.db"), lambda: NOW)
    add_unit(other, RosterRow("Axes", MODELS))
    back_up(other.path, str(folder / _REPLACED))
    return Sides(folder, export_document(source), rows, export_document(other))


def an_old_file(folder: Path, number: int) -> str:
    """A log as that schema left it, with rows in it."""
    path = folder / f"schema{number}.db"
    with closing(sqlite3.connect(path, isolation_level=None)) as log:
        log.executescript((OLD / f"schema{number}.sql").read_text(encoding="utf-8"))
        log.execute(f"PRAGMA application_id = {APPLICATION_ID}")
        log.execute(f"PRAGMA user_version = {number}")
        log.execute("PRAGMA journal_mode = WAL")
    return str(path)


def rows_of(path: str) -> dict[str, list[Fact]]:
    """Every row of every table that holds facts, as far as the file has them."""
    with closing(sqlite3.connect(path)) as log:
        there = {name for (name,) in log.execute("SELECT name FROM sqlite_master WHERE type = 'table'")}
        return {
            table: sorted(map(tuple, log.execute(f"SELECT * FROM {table}").fetchall()), key=repr)
            for table in TABLES
            if table in there
        }


def do_side(sides: Sides, act: Act) -> None:
    """Do it on the act's own file."""
    path = _file(sides, act)
    desk = Desk(str(path), lambda: NOW)
    if act.kind == "import all":
        import_document(desk, sides.document)
        return
    unready = path.with_suffix(".unready")
    begins = _REPLACED if act.kind == "restore" else f"schema{act.kind.split()[-1]}.db"
    shutil.copyfile(sides.folder / begins, unready)
    unready.replace(path)
    if act.kind == "restore":
        restore(desk, str(sides.folder / _BACKUP))
        return
    with desk.open():
        pass


def side_state(sides: Sides, act: Act) -> State:
    """Whether it was done; whatever else must be sound, or it is half done. Its files go."""
    path = _file(sides, act)
    try:
        if act.kind == "restore":
            state = _restored(sides, path)
        else:
            state = _imported(sides, path) if act.kind == "import all" else _migrated(sides, act, path)
    finally:
        for left in path.parent.glob(f"{path.stem}.*"):
            left.unlink()
        shutil.rmtree(default_folder(str(path)), ignore_errors=True)
    return state


def _file(sides: Sides, act: Act) -> Path:
    return sides.folder / f"side{act.number}.db"


def _imported(sides: Sides, path: Path) -> State:
    """A file that is not there, or holds nothing yet, is as good as one that was never begun."""
    if not path.exists() or _version(path) == 0:
        return "before"
    if _version(path) != NEWEST_SCHEMA or unsound(str(path)):
        return "half"
    now = export_document(Desk(str(path), lambda: NOW))
    if now == sides.document:
        return "after"
    return "half" if any(now[table]["rows"] for table in TABLES) else "before"


def _restored(sides: Sides, path: Path) -> State:
    """The log it replaces or the one of the backup; what was kept of the one it replaces is whole."""
    if not path.exists():
        return "before"
    backups = [Desk(str(one), lambda: NOW) for one in Path(default_folder(str(path))).glob("*.db")]
    if unsound(str(path)) or any(export_document(one) != sides.replaced for one in backups):
        return "half"
    now = export_document(Desk(str(path), lambda: NOW))
    if now == sides.document:
        return "after" if backups else "half"
    return "before" if now == sides.replaced else "half"


def _migrated(sides: Sides, act: Act, path: Path) -> State:
    """The old file or the new one, with the same rows; what is named as a backup is the old one, whole."""
    if not path.exists():
        return "before"
    number = int(act.kind.split()[-1])
    backups = list(Path(default_folder(str(path))).glob("*.db"))
    version = _version(path)
    if any(_version(one) != number or rows_of(str(one)) != sides.rows[number] for one in backups):
        return "half"
    if version == number:
        if rows_of(str(path)) != sides.rows[number] or _corrupt(path):
            return "half"
        with Desk(str(path), lambda: NOW).open():
            pass
        return "half" if _lost_rows(sides, number, path) else "before"
    if version != NEWEST_SCHEMA or not backups:
        return "half"
    return "half" if _lost_rows(sides, number, path) else "after"


def _lost_rows(sides: Sides, number: int, path: Path) -> bool:
    """Whether a migrated file is unsound or has not every row of the old one; new columns stand last."""
    now = rows_of(str(path))
    for table, rows in sides.rows[number].items():
        if len(now[table]) != len(rows) or {row[:2] for row in now[table]} != {row[:2] for row in rows}:
            return True
    return bool(unsound(str(path)))


def _corrupt(path: Path) -> bool:
    with closing(sqlite3.connect(path)) as log:
        return log.execute("PRAGMA integrity_check").fetchall() != [("ok",)]


def _version(path: Path) -> int:
    with closing(sqlite3.connect(path)) as log:
        return int(log.execute("PRAGMA user_version").fetchone()[0])
