"""First paint and key to repaint in a pseudo-terminal, from ten years: python -m tests.benchmarks.tui.

The floor is a minimal program of the same framework with a header, a footer and a table of 200 rows, in the
same run. Keys are timed at rest and while a forecast is worked out. It never passes or fails.
"""

from __future__ import annotations

import fcntl
import os
import pty
import select
import struct
import sys
import tempfile
import termios
import time
from pathlib import Path
from statistics import median, quantiles
from typing import NamedTuple

from tests.benchmarks.ten_years import ten_years
from tracker.domain.rows import RosterRow
from tracker.workbench.adding import add_unit
from tracker.workbench.answers import forecast
from tracker.workbench.desk import Desk
from tracker.workbench.evenings_in import import_evenings
from tracker.workbench.roster_in import import_roster

ROUNDS = 7
KEYS = 60
QUIET_SECONDS = 0.25
FLOOR = """
from textual.app import App
from textual.widgets import DataTable, Footer, Header

class Floor(App):
    BINDINGS = [("q", "quit", "Quit")]

    def compose(self):
        yield Header()
        yield DataTable(cursor_type="row")
        yield Footer()

    def on_mount(self):
        table = self.query_one(DataTable)
        table.add_columns("one", "two", "three", "four", "five")
        table.add_rows([[f"row {n}", n, n * 2, n * 3, "plain"] for n in range(200)])
        table.focus()

Floor().run()
"""
OURS = "import sys; from tracker.cli.main import main; sys.argv[0] = 'lastcoat'; main(prog_name='lastcoat')"


class Times(NamedTuple):
    """Seconds of one run."""

    paint: float
    page: float
    """Until the page itself was there; for the floor the same as its first paint."""
    keys: list[float]


class Run:
    """A program in a terminal of 120 by 40."""

    def __init__(self, code: str, *words: str) -> None:
        self.began = time.perf_counter()
        self.pid, self.screen = pty.fork()
        if self.pid == 0:
            env = os.environ | {"TERM": "xterm-256color", "LASTCOAT_CONFIG": "/nowhere/config.toml"}
            env.pop("PYTHONDONTWRITEBYTECODE", None)
            os.execve(sys.executable, [sys.executable, "-c", code, *words], env)  # noqa: S606
        fcntl.ioctl(self.screen, termios.TIOCSWINSZ, struct.pack("HHHH", 40, 120, 0, 0))

    def until(self, words: str) -> float:
        """Seconds since the start until these words were drawn."""
        seen = b""
        while words.encode() not in seen:
            seen += os.read(self.screen, 65536)
        return time.perf_counter() - self.began

    def rest(self) -> None:
        """Read until nothing is drawn any more."""
        while select.select([self.screen], [], [], QUIET_SECONDS)[0]:
            os.read(self.screen, 65536)

    def key(self, key: str) -> float:
        """Seconds from a key to the first of what it draws."""
        while select.select([self.screen], [], [], 0.02)[0]:
            os.read(self.screen, 65536)
        began = time.perf_counter()
        os.write(self.screen, key.encode())
        os.read(self.screen, 65536)
        return time.perf_counter() - began

    def close(self) -> None:
        """End it."""
        os.kill(self.pid, 9)
        os.waitpid(self.pid, 0)
        os.close(self.screen)


def one(code: str, words: tuple[str, ...], first: str, page: str, *, busy: bool = False) -> Times:
    """Start, wait for the first paint and the page, press keys."""
    run = Run(code, *words)
    paint = run.until(first)
    there = paint if page == first else run.until(page)
    if not busy:
        run.rest()
    keys = [run.key("\x1b[B" if n % 20 < 10 else "\x1b[A") for n in range(KEYS)]
    run.close()
    return Times(paint, there, keys)


def tell(name: str, runs: list[Times], floor: list[Times]) -> None:
    """Print medians, and multiples of the floor."""
    keys, floor_keys = ([key for run in some for key in run.keys] for some in (runs, floor))
    tenths = quantiles(keys, n=20)
    paint, page = median(run.paint for run in runs), median(run.page for run in runs)
    floor_paint = median(run.paint for run in floor)
    sys.stdout.write(
        f"{name:<34} first paint {1000 * paint:6.0f} ms {paint / floor_paint:5.2f} x"
        f"   page {1000 * page:6.0f} ms {page / floor_paint:5.2f} x"
        f"   key {1000 * median(keys):5.1f} ms {median(keys) / median(floor_keys):5.2f} x"
        f"   90 % {1000 * tenths[17]:5.1f}   95 % {1000 * tenths[18]:5.1f}"
        f"   most {1000 * max(keys):5.1f} ms\n"
    )


def main() -> None:
    """Build ten years, measure and print."""
    with tempfile.TemporaryDirectory() as place:
        desk = Desk(str(Path(place) / "log.db"))
        decade = ten_years()
        import_roster(desk, decade.roster)
        import_evenings(desk, decade.evenings)
        forecast(desk)
        floor, kept, fresh = [], [], []
        words = ("--db", desk.path)
        for number in range(ROUNDS + 1):
            runs = [
                one(FLOOR, (), "row 30", "row 30"),
                one(OURS, words, "The lamp is off", "You can take up"),
            ]
            add_unit(desk, RosterRow(f"New {number}", 1))
            runs.append(one(OURS, words, "The lamp is off", "You can take up", busy=True))
            forecast(desk)
            if number:
                floor.append(runs[0])
                kept.append(runs[1])
                fresh.append(runs[2])
        tell("header, footer, table of 200 rows", floor, floor)
        tell("ten years, dates kept", kept, floor)
        tell("ten years, dates being worked out", fresh, floor)


if __name__ == "__main__":
    main()
