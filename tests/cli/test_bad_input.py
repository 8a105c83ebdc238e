"""Bad input at every door: one clear line, nothing stored, no traceback, no hang, bounded memory."""

from __future__ import annotations

import json
import os
import resource
import subprocess
import sys
import time
import tracemalloc
import zipfile
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner

from tests.desks import with_spears
from tracker.cli.main import main
from tracker.sheets.evenings import read_evenings
from tracker.sheets.table import PROBLEMS_MOST
from tracker.workbench.desk import Desk
from tracker.workbench.whole import export_document

MEMORY_MOST_KB = 400_000
"""What a command may take at most: the bound of a file, read and taken apart."""
SECONDS_MOST = 60
SHEETS = ("evenings", "roster", "recipes", "spares", "roles", "sources")


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return with_spears(tmp_path, 5)


def refused(desk: Desk, *words: str, stdin: bytes | None = None) -> str:
    """The line that a command refuses with; the log stays as it was."""
    before = export_document(desk)
    said = CliRunner().invoke(main, list(words), obj=desk, input=stdin)
    assert said.exit_code in (1, 2), said.output
    assert said.exception is None or isinstance(said.exception, SystemExit), said.exception
    lines = said.stderr.splitlines()
    assert lines, words
    assert all(len(line) < 1000 and "Traceback" not in line for line in lines)
    assert export_document(desk) == before
    return lines[0]


def a_zip(path: Path) -> None:
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("a.csv", "unit,models\nSpears,2\n")


FILES: dict[str, Callable[[Path], object]] = {
    "missing": lambda _: None,
    "folder": lambda path: path.mkdir(),
    "empty": lambda path: path.write_bytes(b""),
    "zip": a_zip,
    "NUL": lambda path: path.write_bytes(b"unit,models,date,step\0\n" + bytes(50)),
    "UTF-16": lambda path: path.write_bytes("unit,models\nSpears,2\n".encode("utf-16")),
    "latin": lambda path: path.write_bytes("unit,models\nSpeers é,2\n".encode("latin-1")),
    "open quote": lambda path: path.write_bytes(b'unit,models\n"Spears,2\n'),
    "long cell": lambda path: path.write_bytes(b"unit,models\n" + b"x" * 10_000_000 + b",2\n"),
    "many columns": lambda path: path.write_bytes(b"," * 200_000 + b"\n"),
}


@pytest.mark.parametrize("kind", FILES)
@pytest.mark.parametrize("sheet", SHEETS)
def test_a_file_that_is_no_sheet_gets_one_line(desk: Desk, tmp_path: Path, sheet: str, kind: str) -> None:
    path = tmp_path / "given.csv"
    FILES[kind](path)
    refused(desk, "import", sheet, str(path))


DOCUMENTS = {
    "no JSON": b"{",
    "deep": b"[" * 100_000 + b"]" * 100_000,
    "deep objects": b'{"a":' * 50_000,
    "huge number": b'{"lastcoat": 1, "data": ' + b"9" * 10_000 + b"}",
    "not a number": b'{"lastcoat": NaN}',
    "another thing": b'{"lastcoat": 1, "data": {"format": "lastcoat log", "version": 1e999}}',
    "a newer one": b'{"lastcoat": 99, "data": {}}',
    "surrogates": b'{"lastcoat": 1, "data": {"format": "\\ud800"}}',
    "no object": b"[]",
}


@pytest.mark.parametrize("kind", DOCUMENTS)
def test_a_document_that_is_none_gets_one_line(desk: Desk, tmp_path: Path, kind: str) -> None:
    path = tmp_path / "given.json"
    path.write_bytes(DOCUMENTS[kind])
    refused(desk, "import", "all", str(path))


