"""`lastcoat backup` and `lastcoat restore`: what is printed."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from tests.desks import with_spears
from tracker.cli.main import main
from tracker.report.backup_words import size_words, why_words
from tracker.workbench.desk import Desk
from tracker.workbench.lines import Entry, log_line


def run(desk: Desk, *words: str, status: int = 0) -> Result:
    done = CliRunner().invoke(main, list(words), obj=desk)
    assert done.exit_code == status, done.output
    return done


@pytest.fixture
def desk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Desk:
    monkeypatch.setenv("LASTCOAT_CONFIG", str(tmp_path / "config.toml"))
    monkeypatch.delenv("LASTCOAT_BACKUPS", raising=False)
    return with_spears(tmp_path)


def test_none_one_and_two(desk: Desk, tmp_path: Path) -> None:
    folder = tmp_path / "log-backups"
    assert run(desk, "backup", "--list").stdout == f"There is no backup yet in {folder}\n"
    name = "log-20260310-213000-by-hand.db"
    assert run(desk, "backup").stdout.startswith(f"Backed up to {folder / name} (0.")
    log_line(desk, Entry("Spears", "cleaning"))
    run(desk, "backup")
    head, newest, oldest = run(desk, "backup", "--list").stdout.splitlines()[:3]
    assert head.split() == ["made", "size", "schema", "units", "lines", "why", "name"]
    assert newest.split()[5:] == ["1", "1", "by", "hand", name.replace(".db", "-2.db")]
    assert oldest.split()[5:] == ["1", "0", "by", "hand", name]


def test_the_list_as_json(desk: Desk, tmp_path: Path) -> None:
    run(desk, "backup")
    said = json.loads(run(desk, "backup", "--list", "--json").stdout)
    assert said["folder"] == str(tmp_path / "log-backups")
    (one,) = said["backups"]
    assert (one["when"], one["why"], one["units"], one["lines"]) == ("2026-03-10T21:30:00", "by-hand", 1, 0)


def test_a_changed_folder(desk: Desk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    run(desk, "config", "set", "backup_folder", str(tmp_path / "set"))
    assert str(tmp_path / "set") in run(desk, "backup").stdout
    monkeypatch.setenv("LASTCOAT_BACKUPS", str(tmp_path / "said"))
    assert str(tmp_path / "said") in run(desk, "backup").stdout
    refused = run(desk, "config", "set", "backup_folder", "not/whole", status=2)
    assert "Write the whole path of a folder" in refused.stderr


def test_a_restore_says_what_differs_and_how_to_go_back(desk: Desk) -> None:
    run(desk, "backup")
    log_line(desk, Entry("Spears", "cleaning"))
    assert run(desk, "restore", "--dry-run").stdout.splitlines() == [
        "Would restore log-20260310-213000-by-hand.db: 1 unit, 0 lines.",
        "The log holds 1 unit, 1 line.",
        "Nothing is changed.",
    ]
    said = json.loads(run(desk, "restore", "--json").stdout)
    assert (said["then"], said["now"]) == ({"units": 1, "lines": 0}, {"units": 1, "lines": 1})
    back = run(desk, "restore", said["kept"]).stdout
    assert back.startswith(f"Restored {said['kept']}: 1 unit, 1 line.\nThe log held 1 unit, 0 lines.\n")
    assert "To go back: lastcoat restore log-2026" in back


def test_refusals_are_one_line(desk: Desk) -> None:
    for words, status in ((["restore"], 1), (["restore", "nothing"], 1), (["backup", "x", "--list"], 2)):
        assert len(run(desk, *words, status=status).stderr.splitlines()) == 1


@pytest.mark.parametrize(
    ("why", "words"),
    [("daily", "first change of the evening"), ("before-import", "before an import"),
     ("before-merge", "before a merge"), ("schema-5", "before the schema after 5"), ("else", "else")],
)  # fmt: skip
def test_why(why: str, words: str) -> None:
    assert why_words(why) == words


def test_sizes() -> None:
    # IEC 80000-13: a megabyte is 10^6 bytes.
    assert [size_words(size) for size in (1, 1_540_000, 2_000_000)] == ["0.1 MB", "1.5 MB", "2.0 MB"]
