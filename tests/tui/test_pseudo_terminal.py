"""The installed program in a real pseudo-terminal: an evening by keys, a kill in the middle of the next."""

from __future__ import annotations

import fcntl
import os
import pty
import select
import shutil
import signal
import struct
import sys
import termios
import time
from collections.abc import Callable
from pathlib import Path
from types import TracebackType

import pytest

from tests.tui.driving import a_small_log
from tracker.workbench.desk import Desk
from tracker.workbench.drafts import draft
from tracker.workbench.lamp import lamp_state

PATIENCE_SECONDS = 20.0
ENTER, ESCAPE = "\r", "\x1b"


class Terminal:
    """The program in a terminal of 80 by 24, its output read until what is waited for was drawn."""

    def __init__(self, path: str, folder: Path, size: tuple[int, int] = (24, 80)) -> None:
        self.seen = b""
        self.told = 0
        """Bytes that were drawn in all."""
        self.ended = False
        self.pid, self.screen = pty.fork()
        if self.pid == 0:
            env = os.environ | {
                "TERM": "xterm-256color", "LASTCOAT_DB": path, "LASTCOAT_CONFIG": str(folder / "c.toml"),
            }  # fmt: skip
            os.execve(program(), [program()], env)  # noqa: S606 - the program itself
        fcntl.ioctl(self.screen, termios.TIOCSWINSZ, struct.pack("HHHH", *size, 0, 0))

    def __enter__(self) -> Terminal:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        if not self.ended:
            os.kill(self.pid, signal.SIGKILL)
            self.drop()

    def until(self, words: str) -> None:
        """Read until these words were drawn since the last wait."""
        while words.encode() not in self.seen:
            drawn = self._drawn(repr(words))
            assert drawn, f"it ended without {words!r}: {self.seen[-2000:]!r}"
            self.seen += drawn
            self.told += len(drawn)
        self.seen = b""

    def press(self, keys: str) -> None:
        """Keys as a terminal sends them."""
        os.write(self.screen, keys.encode())

    def stop(self, how: signal.Signals) -> int:
        """Send a signal; the exit status, or minus the signal's number."""
        os.kill(self.pid, how)
        return self.end()

    def end(self) -> int:
        """Read to the end; the exit status, or minus the signal's number."""
        while drawn := self._drawn("the end"):
            self.told += len(drawn)
        self.ended = True
        os.close(self.screen)
        return os.waitstatus_to_exitcode(os.waitpid(self.pid, 0)[1])

    def drop(self) -> None:
        """The connection is gone, and with it the program."""
        os.close(self.screen)
        self.ended = True
        wait_for(lambda: os.waitpid(self.pid, os.WNOHANG)[0] == self.pid)

    def _drawn(self, awaited: str) -> bytes:
        """What is drawn next; nothing once the program has closed the terminal."""
        ready = select.select([self.screen], [], [], PATIENCE_SECONDS)[0]
        assert ready, f"{awaited} did not come: {self.seen[-2000:]!r}"
        try:
            return os.read(self.screen, 65536)
        except OSError:
            return b""


def wait_for(what: Callable[[], bool]) -> None:
    """Ask again and again until it is so."""
    end = time.monotonic() + PATIENCE_SECONDS
    while not what():
        assert time.monotonic() < end


def program() -> str:
    """The installed program."""
    found = shutil.which("lastcoat", path=str(Path(sys.executable).parent))
    assert found is not None
    return found


def a_log(folder: Path) -> Desk:
    """The small log, and the clock of the system."""
    return Desk(a_small_log(folder).path)


def test_an_evening_by_keys_and_a_kill_in_the_middle_of_the_next(tmp_path: Path) -> None:
    desk = a_log(tmp_path)
    with Terminal(desk.path, tmp_path) as it:
        it.until("You can take up")
        it.press("e")
        it.until("Esc")
        it.press("45")
        it.until("45 min (")
        it.press(ENTER)
        it.until("Logged:")
        it.press("l")
        it.until("Good evening.")
        it.press("e")
        it.until("Esc")
        it.press("glued 2 sp")
        wait_for(lambda: draft(desk) == "glued 2 sp")
        assert it.stop(signal.SIGKILL) == -signal.SIGKILL
    lines = desk.records().lines
    assert len(lines) == 4
    assert (lines[-1].step, lines[-1].models, lines[-1].minutes) == ("cleaning", 4, 45.0)
    assert lamp_state(desk).state == "on"
    with Terminal(desk.path, tmp_path) as it:
        it.until("glued 2 sp")
        it.press("e")
        it.until("Esc")
        it.press("ears, 20 min")
        it.until("20 min (")
        it.press(ENTER)
        it.until("Logged:")
        it.press("q")
        assert it.end() == 0
    assert desk.records().lines[-1].step == "assembly"
    assert draft(desk) == ""


@pytest.mark.parametrize("how", [signal.SIGTERM, signal.SIGHUP])
def test_it_closes_cleanly_when_it_is_told_to(how: signal.Signals, tmp_path: Path) -> None:
    desk = a_log(tmp_path)
    with Terminal(desk.path, tmp_path) as it:
        it.until("You can take up")
        it.press("e")
        it.until("Esc")
        it.press("glued 2 sp")
        wait_for(lambda: draft(desk) == "glued 2 sp")
        assert it.stop(how) == 0
    assert draft(desk) == "glued 2 sp"


def test_ctrl_c_closes_it_and_a_dropped_connection_loses_nothing(tmp_path: Path) -> None:
    desk = a_log(tmp_path)
    with Terminal(desk.path, tmp_path) as it:
        it.until("You can take up")
        it.press("e")
        it.until("Esc")
        it.press("glued 3 sp")
        wait_for(lambda: draft(desk) == "glued 3 sp")
        it.press("\x03")
        assert it.end() == 0
    assert draft(desk) == "glued 3 sp"
    with Terminal(desk.path, tmp_path) as it:
        it.until("glued 3 sp")
        it.drop()
    assert draft(desk) == "glued 3 sp"
    assert len(desk.records().lines) == 3


def test_a_terminal_that_does_not_tell_its_size_is_left_in_peace(tmp_path: Path) -> None:
    desk = a_log(tmp_path)
    with Terminal(desk.path, tmp_path, (0, 0)) as it:
        it.until("You can take up")
        it.press("q")
        assert it.end() == 0
        assert it.told < 200_000


@pytest.mark.parametrize("term", ["dumb", ""])
def test_a_terminal_that_can_show_no_screen_gets_plain_text(term: str, tmp_path: Path) -> None:
    import subprocess

    desk = a_log(tmp_path)
    first, second = pty.openpty()
    try:
        done = subprocess.run(
            [program()], env=os.environ | {"TERM": term, "LASTCOAT_DB": desk.path},
            stdin=second, stdout=subprocess.PIPE, stderr=second, text=True, check=True,
        )  # fmt: skip
    finally:
        os.close(first)
        os.close(second)
    assert done.stdout.startswith("Ready to work on")