ARGUMENTS: list[tuple[str, ...]] = [
    ("log", "x" * 1_000_000),
    ("log", "cleaned 99999999999999999999999 spears"),
    ("log", "--unit", "Spears", "--step", "cleaning", "--minutes", "nan"),
    ("log", "--unit", "Spears", "--step", "cleaning", "--minutes", "1e400"),
    ("log", "--unit", "Spears", "--step", "cleaning", "--models", "-3"),
    ("log", "--unit", "\udce9", "--step", "cleaning"),
    ("add", "--unit", "", "--models", "3"),
    ("add", "--unit", "Riders", "--models", "1000000000000"),
    ("add", "--unit", "Riders", "--models", "3", "--points", "inf"),
    ("add", "--unit", "x" * 100_000, "--models", "3"),
    ("mark", "--unit", "Spears", "--models", "1-99999999", "--step", "cleaning", "--state", "done"),
    ("plan", "every", "FREQ=SECONDLY"),
    ("plan", "every", "FREQ=DAILY;COUNT=1000000000000;BYSETPOS=-366"),
    ("plan", "away", "9999-12-31", "0001-01-01"),
    ("goal", "add", "Spring", "0001-01-01"),
    ("forecast", "--as-of", "9999-12-31"),
    ("forecast", "--draws", "1000000000"),
    ("source", "add", "bought", "--cost", "1e999999 EUR"),
    ("points", "--target", "nan"),
    ("curing", "begin", "x", "--hours", "1e308"),
    ("spare", "add", "1000000000"),
    ("role", "add", "Spears", "x", "--count", "1000000000"),
    ("recipe", "add", "x", "cloth: " + "red, " * 100_000),
    ("ranks", "size", "--files", "100000000", "--ranks", "100000000", "--base", "20x20"),
    ("ranks", "measure", "Spears", "1", "9" * 5000),
    ("photo", "add", "/dev/zero", "--unit", "Spears"),
    ("export", "all", "/"),
    ("export", "roster", "a\0b"),
    ("report", "/nowhere/at/all.html"),
    ("restore", "../../etc/passwd"),
    ("merge", "/dev/null"),
    ("config", "set", "theme", "\x1b]0;x\x07"),
]


@pytest.mark.parametrize(
    "words", ARGUMENTS, ids=lambda words: " ".join(words)[:40].encode("ascii", "replace")
)
def test_an_argument_that_cannot_be_gets_one_line(
    desk: Desk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, words: tuple[str, ...]
) -> None:
    monkeypatch.setenv("LASTCOAT_CONFIG", str(tmp_path / "config.toml"))
    monkeypatch.chdir(tmp_path)
    refused(desk, *words)


def run(folder: Path, *words: str, stdin: object = subprocess.DEVNULL, **env: str) -> tuple[int, str]:
    """Status and standard error of the program in a process of its own, with bounded memory."""

    def bounded() -> None:
        resource.setrlimit(resource.RLIMIT_AS, (4 * MEMORY_MOST_KB * 1024,) * 2)

    settings = {"LASTCOAT_DB": str(folder / "log.db"), "LASTCOAT_CONFIG": str(folder / "config.toml")}
    done = subprocess.run(
        [sys.executable, "-m", "tracker.cli.main", *words],
        env=os.environ | settings | env, stdin=stdin, capture_output=True, timeout=SECONDS_MOST, check=False,
        preexec_fn=bounded,
    )  # type: ignore[call-overload]  # fmt: skip
    return done.returncode, done.stderr.decode("utf-8", "replace")


def one_line(answer: tuple[int, str]) -> str:
    status, said = answer
    assert status in (1, 2), said
    assert said.count("\n") == 1
    assert "Traceback" not in said
    return said


def test_a_sheet_of_a_gigabyte_is_refused_by_its_size(desk: Desk, tmp_path: Path) -> None:
    with (tmp_path / "large.csv").open("wb") as file:
        file.truncate(1 << 30)
    before = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss
    assert "larger than 64 MB" in one_line(run(tmp_path, "import", "evenings", str(tmp_path / "large.csv")))
    assert resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss < max(before, MEMORY_MOST_KB)
    assert len(desk.records().units) == 1


def test_a_stream_that_never_ends_is_left_at_the_bound(desk: Desk, tmp_path: Path) -> None:
    with Path("/dev/zero").open("rb") as endless:
        assert "larger than 64 MB" in one_line(run(tmp_path, "import", "roster", "-", stdin=endless))
    assert len(desk.records().units) == 1


def test_mistakes_without_number_take_no_memory() -> None:
    """What is not listed is counted: 55 MB of mistakes took 863 MB before."""
    rows = 30_000
    text = "date,unit,step,models\n" + "2026-13-03,Nobody,cleaning,1\n" * rows
    tracemalloc.start()
    read = read_evenings(text, today=date(2026, 3, 10))
    _, most_bytes = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert read.problems[-1].what.startswith(f"{rows - PROBLEMS_MOST} more problems")
    # io.StringIO holds four bytes a letter; the rest is what one row takes.
    assert most_bytes < 6 * len(text)


RANGES = ",".join(["1-99999"] * 12_000)
"""Numbers that would be counted 1.2 thousand million times."""


@pytest.mark.parametrize(
    "words",
    [
        ("mark", "--unit", "Spears", "--step", "cleaning", "--models", RANGES),
        ("source", "add", "bought", "--unit", "Spears", "--models", RANGES),
        ("spare", "note", RANGES, "--place", "drawer"), ("spare", "take", RANGES, "--unit", "Spears"),
        ("unit", "role", RANGES, "--unit", "Spears"),
    ],
    ids=lambda words: " ".join(words[:2]),
)  # fmt: skip
def test_ranges_said_over_and_over_get_one_line(desk: Desk, words: tuple[str, ...]) -> None:
    refused(desk, *words)


