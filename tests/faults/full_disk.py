"""A disk that is full at a random write: python -m tests.faults.full_disk [--many].

Where a file system in memory can be mounted (by root, or in a name space of one's own), the log lies on a
small one, and before each act a file fills it up to a random rest. Everywhere, the system refuses to let a
file grow past a random size. The act is stored whole, or one clear line says that it is not; nothing else is
lost; once there is room again the act that was refused is done. A backup beside it that failed is told too.
"""

from __future__ import annotations

import os
import resource
import sqlite3
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager, suppress
from pathlib import Path
from random import Random

from click.testing import CliRunner

from tests.faults.acts import NOW, Act, Known, a_log, choose, facts_of, perform, unsound
from tests.faults.telling import Tally, in_memory, tell
from tracker.cli.export_file import command as export
from tracker.domain.problems import DataError, Problem
from tracker.sheets.document import read_document
from tracker.workbench.backups import back_up_now
from tracker.workbench.desk import Desk
from tracker.workbench.whole import export_document, import_document

MANY, FEW = 400, 60
A_LOG = 40
"""Acts before the next log is begun."""
DISK_MEGABYTES = 24
REST_BYTES = (100_000, 2_000_000)
"""A line needs little room, an import that of its backup."""
KINDS = (
    "log", "log", "undo", "redo", "mark", "photo", "import evenings", "import roster", "export", "backup",
    "import all",
)  # fmt: skip
FILES = ("export", "backup", "import all")
CLEAR = ("the disk is full", "the disk refused to read or write")
SPACES = (["unshare", "-m"], ["unshare", "-r", "-m"])
Faults = Callable[[Path, Random], "Fault"]
Fault = Callable[[], None]
"""Ends the fault."""


def filled(folder: Path, random: Random) -> Fault:
    """Fill the file system up to a random rest."""
    filler = folder / "filler"
    rest = random.choice((0, 4096, *map(random.randrange, REST_BYTES)))
    with filler.open("wb", buffering=0) as file, suppress(OSError):
        space = os.statvfs(folder)
        os.posix_fallocate(file.fileno(), 0, max(space.f_bavail * space.f_frsize - rest, 1))
    return filler.unlink


def limited(folder: Path, random: Random) -> Fault:
    """No file may grow past a random size."""
    log = folder / "log.db"
    most = random.randrange(random.choice((60_000, int(log.stat().st_size * 1.5))))
    hard = resource.getrlimit(resource.RLIMIT_FSIZE)[1]
    resource.setrlimit(resource.RLIMIT_FSIZE, (most, hard))
    return lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (hard, hard))


