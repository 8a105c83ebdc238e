"""Every example of the help, the demo and every screen, run where any step onto a network is refused.

    python -m tests.privacy.no_network            watched by an audit hook of the interpreter (PEP 578)
    strace -f -e trace=network -o FILE python -m tests.privacy.no_network
    unshare -rn python -m tests.privacy.no_network

The hook sees what the interpreter's own modules do; the two others see (or refuse) what libraries in other
languages would do as well. It prints what was run and what was tried.
"""

from __future__ import annotations

import asyncio
import os
import socket
import sys
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import NamedTuple

import pytest

REFUSED = (
    "socket.connect", "socket.bind", "socket.getaddrinfo", "socket.gethostbyname", "socket.gethostbyaddr",
    "socket.getnameinfo", "socket.sendto", "socket.sendmsg", "urllib.Request", "http.client.connect",
    "ftplib.connect", "smtplib.connect", "poplib.connect", "imaplib.open", "telnetlib.Telnet.open",
    "webbrowser.open", "os.system", "os.exec", "os.posix_spawn", "os.fork",
    "os.spawn",
)  # fmt: skip
"""Audit events of docs.python.org, "Audit events table": networks, and other programs that could use one."""
PAGES = "tadbp"
"""Keys of the pages that lie side by side."""
SHEETS = ("P", "S", "C", "G", "E", "exclamation_mark", "question_mark")
"""Keys that lay a screen on top."""
OF_A_UNIT = ("unit", "ranks", "photos", "recipes")
"""Screens of one unit."""


SHELL_ASKED = "bash"
"""The one program that is started: `completion bash` asks the shell for its version."""


class Found(NamedTuple):
    """What was run, and what it tried."""

    commands: int
    screens: int
    tried: tuple[str, ...]


def watch() -> list[str]:
    """Refuse and write down every step onto a network from now on; it cannot be taken back (PEP 578)."""
    tried: list[str] = []

    def hook(event: str, args: tuple[object, ...]) -> None:
        is_foreign = event == "socket.__new__" and args[1] not in (-1, getattr(socket, "AF_UNIX", -1))
        is_program = event == "subprocess.Popen" and Path(str(args[0])).name != SHELL_ASKED
        if event in REFUSED or is_foreign or is_program:
            tried.append(f"{event} {args[1:]!r}"[:200])
            raise PermissionError(f"{event} is not allowed here")

    sys.addaudithook(hook)
    return tried


def run_commands(folder: Path) -> int:
    """Every example of every command but `serve`, and the demo; how many commands."""
    from tests.docs.commands_page import every_command
    from tests.docs.test_commands import test_the_examples_work
    from tracker.workbench.demo import answer_demo, make_demo

    names = [name for name in every_command() if name not in ("demo", "serve")]
    for name in names:
        here = folder / name.replace(" ", "-")
        here.mkdir()
        with pytest.MonkeyPatch.context() as patch:
            test_the_examples_work(name, here, patch)
    answer_demo(make_demo(folder / "demo"))
    return len(names) + 1


async def open_screens(folder: Path) -> int:
    """Every page and sheet that a key opens, an evening logged, the lamp; how many screens were seen."""
    from tests.tui.driving import a_small_log, opened

    seen = set()
    (folder / "screens").mkdir()
    async with opened(a_small_log(folder / "screens")) as driver:
        for page in PAGES:
            await driver.press(page)
            seen.add(driver.screen)
            for sheet in SHEETS:
                await driver.press(sheet)
                seen.add(driver.screen)
                await driver.press("escape")
        for name in OF_A_UNIT:
            driver.app.open(name, "Spears", "My army")
            await driver.settle()
            seen.add(driver.screen)
            await driver.press("escape")
        await driver.press("t", "l", "e")
        await driver.type("cleaned 1 spears, 5 min")
        await driver.press("enter")
        await driver.press("l", "escape", "u")
    return len(seen)


def main() -> Found:
    """Run all of it, watched; prints the figures."""
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    tried = watch()
    with TemporaryDirectory() as folder:
        os.environ["LASTCOAT_CONFIG"] = str(Path(folder) / "config.toml")
        commands = run_commands(Path(folder))
        screens = asyncio.run(open_screens(Path(folder)))
    print(f"commands run: {commands}, screens opened: {screens}, steps onto a network: {len(tried)}")  # noqa: T201
    for line in tried:
        print(line)  # noqa: T201
    return Found(commands, screens, tuple(tried))


if __name__ == "__main__":
    sys.exit(bool(main().tried))
