"""`lastcoat calendar` and the figures of `lastcoat report`, as a person types them."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from tests.desks import with_spears
from tracker.cli.main import main
from tracker.workbench.desk import Desk


def run(desk: Desk, *words: str) -> Result:
    return CliRunner().invoke(main, [*words], obj=desk)


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return with_spears(tmp_path)


def test_it_says_what_it_wrote(desk: Desk, tmp_path: Path) -> None:
    file = tmp_path / "desk.ics"
    done = run(desk, "calendar", str(file), "--at", "20:00", "--draws", "200")
    assert done.exit_code == 0, done.output
    assert done.output.startswith(f"Wrote {file}: no goals, no plans, no ready dates, no ends of drying.")
    assert "two weeks" in done.output
    assert file.read_bytes().startswith(b"BEGIN:VCALENDAR\r\n")


@pytest.mark.parametrize("said", ["noon", "25:00", "20", "20:61", ":", "20:00:00", "-1:30"])
def test_a_time_that_is_none_is_one_line(desk: Desk, tmp_path: Path, said: str) -> None:
    done = run(desk, "calendar", str(tmp_path / "desk.ics"), f"--at={said}")
    assert done.exit_code == 2
    assert "no time of day" in done.output
    assert not (tmp_path / "desk.ics").exists()


def test_another_file_is_never_written_over(desk: Desk, tmp_path: Path) -> None:
    notes = tmp_path / "notes.txt"
    notes.write_text("my recipes", encoding="utf-8")
    done = run(desk, "calendar", str(notes))
    assert (done.exit_code, notes.read_text(encoding="utf-8")) == (2, "my recipes")
    assert "holds something else than a calendar" in done.output


def test_the_figures_lie_in_their_folder(desk: Desk, tmp_path: Path) -> None:
    page, folder = tmp_path / "page.html", tmp_path / "figures"
    for _ in range(2):
        done = run(desk, "report", str(page), "--figures", str(folder), "--draws", "200")
        assert done.exit_code == 0, done.output
    names = sorted(path.name for path in folder.iterdir())
    assert "ready.svg" in names
    assert all(name.endswith(".svg") for name in names)
    assert done.output == f"Wrote {page} and {len(names)} figures in {folder}\n"


def test_a_file_is_no_folder_for_figures(desk: Desk, tmp_path: Path) -> None:
    notes = tmp_path / "notes.txt"
    notes.write_text("my recipes", encoding="utf-8")
    done = run(desk, "report", str(tmp_path / "page.html"), "--figures", str(notes))
    assert done.exit_code == 2
    assert not (tmp_path / "page.html").exists()
    (tmp_path / "figures").mkdir()
    (tmp_path / "figures" / "ready.svg").write_text("my own drawing", encoding="utf-8")
    done = run(desk, "report", str(tmp_path / "page.html"), "--figures", str(tmp_path / "figures"))
    assert done.exit_code == 2
    assert not (tmp_path / "page.html").exists()


def test_its_help_loads_nothing_heavy() -> None:
    code = (
        "import sys\n"
        "from click.testing import CliRunner\n"
        "from tracker.cli.main import main\n"
        "assert CliRunner().invoke(main, ['calendar', '--help']).exit_code == 0\n"
        "print(sorted({'numpy', 'icalendar', 'dateutil', 'jinja2', 'sqlite3'} & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