@pytest.mark.parametrize(
    "words", [("import", "evenings"), ("estimate", "--sheet"), ("merge",), ("photo", "unpack")],
    ids=lambda words: words[0],
)  # fmt: skip
def test_a_pipe_that_nobody_writes_into_is_not_waited_for(
    desk: Desk, tmp_path: Path, words: tuple[str, ...]
) -> None:
    os.mkfifo(tmp_path / "pipe")
    one_line(run(tmp_path, *words, str(tmp_path / "pipe")))
    one_line(run(tmp_path, "undo", LASTCOAT_DB=str(tmp_path / "pipe")))
    assert run(tmp_path, "config", "check", LASTCOAT_CONFIG=str(tmp_path / "pipe"))[0] == 1
    assert len(desk.records().units) == 1


def test_what_the_shell_pipes_in_is_read(tmp_path: Path) -> None:
    """bash(1), Process Substitution: the file's name is then one of /dev/fd."""
    there, here = os.pipe()
    os.write(here, b"unit,models\nSpears,2\n")
    os.close(here)
    done = subprocess.run(
        [sys.executable, "-m", "tracker.cli.main", "import", "roster", f"/dev/fd/{there}"],
        env=os.environ | {"LASTCOAT_DB": str(tmp_path / "log.db")}, pass_fds=[there], check=True,
        capture_output=True,
    )  # fmt: skip
    os.close(there)
    assert b"1 unit new" in done.stdout


@pytest.mark.parametrize(
    "rule",
    ["FREQ=DAILY;BYMONTH=2;BYMONTHDAY=30", "FREQ=DAILY;BYSETPOS=366", "FREQ=WEEKLY;BYMONTH=2;BYMONTHDAY=30",
     "FREQ=SECONDLY;COUNT=1000000000000", "FREQ=DAILY;UNTIL=20270101T000000ZR", "FREQ=WEEKLY;INTERVAL=-1",
     "FREQ=WEEKLY;COUNT=0"],
    ids=str,
)  # fmt: skip
def test_a_rule_that_never_comes_is_told_soon(desk: Desk, rule: str) -> None:
    began = time.process_time()
    refused(desk, "plan", "evenings", rule)
    assert time.process_time() - began < 10


ENVIRONMENTS = [
    {"LASTCOAT_DB": "x" * 5000}, {"LASTCOAT_DB": "a\nb/\x1b[31m/c"}, {"LASTCOAT_DB": "/dev/null"},
    {"LASTCOAT_DB": "/proc/self/mem"}, {"LASTCOAT_DB": "\udcff\udcfe/../no/\udcff/x.db"},
    {"LASTCOAT_DB": "/nowhere/at/all.db"},
]  # fmt: skip


@pytest.mark.parametrize("env", ENVIRONMENTS, ids=lambda env: ascii(env)[:40])
def test_a_log_that_cannot_be_gets_one_line(tmp_path: Path, env: dict[str, str]) -> None:
    one_line(run(tmp_path, "undo", **env))


@pytest.mark.parametrize(
    "env",
    [{"COLUMNS": "-1"}, {"COLUMNS": "1000000000"}, {"TZ": "nonsense/zone"}, {"LC_ALL": "C", "LANG": "C"},
     {"TERM": ""}, {"PYTHONIOENCODING": "ascii"}, {"LINES": "x", "COLUMNS": "x"}],
    ids=str,
)  # fmt: skip
def test_an_odd_environment_does_no_harm(desk: Desk, tmp_path: Path, env: dict[str, str]) -> None:
    status, said = run(tmp_path, "army", **env)
    assert (status, said) == (0, "")
    assert desk.path


@pytest.mark.parametrize(
    "text",
    ["theme = ", "keys = 3", "[" * 10_000, "a = " + "[" * 5_000, "theme = '" + "y" * 1_000_000 + "'"],
    ids=lambda text: text[:12],
)  # fmt: skip
def test_settings_that_cannot_be_read_are_told(desk: Desk, tmp_path: Path, text: str) -> None:
    (tmp_path / "config.toml").write_text(text, encoding="utf-8")
    status, said = run(tmp_path, "config", "check")
    assert status == 1
    assert "Traceback" not in said
    assert run(tmp_path, "army")[0] == 0
    assert desk.path


def test_what_a_command_prints_is_json_whatever_is_named(tmp_path: Path) -> None:
    desk = with_spears(tmp_path, 2)
    said = CliRunner().invoke(main, ["army", "--json"], obj=desk)
    assert json.loads(said.stdout)
