"""A log made elsewhere opens here: what may differ between machines, as far as it can be tried on one.

An SQLite file is the same on every platform whatever its byte order (sqlite.org, Database File Format,
section 1.3: all numbers are big-endian; section 1.3.2 on the page size).
"""

from __future__ import annotations

import os
import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pytest

from tests.desks import with_spears
from tracker.domain.problems import DataError
from tracker.sheets.evenings import read_evenings, write_evenings
from tracker.store import other_log
from tracker.workbench.desk import Desk
from tracker.workbench.lines import Entry, log_line
from tracker.workbench.merging import merge_log
from tracker.workbench.units_plan import rename, set_plan
from tracker.workbench.whole import export_document, export_evenings

NAME = "İstanbul ΣΊΣΥΦΟΣ straße"
"""Letters whose small form depends on the language or on where they stand (Unicode, SpecialCasing.txt)."""
LOCALES = (
    {"LC_ALL": "C"},
    {"LC_ALL": "tr_TR.UTF-8"},
    {"LANG": "de_DE@euro"},
    {"PYTHONUTF8": "0", "LC_ALL": "C"},
    {"PYTHONUTF8": "0", "LC_ALL": "POSIX", "PYTHONCOERCECLOCALE": "0"},
)


def a_log(folder: Path) -> Desk:
    desk = with_spears(folder, 4)
    set_plan(desk, "Spears", {"note": "two\r\nlines, C:\\photos\\x"})
    rename(desk, "Spears", NAME)
    log_line(desk, Entry(NAME.swapcase(), "cleaning", models=2, minutes=0.1))
    return desk


def stored_otherwise(desk: Desk, *pragmas: str) -> None:
    """Write the file anew as another machine might have."""
    with closing(sqlite3.connect(desk.path, isolation_level=None)) as log:
        log.execute("PRAGMA journal_mode = DELETE")
        for pragma in pragmas:
            log.execute(f"PRAGMA {pragma}")
        log.execute("VACUUM")


@pytest.mark.parametrize("page_size", [512, 1024, 65536])
@pytest.mark.parametrize("vacuum", ["none", "full", "incremental"])
def test_other_page_sizes_and_journals_open(tmp_path: Path, page_size: int, vacuum: str) -> None:
    desk = a_log(tmp_path)
    before = export_document(desk)
    stored_otherwise(desk, f"page_size = {page_size}", f"auto_vacuum = {vacuum}")
    assert export_document(desk) == before
    log_line(desk, Entry(NAME, "cleaning", models=1))
    with closing(sqlite3.connect(desk.path)) as log:
        assert log.execute("PRAGMA page_size").fetchone() == (page_size,)
        assert log.execute("PRAGMA journal_mode").fetchone() == ("wal",)


def test_a_log_in_delete_journal_mode_is_merged_and_left_so(tmp_path: Path) -> None:
    there = a_log(tmp_path)
    stored_otherwise(there)
    content = Path(there.path).read_bytes()
    here = Desk(str(tmp_path / "here.db"))
    merge_log(here, there.path)
    assert Path(there.path).read_bytes() == content
    assert here.records() == there.records()


@pytest.mark.parametrize("locale", LOCALES)
def test_every_locale_reads_and_writes_the_same_bytes(tmp_path: Path, locale: dict[str, str]) -> None:
    desk = a_log(tmp_path)
    text = write_evenings(export_evenings(desk)).encode()
    plain = {key: value for key, value in os.environ.items() if not key.startswith(("LC_", "LANG", "PYTHON"))}
    program = [sys.executable, "-m", "tracker.cli.main"]

    def run(*words: str) -> subprocess.CompletedProcess[bytes]:
        return subprocess.run(
            [*program, *words, "--db", desk.path],
            env=plain | locale, capture_output=True, check=False, cwd=Path(__file__).parents[2],
        )  # fmt: skip

    assert run("export", "evenings", "-").stdout == text
    file = tmp_path / "evenings.csv"
    file.write_bytes(text)
    assert b"Nothing to store" in run("import", "evenings", str(file)).stdout
    # A shell that was told not to know UTF-8 cannot say the name: that is one line, and nothing is stored.
    said = run("log", "--unit", NAME.swapcase(), "--step", "cleaning")
    assert (said.returncode, said.stderr.count(b"\n")) == (1, 1) or said.returncode == 0
    assert said.returncode == 0 or "PYTHONUTF8" in locale
    assert len(desk.records().units) == 1


def test_line_ends_of_every_platform_read_the_same(tmp_path: Path) -> None:
    desk = with_spears(tmp_path, 4)
    log_line(desk, Entry("Spears", "cleaning", models=2, note="kept"))
    text = write_evenings(export_evenings(desk))
    ends = "\r\n" if "\r\n" in text else "\n"
    rows = [read_evenings(text.replace(ends, end), today=desk.today()).rows for end in ("\n", "\r\n", "\r")]
    assert rows[0] == rows[1] == rows[2] != ()


def test_texts_keep_their_line_ends_and_paths(tmp_path: Path) -> None:
    assert a_log(tmp_path).records().units[0].note == "two\r\nlines, C:\\photos\\x"


def test_a_log_on_a_medium_that_cannot_be_written_is_still_merged(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """SQLite refuses to read a write-ahead log's database there (sqlite.org, WAL, "Read-Only Databases")."""
    there = a_log(tmp_path)
    copy = other_log._copy

    def read_only_medium(path: str, target: str, how: str) -> None:
        if "immutable" not in how:
            raise sqlite3.OperationalError("unable to open database file")
        copy(path, target, how)

    monkeypatch.setattr(other_log, "_copy", read_only_medium)
    here = Desk(str(tmp_path / "here.db"))
    merge_log(here, there.path)
    assert len(here.records().models) == 4


def test_a_log_that_cannot_be_written_is_one_clear_line(tmp_path: Path) -> None:
    desk = a_log(tmp_path)

    def on_a_medium_that_cannot_be_written() -> None:
        with desk.open() as store:
            store.connection.execute("PRAGMA query_only = ON")
            with store.change("note"):
                pass

    with pytest.raises(DataError, match="cannot be written"):
        on_a_medium_that_cannot_be_written()
    assert len(desk.records().lines) == 1
