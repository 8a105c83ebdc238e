"""What the program loads before its first paint, seen in a process of its own."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from tests.tui.driving import a_small_log
from tracker.workbench.answers import forecast

HEAVY = ("numpy", "scipy", "plotly", "pandas", "sqlite_utils", "dateutil", "jinja2", "icalendar")
PAINT = """
import asyncio, sys
from tracker.tui.app import Lastcoat
from tracker.workbench.desk import Desk
seen = set()

def begin(self):
    seen.update(name.partition(".")[0] for name in sys.modules)

async def main():
    Lastcoat._begin = begin
    async with Lastcoat(Desk(sys.argv[1])).run_test(size=(80, 24)) as pilot:
        while not seen:  # painted once the machine has time for it
            await pilot.pause()
        print(*sorted(seen))

asyncio.run(main())
"""


def test_nothing_heavy_is_loaded_before_the_first_paint(tmp_path: Path) -> None:
    desk = a_small_log(tmp_path)
    forecast(desk)
    done = subprocess.run(
        [sys.executable, "-c", PAINT, desk.path], capture_output=True, text=True, check=True
    )
    loaded = set(done.stdout.split())
    assert "textual" in loaded
    assert loaded.isdisjoint(HEAVY)


def test_the_screens_know_only_the_workbench_the_report_and_the_domain() -> None:
    import tracker.tui

    folder = Path(str(tracker.tui.__file__)).parent
    words = [
        line.split()[1]
        for path in folder.rglob("*.py")
        for line in path.read_text(encoding="utf-8").splitlines()
        if line.lstrip().startswith(("from tracker.", "import tracker."))
    ]
    rooms = {word.split(".")[1] for word in words}
    assert rooms <= {"tui", "workbench", "report", "domain"}
    text = "\n".join(path.read_text(encoding="utf-8") for path in folder.rglob("*.py"))
    assert not any(word in text for word in ("SELECT ", "import numpy", " round(", "markup=True"))


def test_the_app_stays_tiny() -> None:
    from tracker.tui import app

    assert len(Path(str(app.__file__)).read_text(encoding="utf-8").splitlines()) < 100
