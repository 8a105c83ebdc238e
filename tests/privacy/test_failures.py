"""A mistake of the program itself is one line that holds nothing of the log."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from tests.tui.driving import a_small_log
from tracker.report.crash_words import crash_line

FAILING = """
import asyncio, sys
from tracker.tui.app import Lastcoat
from tracker.workbench.desk import Desk

async def fail(self):
    note = "zqsecret of the log"
    raise KeyError(note)

async def main():
    app = Lastcoat(Desk(sys.argv[1]))
    app.action_quit = fail.__get__(app)
    app.call_later(app.action_quit)
    await app.run_async(headless=True)
    print("status", app.return_code)

asyncio.run(main())
"""


def test_screens_that_fail_print_one_line_without_the_log(tmp_path: Path) -> None:
    desk = a_small_log(tmp_path)
    done = subprocess.run(
        [sys.executable, "-c", FAILING, desk.path], capture_output=True, text=True, check=False
    )
    told = done.stdout + done.stderr
    assert "status 1" in done.stdout, told
    assert "failed by a mistake of its own: KeyError" in " ".join(told.split())
    assert "zqsecret" not in told
    assert "Spears" not in told
    assert "Traceback" not in told


def test_the_line_names_the_place_and_not_what_was_said() -> None:
    try:
        int("zqsecret")
    except ValueError as error:
        said = crash_line(error)
    assert said.count("\n") == 0
    assert "ValueError" in said
    assert "zqsecret" not in said
    assert crash_line(RuntimeError("zqsecret")).startswith("Lastcoat failed by a mistake of its own: Runtime")
