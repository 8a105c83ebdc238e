"""What the installed program says when a log cannot be used: one line, a status, and a log as it was."""

from __future__ import annotations

import os
import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest

from tests.desks import with_spears
from tracker.cli import common
from tracker.store.numbers import APPLICATION_ID, NEWEST_SCHEMA
from tracker.workbench.whole import export_document

LOG = ("log", "--unit", "Spears", "--step", "cleaning", "--models", "2", "--minutes", "9")
ADD = ("add", "--unit", "Riders", "--models", "5")
LIMITED = """
import resource, sys
resource.setrlimit(resource.RLIMIT_FSIZE, (int(sys.argv[1]),) * 2)
from tracker.cli.main import main
main(sys.argv[2:], prog_name="lastcoat")
"""
UNLIMITED = str(2**40)


def complaint(db: str, *words: str, most_bytes: str = UNLIMITED) -> str:
    """The line of a refusal."""
    done = subprocess.run(
        [sys.executable, "-c", LIMITED, most_bytes, *words, "--db", db],
        check=False, capture_output=True, text=True,
    )  # fmt: skip
    assert done.returncode == 1, done.stderr
    assert done.stdout == ""
    (line,) = done.stderr.splitlines()
    assert "Traceback" not in line
    return line


def contents(path: Path) -> list[str]:
    """Every statement that would make the database again."""
    connection = sqlite3.connect(path)
    lines = list(connection.iterdump())
    connection.close()
    return lines


@pytest.mark.parametrize("words", [LOG, ADD, ("undo",), ("export", "all", "-")])
@pytest.mark.parametrize("mark", [0, APPLICATION_ID])
def test_a_database_of_another_program_or_a_newer_version(
    tmp_path: Path, words: tuple[str, ...], mark: int
) -> None:
    path = tmp_path / "log.db"
    with sqlite3.connect(path) as connection:
        connection.execute("CREATE TABLE theirs (x)")
        connection.execute("INSERT INTO theirs VALUES (1)")
        connection.execute(f"PRAGMA application_id = {mark}")
        connection.execute(f"PRAGMA user_version = {NEWEST_SCHEMA + 1}")
    connection.close()
    before = contents(path)
    said = complaint(str(path), *words)
    assert ("a newer version of Lastcoat" if mark else "this is not a Lastcoat log") in said
    assert contents(path) == before


@pytest.mark.parametrize(
    ("place", "said"),
    [
        ("file/log.db", "a part of its path is a file, not a folder. Check the path"),
        ("", "cannot be opened"),
        ("/proc/none/log.db", "/proc/none/log.db: "),
    ],
)
def test_a_place_that_cannot_be_written(tmp_path: Path, place: str, said: str) -> None:
    # proc(5): nobody makes a folder there, not even the one who may do everything.
    (tmp_path / "file").write_text("mine")
    assert said in complaint(str(tmp_path / place), *ADD)
    assert [path.name for path in tmp_path.iterdir()] == ["file"]
    assert (tmp_path / "file").read_text() == "mine"


def test_a_log_line_on_a_full_disk(tmp_path: Path) -> None:
    # getrlimit(2): a write beyond RLIMIT_FSIZE fails with EFBIG, as a full disk does with ENOSPC.
    desk = with_spears(tmp_path)
    before = export_document(desk)
    assert "nothing was stored" in complaint(desk.path, *LOG, most_bytes="4096")
    assert export_document(desk) == before


def test_a_logged_line_stands_in_a_durable_log(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    subprocess.run(
        [sys.executable, "-m", "tracker.cli.main", *LOG, "--db", desk.path], check=True, capture_output=True
    )
    connection = sqlite3.connect(desk.path)
    # sqlite.org/wal.html: the mode stays with the file.
    assert connection.execute("PRAGMA journal_mode").fetchone() == ("wal",)
    assert connection.execute("SELECT step, models, minutes FROM line").fetchall() == [("cleaning", 2, 9.0)]
    connection.close()


def test_two_programs_that_log_at_once_lose_nothing(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    command = [sys.executable, "-m", "tracker.cli.main", *LOG, "--db", desk.path]
    running = [subprocess.Popen(command, stdout=subprocess.DEVNULL) for _ in range(4)]
    assert [process.wait() for process in running] == [0] * 4
    moved = [model for line in desk.records().lines for model in line.model_ids]
    assert sorted(moved) == list(range(1, 9))


def test_where_the_log_lies_when_nothing_is_said(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("LASTCOAT_DB", "XDG_DATA_HOME"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("HOME", str(tmp_path))
    from platformdirs import user_data_dir

    usual = Path(user_data_dir("lastcoat", appauthor=False)) / "lastcoat.db"
    assert Path(common.default_path()) == usual


def test_a_person_without_settings_pays_for_no_search_of_the_place(tmp_path: Path) -> None:
    clean = {key: value for key, value in os.environ.items() if key not in {"LASTCOAT_DB", "XDG_DATA_HOME"}}
    code = (
        "import sys; from tracker.cli.common import default_path; print(default_path());"
        " print(*sorted({'platformdirs', 'tempfile', 'random', 'ctypes'} & set(sys.modules)))"
    )
    done = subprocess.run(
        [sys.executable, "-c", code],
        env=clean | {"HOME": str(tmp_path)}, check=True, capture_output=True, text=True,
    )  # fmt: skip
    path, loaded = done.stdout.split("\n")[:2]
    assert path.startswith(str(tmp_path))
    assert loaded == ""
