"""Random bytes flipped in the file: python -m tests.faults.flips [--many N] [--seed N].

Each file is a copy of a log in which 1, 10 or 100 bytes are put wrong: in its header, in its pages, in its
write-ahead log. It is checked, read, exported and salvaged in a child, so that a crash or a hang would be
seen. Either `check` (or opening) says that something is wrong, or every row is the one that was stored.
"""

from __future__ import annotations

import json
import os
import signal
import sys
import tempfile
from collections import Counter
from datetime import date, datetime
from pathlib import Path
from random import Random
from traceback import extract_tb
from typing import Any, NamedTuple

from tests.desks import NOW, counting_uid
from tracker.domain.problems import LastcoatError
from tracker.domain.rows import RosterRow
from tracker.store.fits import keep_fit, kept_fit
from tracker.workbench.adding import add_spares, add_unit
from tracker.workbench.check import check, salvage
from tracker.workbench.desk import Desk
from tracker.workbench.lamp import lamp_on, lamp_pause
from tracker.workbench.lines import Entry, log_line
from tracker.workbench.models import mark
from tracker.workbench.past import undo
from tracker.workbench.whole import export_document

MANY, FEW = 1_000, 60
FLIPS = (1, 10, 100)
HEADER_BYTES = 100
BATCH = 20
SECONDS_MOST = 60
"""A file that takes longer counts as a hang."""
STEPS = ("cleaning", "assembly", "priming", "base colours", "shade")
BLOB = b"what was learned " * 40


class Flips(NamedTuple):
    """What became of damaged files."""

    files: int
    flips: int
    detected: int
    """`check` said that something is wrong, or the log could not be opened."""
    harmless: int
    """`check` passed, and every row was as it was stored."""
    silently_wrong: int
    salvaged: int
    """Damaged ones of which rows were saved."""
    salvaged_whole: int
    """Of these, those in which no row was lost or altered."""
    salvage_lied: int
    """Salvage told of no loss, and a row was another one."""
    broken: tuple[str, ...]
    """Tracebacks, crashes, hangs, a damaged file that was written to."""

    def words(self) -> str:
        """One line of figures."""
        return (
            f"files {self.files}, flips {self.flips}, detected {self.detected}, harmless {self.harmless},"
            f" silently wrong: {self.silently_wrong}; salvaged {self.salvaged} (whole {self.salvaged_whole},"
            f" told wrongly: {self.salvage_lied}); tracebacks, crashes, hangs: {len(self.broken)}"
        )


class Original(NamedTuple):
    """An undamaged log: its bytes, and everything that is stored in it."""

    log: bytes
    wal: bytes
    contents: str


def a_desk(folder: Path) -> Desk:
    """A desk in a folder."""
    return Desk(str(folder / "log.db"), lambda: NOW, counting_uid())


def originals(folder: Path) -> tuple[Original, Original]:
    """A log that was closed, and one whose last changes stand in the write-ahead log."""
    desk = a_desk(folder)
    _fill(desk)
    closed = _original(desk, b"")
    with desk.open() as store:
        store.connection.execute("PRAGMA wal_autocheckpoint = 0")
        for models in (1, 2, 3):
            log_line(desk, Entry("Riders", "cleaning", models=models, minutes=7.5))
        wal = Path(f"{desk.path}-wal").read_bytes()
        open_one = _original(desk, wal)
    return closed, open_one


def _original(desk: Desk, wal: bytes) -> Original:
    data = Path(desk.path).read_bytes()
    return Original(data, wal, contents(desk))