class Disk:
    """One log on a disk that fills up."""

    def __init__(self, folder: Path, random: Random, fill: Faults) -> None:
        self._told: list[Problem] = []
        self.folder, self._random, self._fill = folder, random, fill
        self._desk = a_log(folder)._replace(tell=self._told.append)
        self._known = Known()

    def once(self, number: int) -> Tally:
        """An act on a full disk, a look, and the act again where it was refused."""
        kind = self._random.choice(KINDS)
        act = Act(kind, number) if kind in FILES else choose(kind, number, self._random, self._known)
        free = self._fill(self.folder, self._random)
        try:
            said = self._try(act)
        finally:
            free()
        complaint = self._unclear(said)
        after = self._known if act.kind in FILES else self._known.after(act)
        expected = self._known if said else after
        found = facts_of(self._desk)
        tally = Tally(act.kind, int(not said), 1, complaints=complaint)
        lost, half = found != expected.facts(), bool(unsound(self._desk.path))
        half = half or (act.kind in FILES and self._file(act) != ("nothing" if said else "whole"))
        if said:
            lost = lost or bool(self._try(act)) or facts_of(self._desk) != after.facts()
            half = half or (act.kind in FILES and self._file(act) != "whole")
        self._known = after
        for left in self.folder.glob("made*"):
            left.unlink()
        return tally._replace(lost=int(lost), half=int(half))

    def _try(self, act: Act) -> str:
        """Do it; what was said against it."""
        made = self.folder / f"made{act.number}"
        try:
            if act.kind == "export":
                words = ["all", str(made), "--db", self._desk.path]
                done = CliRunner().invoke(export, words, obj=self._desk)
                return done.output if done.exit_code else ""
            if act.kind == "backup":
                back_up_now(self._desk, str(made))
            elif act.kind == "import all":
                import_document(Desk(str(made), self._desk.now), export_document(self._desk))
            else:
                perform(self._desk, act)
        except DataError as refusal:
            return str(refusal)
        except Exception as error:
            return f"a traceback\n{error!r}"
        return ""

    def _file(self, act: Act) -> str:
        """What became of a file that was to be made: "whole", "nothing" or "half"."""
        made = self.folder / f"made{act.number}"
        beside = {path.name for path in self.folder.glob("made*")} - {made.name}
        if not made.exists():
            return "half" if beside else "nothing"
        if act.kind == "export":
            is_whole = read_document(made.read_text(encoding="utf-8")) == export_document(self._desk)
            return "whole" if is_whole and not beside else "half"
        if act.kind == "import all" and not _holds_a_log(made):
            return "nothing"
        known = export_document(Desk(str(made), lambda: NOW))
        if act.kind == "import all" and not known["army"]["rows"]:
            return "nothing"
        return "whole" if known == export_document(self._desk) and not unsound(str(made)) else "half"

    def _unclear(self, said: str) -> int:
        """How much of what was said was not one line that names the disk."""
        lines = [said.strip()] if said else []
        lines += map(str, self._told)
        self._told.clear()
        unclear = [line for line in lines if "\n" in line or not any(words in line for words in CLEAR)]
        for line in unclear:
            print(line)  # noqa: T201 - what it was is wanted
        return len(unclear)


def _holds_a_log(path: Path) -> bool:
    """Whether anything was stored; a file that was only begun is taken for an empty one."""
    with closing(sqlite3.connect(path)) as log:
        return bool(log.execute("PRAGMA user_version").fetchone()[0])


def fill_up(acts: int, seed: int, fill: Faults, folder: Path, name: str) -> list[Tally]:
    """So many acts on a disk that is full; a tally for each kind."""
    random, tallies = Random(seed), dict[str, Tally]()
    for first in range(0, acts, A_LOG):
        with tempfile.TemporaryDirectory(dir=folder) as place:
            disk = Disk(Path(place), random, fill)
            for number in range(first, min(first + A_LOG, acts)):
                tally = disk.once(number)
                what = f"{name}: {tally.what}"
                tallies[what] = tallies.get(what, Tally(what)).plus(tally)
    return [tallies[what] for what in sorted(tallies)]


@contextmanager
def mounted() -> Iterator[Path]:
    """A small file system in memory; this process has a name space of its own for it."""
    with tempfile.TemporaryDirectory() as place:
        size = f"size={DISK_MEGABYTES}m"
        subprocess.run(["mount", "-t", "tmpfs", "-o", size, "none", place], check=True)
        try:
            yield Path(place)
        finally:
            subprocess.run(["umount", place], check=True)


def space_of_ones_own() -> list[str] | None:
    """What starts a program that may mount; None where the system allows it to nobody."""
    for space in SPACES:
        with suppress(OSError):
            may = [*space, "sh", "-c", 'mount -t tmpfs none "$1"', "sh", tempfile.gettempdir()]
            if subprocess.run(may, capture_output=True, check=False).returncode == 0:
                return space
    return None


def main(words: list[str]) -> int:
    """Fill disks and tell."""
    acts = MANY if "--many" in words else FEW
    if "--mounted" in words:
        with mounted() as disk:
            return tell(fill_up(acts, 3, filled, disk, "full"))
    space, status = space_of_ones_own(), 0
    if space is None:
        print("No file system may be mounted here, so files are only refused to grow.")  # noqa: T201
    else:
        program = [sys.executable, "-m", "tests.faults.full_disk", "--mounted", *words]
        status = subprocess.run([*space, *program], check=False).returncode
    return tell(fill_up(acts, 4, limited, Path(in_memory() or tempfile.gettempdir()), "grown")) or status


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
