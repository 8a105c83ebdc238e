# ruff: noqa: T201 - what is found is printed
"""Hostile bytes against every reader: python -m tests.faults.fuzz [--seconds N] [TARGET ...].

With atheris the bytes are bent until they reach new branches of our code (coverage-guided fuzzing:
M. Zalewski, 2013; K. Serebryany, 2016); where atheris cannot be imported the same targets get bytes that are
bent blindly, and a line says so. Each target runs in a process of its own, since the fuzzer ends its process.

    python -m tests.faults.fuzz                          every target, two seconds each
    python -m tests.faults.fuzz --seconds 600 evenings   one of them, for long
    python -m tests.faults.fuzz --replay FILE evenings   what a finding's bytes do, with its traceback

A finding's bytes are kept in the folder that `--findings` names, by default the one it is started in.
"""

from __future__ import annotations

import argparse
import re
import subprocess
import sys
import tempfile
import time
from importlib.util import find_spec
from pathlib import Path
from random import Random
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from tests.faults.fuzz_targets import Run


CORPUS = Path(__file__).parent.parent / "fuzz_corpus"
HANG_SECONDS = 5
IN_MEMORY = next((place for place in ("/dev/shm",) if Path(place).is_dir()), None)  # noqa: S108
"""Where Linux keeps files in memory: logs that nobody will miss need no disk."""
BYTES_MOST = 4096
MEMORY_MOST_MB = 1500
_FOUND = re.compile(rb"Test unit written to (\S+)|found: (\S+)")
_DONE = re.compile(rb"Done (\d+) runs")
_COVERED = re.compile(rb"cov: (\d+)")


class Fuzzed(NamedTuple):
    """What came of one target."""

    target: str
    runs: int
    branches: int
    """Points of our code that were reached; 0 where nobody counted."""
    finding: str = ""
    """The file with the bytes, or the last words of a process that died; empty = none."""


def names() -> list[str]:
    """Every target."""
    from tests.faults.fuzz_targets import targets

    with tempfile.TemporaryDirectory(dir=IN_MEMORY) as folder:
        return list(targets(Path(folder)))


def target_named(name: str, folder: Path) -> Run:
    """One target. Imported late: only what is imported under the fuzzer's eyes is looked at."""
    from tests.faults.fuzz_targets import targets

    return targets(folder, only=name)[name]


def guided() -> bool:
    """Whether the fuzzer that looks at coverage can be had here."""
    return find_spec("atheris") is not None


def fuzz(target: str, seconds: float, findings: Path, seed: int = 1) -> Fuzzed:
    """Run one target in a process of its own for so many seconds."""
    words = [sys.executable, "-m", "tests.faults.fuzz", "--child", "--seed", str(seed)]
    words += ["--seconds", str(seconds), "--findings", str(findings), target]
    done = subprocess.run(words, check=False, capture_output=True, timeout=seconds + 300)
    said = done.stdout + done.stderr
    runs, branches = _DONE.search(said), _COVERED.findall(said)
    found = _FOUND.search(said)
    finding = (found[1] or found[2]).decode() if found else ""
    if not finding and (done.returncode or runs is None):
        finding = said[-2000:].decode(errors="replace")
    return Fuzzed(target, int(runs[1]) if runs else 0, int(branches[-1]) if branches else 0, finding)


def seeds_of(target: str) -> list[bytes]:
    """The small corpus of a target."""
    return [path.read_bytes() for path in sorted(CORPUS.glob(f"{target}_[0-9]*"))]


def blind(target: str, seconds: float, findings: Path, seed: int) -> int:
    """Bytes bent without looking at what they reach; the number of runs."""
    random, seeds = Random(f"{seed} {target}"), seeds_of(target)
    ends, runs = time.perf_counter() + seconds, 0
    with tempfile.TemporaryDirectory(dir=IN_MEMORY) as folder:
        run = target_named(target, Path(folder))
        while time.perf_counter() < ends:
            data = bent(random, seeds)
            began = time.perf_counter()
            try:
                run(data)
                _in_time(time.perf_counter() - began)
            except BaseException:
                kept = findings / f"crash-{target}-{seed}-{runs}"
                kept.write_bytes(data)
                print(f"found: {kept}", flush=True)
                raise
            runs += 1
    return runs


def _in_time(seconds: float) -> None:
    if seconds > HANG_SECONDS:
        raise AssertionError(f"it took {seconds:.0f} seconds")


def bent(random: Random, seeds: list[bytes]) -> bytes:
    """One of the corpus with a few places changed, doubled, left out or taken from another."""
    data = bytearray(random.choice(seeds))
    for _ in range(random.randrange(1, 6)):
        at, other = random.randrange(len(data) + 1), random.choice(seeds)
        size = random.choice((1, 1, 2, 4, 16, 64))
        piece = random.choice(
            (b"", random.randbytes(size), data[at : at + size] * 2, _piece(random, other, size))
        )
        data[at : at + random.choice((0, size))] = piece
    return bytes(data[: max(BYTES_MOST, *map(len, seeds))])


def _piece(random: Random, data: bytes, size: int) -> bytes:
    at = random.randrange(len(data) + 1)
    return data[at : at + size]


def run_child(target: str, seconds: float, findings: Path, seed: int) -> None:
    """In a process of its own: fuzz until the time is over; libFuzzer ends the process itself."""
    if not guided():
        print(f"Done {blind(target, seconds, findings, seed)} runs", flush=True)
        return
    import atheris

    with tempfile.TemporaryDirectory(dir=IN_MEMORY) as folder:
        with atheris.instrument_imports(include=["tracker"]):
            run = target_named(target, Path(folder))
            for data in seeds_of(target):
                run(data)
        corpus = Path(folder) / "corpus"
        corpus.mkdir()
        for number, data in enumerate(seeds_of(target)):
            (corpus / str(number)).write_bytes(data)
        longest = max(BYTES_MOST, *map(len, seeds_of(target)))
        atheris.Setup(
            [
                sys.argv[0], f"-max_total_time={max(int(seconds), 1)}", f"-seed={seed}",
                f"-timeout={HANG_SECONDS}", f"-rss_limit_mb={MEMORY_MOST_MB}", f"-max_len={longest}",
                f"-artifact_prefix={findings}/{target}-", str(corpus),
            ],
            run,
        )  # fmt: skip
        atheris.Fuzz()


def main() -> int:
    """What was asked for on the command line; 1 where something was found."""
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("target", nargs="*", help="by default all of them")
    asked.add_argument("--seconds", type=float, default=2)
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--findings", type=Path, default=Path())
    asked.add_argument("--replay", type=Path)
    asked.add_argument("--child", action="store_true", help=argparse.SUPPRESS)
    said = asked.parse_args()
    if said.child:
        run_child(said.target[0], said.seconds, said.findings, said.seed)
        return 0
    if said.replay:
        with tempfile.TemporaryDirectory(dir=IN_MEMORY) as folder:
            target_named(said.target[0], Path(folder))(said.replay.read_bytes())
        return 0
    if not guided():
        print("atheris cannot be imported here: bytes are bent blindly, without looking at what they reach.")
    print(f"{'target':12} {'runs':>10} {'reached':>8}  finding")
    found = 0
    for target in said.target or names():
        done = fuzz(target, said.seconds, said.findings, said.seed)
        print(f"{target:12} {done.runs:>10,} {done.branches or '':>8}  {done.finding or 'none'}", flush=True)
        found += bool(done.finding)
    return min(found, 1)


if __name__ == "__main__":
    sys.exit(main())