def _fill(desk: Desk) -> None:
    """Some hundred rows of every usual sort."""
    for unit in ("Spears", "Riders", "Bows"):
        add_unit(desk, RosterRow(unit, 24, added=date(2026, 1, 5)))
    add_spares(desk, 9)
    for number in range(60):
        unit, step = ("Spears", "Bows")[number % 2], STEPS[number // 12]
        day = date.fromordinal(date(2026, 1, 6).toordinal() + number)
        log_line(desk, Entry(unit, step, models=4, minutes=12.5 + number, day=day, note=f"évening {number}"))
    mark(desk, "Riders", "1-5", "cleaning", "done")
    undo(desk)
    lamp_on(desk, since=datetime(2026, 3, 10, 20, 0))
    lamp_pause(desk)
    with desk.open() as store:
        keep_fit(store, "pace", store.log_state(), "1", BLOB)


def contents(desk: Desk) -> str:
    """Everything that is stored: facts, what undo would take back, what was learned where it is believed."""
    with desk.open() as store:
        journal = [store.rows(f"SELECT * FROM {table} ORDER BY 1") for table in ("change", "change_row")]
        learned = kept_fit(store, "pace", store.log_state(), "1")
    assert learned in (None, BLOB)
    return json.dumps([export_document(desk), journal])


def flipped(data: bytes, count: int, first: int, last: int, random: Random) -> bytes:
    """The bytes with `count` of them put wrong between two places."""
    damaged = bytearray(data)
    for at in random.sample(range(first, min(last, len(data))), min(count, last - first)):
        damaged[at] ^= random.randrange(1, 256)
    return bytes(damaged)


def damage(original: Original, folder: Path, number: int, random: Random) -> int:
    """Put a damaged copy into a folder; how many bytes are wrong."""
    count = FLIPS[number % len(FLIPS)]
    where = (
        ("pages", "pages", "header", "wal")[number % 4] if original.wal else ("pages", "header")[number % 2]
    )
    log, wal = original.log, original.wal
    if where == "header":
        count = min(count, 50)
        log = flipped(log, count, 0, HEADER_BYTES, random)
    elif where == "pages":
        log = flipped(log, count, 0, len(log), random)
    else:
        wal = flipped(wal, count, 0, len(wal), random)
    (folder / "log.db").write_bytes(log)
    if wal:
        (folder / "log.db-wal").write_bytes(wal)
    return count


def _fate(folder: Path, original: Original) -> dict[str, Any]:
    """What becomes of one damaged copy; every door is tried."""
    desk = a_desk(folder)
    before = (folder / "log.db").read_bytes()
    fate: dict[str, Any] = _saved(desk, folder, original)
    if (folder / "log.db").read_bytes() != before:
        raise AssertionError("salvage wrote to the damaged file")
    try:
        fate["passes"] = not check(desk).found
    except LastcoatError:
        fate["passes"] = False
    same = False
    for door in (desk.records, lambda: export_document(desk)):
        try:
            door()
        except LastcoatError:
            fate.setdefault("refused", True)
    try:
        same = contents(desk) == original.contents
    except LastcoatError:
        fate.setdefault("refused", True)
    except (ValueError, AssertionError):
        if fate["passes"]:
            raise
    fate["same"] = same
    return fate


def _saved(desk: Desk, folder: Path, original: Original) -> dict[str, Any]:
    file = folder / "saved.json"
    try:
        answer = salvage(desk, str(file))
    except LastcoatError:
        return {"salvaged": False}
    told = answer.wal_frames_lost or any(
        table.lost or table.lost is None or table.altered or not table.sealed for table in answer.tables
    )
    facts = json.loads(file.read_text(encoding="utf-8"))["data"]
    return {"salvaged": True, "whole": facts == json.loads(original.contents)[0], "told": bool(told)}


def _child(jobs: list[tuple[int, Original]], seed: int, place: str, out: int) -> None:
    for number, original in jobs:
        with tempfile.TemporaryDirectory(dir=place) as folder:
            flips = damage(original, Path(folder), number // 2, Random(f"{seed}:{number}"))
            signal.alarm(SECONDS_MOST)
            try:
                fate = _fate(Path(folder), original)
            except Exception as wrong:  # the very thing that must not happen
                fate = {"broken": f"{type(wrong).__name__}: {wrong} ({_where(wrong)})"}
            signal.alarm(0)
        os.write(out, (json.dumps({"number": number, "flips": flips, **fate}) + "\n").encode())


def _where(wrong: BaseException) -> str:
    """The last place in the program that a mistake came through."""
    last = extract_tb(wrong.__traceback__)[-1]
    return f"{Path(last.filename).name}:{last.lineno}"


def _run_child(jobs: list[tuple[int, Original]], seed: int, place: str) -> list[dict[str, Any]]:
    """The fates of some files; the one on which a child dies is told as a crash or a hang."""
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        status = 1
        try:
            os.close(reading)
            _child(jobs, seed, place, writing)
            status = 0
        finally:
            os._exit(status)
    os.close(writing)
    with os.fdopen(reading, encoding="utf-8") as lines:
        fates = [json.loads(line) for line in lines]
    _, status = os.waitpid(child, 0)
    if status:
        number = jobs[len(fates)][0]
        fates.append({"number": number, "flips": 0, "broken": f"the child ended with {status}"})
    return fates


def flip(files: int, seed: int = 1) -> Flips:
    """Damage so many files, and see what becomes of them."""
    fates: list[dict[str, Any]] = []
    with tempfile.TemporaryDirectory() as place:
        (Path(place) / "whole").mkdir()
        logs = originals(Path(place) / "whole")
        jobs = [(number, logs[number % 2]) for number in range(files)]
        while len(fates) < files:
            fates += _run_child(jobs[len(fates) : len(fates) + BATCH], seed, place)
    return _sums(fates)


def _sums(fates: list[dict[str, Any]]) -> Flips:
    whole = [fate for fate in fates if "broken" not in fate]
    kinds = Counter(
        "detected" if not fate["passes"] else "harmless" if fate["same"] else "silent" for fate in whole
    )
    salvaged = [fate for fate in whole if fate["salvaged"]]
    return Flips(
        len(fates), sum(fate["flips"] for fate in fates),
        kinds["detected"], kinds["harmless"], kinds["silent"],
        len(salvaged), sum(fate["whole"] for fate in salvaged),
        sum(not fate["told"] and not fate["whole"] for fate in salvaged),
        tuple(f"file {fate['number']}: {fate['broken']}" for fate in fates if "broken" in fate),
    )  # fmt: skip


def main(words: list[str]) -> int:
    """Run it and print the figures; status 1 when anything went wrong."""
    files = int(words[words.index("--many") + 1]) if "--many" in words[:-1] else MANY if words else FEW
    seed = int(words[words.index("--seed") + 1]) if "--seed" in words else 1
    done = flip(files, seed)
    print(done.words())  # noqa: T201 - its figures are what it is for
    for line in done.broken:
        print(line)  # noqa: T201
    return int(bool(done.broken or done.silently_wrong or done.salvage_lied))


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
