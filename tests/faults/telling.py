"""What a fault test found, as a record and as a small table, and how the suite starts one.

Each test runs in a process of its own, which has one thread: only such a process may split in two safely.
"""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import NamedTuple

_ROOT = Path(__file__).parent.parent.parent
_HEAD = ("what", "operations", "faults", "lost", "half stored", "complaints")


class Tally(NamedTuple):
    """What was done to one kind of operation, and what came of it."""

    what: str
    operations: int = 0
    """Operations that were acknowledged."""
    faults: int = 0
    """Faults that were injected."""
    lost: int = 0
    """Acknowledged operations that were not there afterwards."""
    half: int = 0
    """Operations of which a part was there, or files that were not sound."""
    complaints: int = 0
    """Refusals that were no clear line, or that nobody should have met."""

    def plus(self, other: Tally) -> Tally:
        """Both together, under the name of this one."""
        return Tally(self.what, *(one + more for one, more in zip(self[1:], other[1:], strict=True)))

    @property
    def is_clean(self) -> bool:
        """Whether nothing was lost, half stored or complained of."""
        return not (self.lost or self.half or self.complaints)


def in_memory() -> str | None:
    """A folder that no disk stands behind, for tests that ask nothing of one; None = the usual place."""
    return "/dev/shm" if Path("/dev/shm").is_dir() else None  # noqa: S108 - a fresh folder is made in it


def tell(tallies: Sequence[Tally]) -> int:
    """Print the table and its sum; the status a program ends with: 0 when all is well."""
    whole = Tally("all of it")
    for tally in tallies:
        whole = whole.plus(tally)
    print("{:<34} {:>10} {:>7} {:>5} {:>11} {:>10}".format(*_HEAD))  # noqa: T201 - the table is the purpose
    for tally in (*tallies, whole):
        print("{:<34} {:>10} {:>7} {:>5} {:>11} {:>10}".format(*tally))  # noqa: T201
    return 0 if whole.is_clean else 1


def ran(module: str, *words: str) -> Tally:
    """Run a fault test by itself; the sum of its tables. It must end well."""
    done = subprocess.run(
        [sys.executable, "-W", "error", "-m", f"tests.faults.{module}", *words],
        capture_output=True, text=True, cwd=_ROOT, check=False,
    )  # fmt: skip
    print(done.stdout)  # noqa: T201 - shown when the test fails, or with -s
    assert done.returncode == 0, done.stdout + done.stderr
    whole = Tally("all of it")
    for line in done.stdout.splitlines():
        if line.startswith(whole.what):
            whole = whole.plus(Tally("", *map(int, line.removeprefix(whole.what).split())))
    return whole
