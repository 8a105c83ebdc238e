"""Loss of power: python -m tests.faults.power [--many]. Needs strace(1) (Debian: apt-get install strace).

A worker does acts through the verbs and acknowledges each, while strace writes down every call that changes
a file. From that is told what a strict disk still has at each acknowledgement, and at random calls between
them: only what was synchronised, or some of the rest as well, in no order. Such a folder is laid out and
opened: every act that was acknowledged must be there, the one in flight may be, and nothing is half there.
"""

from __future__ import annotations

import os
import sqlite3
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path
from random import Random

from tests.faults.acts import NOW, Act, Known, a_log, choose, facts_of, perform, unsound
from tests.faults.synced import TRACED, Call, Synced, calls
from tests.faults.telling import Tally, in_memory, tell
from tracker.workbench.desk import Desk

MANY, FEW = 500, 40
A_LOG = 20
"""Acts before the next log is begun."""
BETWEEN = 0.03
"""Share of the calls after which the power is lost too."""
KINDS = ("log", "log", "mark", "undo", "redo", "import evenings", "import roster", "photo")


def acts_of(seed: int, acts: int) -> Iterator[tuple[Act, Known]]:
    """Each act and what is known after it; the worker and the one who looks both know them."""
    random, known = Random(seed), Known()
    for number in range(acts):
        act = choose(random.choice(KINDS), number, random, known)
        known = known.after(act)
        yield act, known


def work(folder: Path, seed: int, acts: int) -> None:
    """Begin a log, do the acts and acknowledge each.

    With an odd seed another connection stays open, as of another program: then the write-ahead log stays too.
    """
    desk = a_log(folder)
    with closing(sqlite3.connect(desk.path)) as other:
        if seed % 2:
            other.execute("SELECT count(*) FROM unit").fetchone()
        os.write(1, b".")
        for act, _ in acts_of(seed, acts):
            perform(desk, act)
            os.write(1, b".")


def lose_power(seed: int, acts: int) -> list[Tally]:
    """One log; a tally of losses at acknowledgements and of those in between."""
    with tempfile.TemporaryDirectory(dir=in_memory()) as place:
        folder, trace = Path(place, "desk"), Path(place, "trace")
        folder.mkdir()
        program = [sys.executable, "-m", "tests.faults.power", "--work", str(folder), str(seed), str(acts)]
        options = ["-y", "-xx", "-s", "100000000", "-e", f"trace={_there(TRACED)}", "-o", str(trace)]
        subprocess.run(["strace", *options, *program], check=True, stdout=subprocess.DEVNULL)
        looker = _Looker(Path(place, "left"), Synced(str(folder)), seed, acts)
        for call in calls(trace):
            looker.take(call)
        assert looker.acknowledged == acts
        return [looker.at_acknowledgements, looker.in_between]


def _there(names: str) -> str:
    """Calls that this kind of machine does not have are no mistake."""
    return ",".join(f"?{name}" for name in names.split(","))


class _Looker:
    """Follows the calls and looks at what is left."""

    def __init__(self, place: Path, disk: Synced, seed: int, acts: int) -> None:
        self.at_acknowledgements = Tally("power lost at an acknowledgement")
        self.in_between = Tally("power lost in between")
        self.acknowledged = -1
        """The first one is that of the log itself."""
        self._place, self._disk, self._random = place, disk, Random(seed)
        self._known = [Known(), *(known for _, known in acts_of(seed, acts))]

    def take(self, call: Call) -> None:
        """Follow a call, and look where the power is lost after it."""
        if call.name == "write" and call.numbers[0] == 1:
            self.acknowledged += 1
            for random in (None, self._random, self._random):
                self.at_acknowledgements = self._look(self.at_acknowledgements, random)
            self.at_acknowledgements = self.at_acknowledgements.plus(Tally("", operations=1))
            return
        self._disk.take(call)
        if self.acknowledged >= 0 and self._random.random() < BETWEEN:
            random = self._random if self._random.random() < 0.7 else None
            self.in_between = self._look(self.in_between, random)

    def _look(self, tally: Tally, random: Random | None) -> Tally:
        """Lay out what is left, open it and compare."""
        with tempfile.TemporaryDirectory(dir=in_memory()) as place:
            for path, data in self._disk.left(random).items():
                target = Path(place + path)
                target.parent.mkdir(exist_ok=True, parents=True)
                target.write_bytes(data)
            desk = Desk(place + "/log.db", lambda: NOW)
            try:
                desk.records()
                half, found = bool(unsound(desk.path)), facts_of(desk)
            except Exception as error:  # whatever it is, something is missing
                print(f"after act {self.acknowledged}: {error!r}")  # noqa: T201 - what it was is wanted
                return tally.plus(Tally("", faults=1, lost=1))
        may_be = self._known[self.acknowledged : self.acknowledged + 2]
        is_lost = found not in [known.facts() for known in may_be]
        return tally.plus(Tally("", faults=1, lost=int(is_lost), half=int(half)))


def main(words: list[str]) -> int:
    """Lose power and tell."""
    if "--work" in words:
        folder, its_seed, acts = words[1:]
        work(Path(folder), int(its_seed), int(acts))
        return 0
    total = MANY if "--many" in words else FEW
    sums: list[Tally] = []
    for seed in range(total // A_LOG):
        found = lose_power(seed, A_LOG)
        sums = [one.plus(more) for one, more in zip(sums, found, strict=True)] if sums else found
    return tell(sums)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
