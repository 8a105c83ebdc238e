"""Several writers at once, and readers all the while: python -m tests.faults.writers [--many].

Each writer is a process that logs lines to a unit of its own, marks its models, switches the lamp and takes
the last change of anybody back. A line or a mark that was acknowledged must be there unless somebody was told
that it was taken back. Nobody may be refused but for a reason of the log itself: the lamp is on, nothing is
left to take back. Readers take the whole log again and again and find every line with its models.
"""

from __future__ import annotations

import json
import os
import sqlite3
import sys
import tempfile
from collections import Counter, defaultdict
from collections.abc import Callable, Iterable
from contextlib import closing
from datetime import date
from pathlib import Path
from random import Random

from tests.faults.acts import MODELS, NOW, day_of, unsound
from tests.faults.telling import Tally, tell
from tracker.domain.problems import DataError
from tracker.domain.rows import RosterRow
from tracker.workbench.adding import add_unit
from tracker.workbench.desk import Desk
from tracker.workbench.lamp import lamp_off, lamp_on
from tracker.workbench.lines import Entry, log_line
from tracker.workbench.models import mark
from tracker.workbench.past import redo, undo

MANY, FEW = 10_000, 1_500
ADDED = date(2023, 1, 1)
KINDS = ("log",) * 6 + ("mark",) * 2 + ("undo", "redo", "lamp on", "lamp off")
REASONS = ("the lamp", "nothing to take back", "nothing to bring back")
"""Refusals that are right: another writer was there first."""


def unit_of(writer: int) -> str:
    """The unit that a writer logs to."""
    return f"Writer {writer} of all"


def write(desk: Desk, writer: int, acts: int, random: Random) -> Counter[str]:
    """So many acts; what stands of them, by kind and unit, and what was refused."""
    done: Counter[str] = Counter()
    for number in range(acts):
        kind = random.choice(KINDS)
        done["acts"] += 1
        try:
            _act(desk, kind, writer, number, done)
        except DataError as refusal:
            if not any(reason in str(refusal) for reason in REASONS):
                done[f"refused: {refusal}"] += 1
        except Exception as error:  # whatever it is, somebody would have seen it
            done[f"refused: {error!r}"] += 1
    return done


def _act(desk: Desk, kind: str, writer: int, number: int, done: Counter[str]) -> None:
    unit = unit_of(writer)
    if kind == "log":
        entry = Entry(unit, "cleaning", models=1 + number % 3, minutes=1.0, finished=False)
        log_line(desk, entry._replace(day=day_of(number)))
        done[f"log {unit}"] += 1
    elif kind == "mark":
        mark(desk, unit, "1", "priming", "in hand", day=day_of(number))
        done[f"mark {unit}"] += 1
    elif kind in ("undo", "redo"):
        turned = undo(desk) if kind == "undo" else redo(desk)
        of = [one for one in map(unit_of, range(9)) if one in turned.words]
        if of and turned.verb in ("log", "mark"):
            done[f"{turned.verb} {of[0]}"] += -1 if kind == "undo" else 1
    else:
        (lamp_on if kind == "lamp on" else lamp_off)(desk)


def read(desk: Desk, is_over: Callable[[], bool]) -> Counter[str]:
    """Take the whole log until it is over; how often, and how often something did not fit together."""
    done: Counter[str] = Counter()
    while not is_over():
        try:
            known = desk.records()
            sessions = {session.id for session in known.sessions}
            fits = all(
                len(line.model_ids) == line.models and line.session_id in sessions for line in known.lines
            )
            done["reads"] += 1
            done["torn"] += int(not fits)
        except Exception as error:  # likewise
            done[f"refused: {error!r}"] += 1
    return done


def together(writers: int, readers: int, acts: int, seed: int) -> Tally:
    """So many acts by all writers together; the log is compared with what they were told."""
    with tempfile.TemporaryDirectory() as folder:
        desk = Desk(str(Path(folder) / "log.db"), lambda: NOW)
        for writer in range(writers):
            add_unit(desk, RosterRow(unit_of(writer), MODELS, added=ADDED))
        with desk.open() as store:
            store.connection.execute("DELETE FROM change")  # nobody takes the units back
        until, end = os.pipe()
        os.set_blocking(until, False)
        reading = [_start(lambda: read(desk, lambda: _said(until)), end) for _ in range(readers)]
        writing = [
            _start(lambda n=n: write(desk, n, acts // writers, Random(f"{seed}:{n}")), end)  # type: ignore[misc]
            for n in range(writers)
        ]
        total = _sum(map(_result, writing))
        os.close(end)
        looked = _sum(map(_result, reading))
        os.close(until)
        return _compare(desk, f"{writers} writers, {readers} reader", total, looked)


def _compare(desk: Desk, what: str, total: dict[str, int], looked: dict[str, int]) -> Tally:
    with closing(sqlite3.connect(desk.path)) as log:
        there = Counter({key: count for sql in (_LINES, _MARKS) for key, count in log.execute(sql)})
    told = Counter({key: count for key, count in total.items() if key.startswith(("log ", "mark "))})
    refused = {key: count for key, count in _sum([total, looked]).items() if key.startswith("refused")}
    for key, count in refused.items():
        print(f"{count} × {key}")  # noqa: T201 - what it was is wanted
    lost = sum(abs(told[key] - there[key]) for key in told | there)
    half = looked["torn"] + int(bool(unsound(desk.path)))
    print(f"{what}: the whole log was read {looked['reads']} times meanwhile")  # noqa: T201
    return Tally(what, total["acts"], 0, lost, half, sum(refused.values()))


_LINES = "SELECT 'log ' || unit.name, count(*) FROM line JOIN unit ON unit.id = unit_id GROUP BY 1"
_MARKS = (
    "SELECT 'mark ' || unit.name, count(*) FROM mark JOIN model ON model.id = model_id"
    " JOIN unit ON unit.id = model.unit_id GROUP BY 1"
)


def _start(act: Callable[[], Counter[str]], end: int) -> tuple[int, int]:
    """A process that does it and tells what came of it through a pipe; the process and the pipe."""
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        try:
            os.close(end)
            with os.fdopen(writing, "w") as out:
                json.dump(act(), out)
        finally:
            os._exit(0)
    os.close(writing)
    return child, reading


def _result(started: tuple[int, int]) -> dict[str, int]:
    child, reading = started
    with os.fdopen(reading) as told:
        found: dict[str, int] = json.load(told)
    os.waitpid(child, 0)
    return found


def _sum(parts: Iterable[dict[str, int]]) -> dict[str, int]:
    """Not a Counter's own sum, which forgets what is below nothing: one may take back what another did."""
    total: defaultdict[str, int] = defaultdict(int)
    for part in parts:
        for key, count in part.items():
            total[key] += count
    return total


def _said(pipe: int) -> bool:
    """Whether every writer is done: nobody holds the other end any more."""
    try:
        return os.read(pipe, 1) == b""
    except BlockingIOError:
        return False


def main(words: list[str]) -> int:
    """Write, read and tell."""
    acts = MANY if "--many" in words else FEW
    return tell([together(2, 1, acts // 2, 1), together(4, 1, acts // 2, 2)])


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
