"""Kill -9 at random moments: python -m tests.faults.kills [--many] [--seed N].

A worker does one act after the other through the verbs and acknowledges each in a pipe once the verb has
returned. Its parent kills it after a random number of acknowledgements and a random while within the next
act, opens the log, has SQLite check it, and compares it row by row with the acts that were acknowledged:
every one of them must be there; the one in flight may be, whole. Then a new worker goes on with that log.
"""

from __future__ import annotations

import os
import signal
import sys
import tempfile
from pathlib import Path
from random import Random
from statistics import fmean
from time import perf_counter

from tests.faults.acts import Act, Known, a_log, choose, facts_of, perform, unsound
from tests.faults.sides import KINDS, Sides, do_side, prepare, side_state
from tests.faults.telling import Tally, tell
from tracker.workbench.desk import Desk

MANY, FEW = 600, 60
KILLS_A_LOG = 50
"""After so many the next log is begun, so that looking through it stays quick."""
ACTS = ("log", "log", "mark", "undo", "undo", "redo", "redo", "import evenings", "import roster", "photo")
FIRST_GUESS_SECONDS = 0.012


class Killing:
    """One log, its workers, and what is known of it."""

    def __init__(self, folder: Path, random: Random, seconds: dict[str, list[float]]) -> None:
        self.desk: Desk = a_log(folder)
        self.sides: Sides = prepare(folder)
        self.known = Known()
        self.number = 0
        self.tallies: dict[str, Tally] = {}
        self._seed = random.randrange(1 << 30)
        self._random = random
        self._seconds = seconds

    def next_act(self) -> Act:
        """What the worker does next; both sides know it."""
        random = Random(f"{self._seed}:{self.number}")
        kind = random.choice((*ACTS, *KINDS) if random.random() < 0.5 else ACTS)
        return Act(kind, self.number) if kind in KINDS else choose(kind, self.number, random, self.known)

    def note(self, act: Act) -> None:
        """It was acknowledged."""
        self.number += 1
        if act.kind not in KINDS:
            self.known = self.known.after(act)

    def kill_once(self) -> None:
        """A worker, a kill, a look."""
        reading, writing = os.pipe()
        worker = os.fork()
        if worker == 0:
            os.close(reading)
            self._work(writing)
        os.close(writing)
        acts = [self._acknowledged(reading) for _ in range(self._random.randint(1, 4))]
        self._wait_within(self.next_act())
        os.kill(worker, signal.SIGKILL)
        while act := self._acknowledged(reading):
            acts.append(act)
        os.close(reading)
        assert os.waitstatus_to_exitcode(os.waitpid(worker, 0)[1]) == -signal.SIGKILL
        self._look([act for act in acts if act])

    def _work(self, writing: int) -> None:
        """Acts without end; what goes wrong ends the worker before it is killed, and is seen by that."""
        try:
            while True:
                act = self.next_act()
                if act.kind in KINDS:
                    do_side(self.sides, act)
                else:
                    perform(self.desk, act)
                os.write(writing, b".")
                self.note(act)
        finally:
            os._exit(1)

    def _acknowledged(self, reading: int) -> Act | None:
        """The next act that was acknowledged; None when the worker is gone."""
        began = perf_counter()
        if not os.read(reading, 1):
            return None
        act = self.next_act()
        self._seconds.setdefault(act.kind, []).append(perf_counter() - began)
        self.note(act)
        return act

    def _wait_within(self, act: Act) -> None:
        """Anywhere from the act's begin to a little past its usual end."""
        usual = self._seconds.get(act.kind, [FIRST_GUESS_SECONDS])[-20:]
        end = perf_counter() + self._random.random() * 1.2 * fmean(usual)
        while perf_counter() < end:
            pass

    def _look(self, acts: list[Act]) -> None:
        flying = self.next_act()
        for act in acts:
            done = act.kind not in KINDS or side_state(self.sides, act) == "after"
            self._count(Tally(act.kind, operations=1, lost=int(not done)))
        if flying.kind in KINDS:
            half = side_state(self.sides, flying) == "half"
            self.number += 1
        else:
            half = False
        lost = self._settle(flying)
        half = half or bool(unsound(self.desk.path))
        self._count(Tally(flying.kind, faults=1, lost=int(lost), half=int(half)))

    def _settle(self, flying: Act) -> bool:
        """Whether something is amiss: the log is as the acts left it, or has the one in flight as well."""
        found = facts_of(self.desk)
        if flying.kind in KINDS:
            return found != self.known.facts()
        after = self.known.after(flying)
        if found == after.facts() != self.known.facts():
            self.note(flying)
            return False
        self.number += 1
        return found != self.known.facts()

    def _count(self, tally: Tally) -> None:
        self.tallies[tally.what] = self.tallies.get(tally.what, Tally(tally.what)).plus(tally)


def kill(kills: int, seed: int) -> list[Tally]:
    """So many kills; a tally for each kind of act that was done or was in flight."""
    random, seconds = Random(seed), dict[str, list[float]]()
    tallies: dict[str, Tally] = {}
    for first in range(0, kills, KILLS_A_LOG):
        with tempfile.TemporaryDirectory() as folder:
            killing = Killing(Path(folder), random, seconds)
            for _ in range(min(KILLS_A_LOG, kills - first)):
                killing.kill_once()
        for kind, tally in killing.tallies.items():
            tallies[kind] = tallies.get(kind, Tally(kind)).plus(tally)
    return [tallies[kind] for kind in sorted(tallies)]


def main(words: list[str]) -> int:
    """Kill and tell."""
    seed = int(words[words.index("--seed") + 1]) if "--seed" in words else 8
    return tell(kill(MANY if "--many" in words else FEW, seed))


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
