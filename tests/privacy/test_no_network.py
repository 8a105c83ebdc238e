"""No command and no screen takes a step onto a network, and nothing but `serve` could.

PEP 578 (audit hooks); docs.python.org, "Audit events table". What libraries in other languages do is not
seen by the hook: run tests/privacy/no_network.py by hand under strace or without a network for that.
"""

from __future__ import annotations

import ast
import re
import subprocess
import sys
from pathlib import Path

import pytest

import tracker
from tests.docs.commands_page import every_command

ROOM = Path(tracker.__file__).parent
OF_NETWORKS = {
    "aiohttp", "asyncio.streams", "ftplib", "http", "httpx", "imaplib", "poplib", "requests", "smtplib",
    "socket", "socketserver", "ssl", "telnetlib", "textual_serve", "urllib", "urllib3", "webbrowser",
    "websockets", "xmlrpc",
}  # fmt: skip
WATCHED = """
from tests.privacy.no_network import watch
tried = watch()
import socket, urllib.request
for step in (
    lambda: socket.create_connection(("192.0.2.1", 9), 0.01),
    lambda: socket.socket(socket.AF_INET, socket.SOCK_DGRAM),
    lambda: socket.getaddrinfo("name.invalid", 80),
    lambda: urllib.request.urlopen("http://192.0.2.1/", timeout=0.01),
):
    try:
        step()
    except OSError:
        pass
print(len(tried))
"""


def test_no_command_and_no_screen_steps_onto_a_network() -> None:
    done = subprocess.run(
        [sys.executable, "-m", "tests.privacy.no_network"], capture_output=True, text=True, check=False
    )
    print(done.stdout)  # noqa: T201 - the figures of docs/reliability.md
    assert done.returncode == 0, done.stdout + done.stderr[-3000:]
    found = re.search(r"commands run: (\d+), screens opened: (\d+), steps onto a network: 0", done.stdout)
    assert found
    assert int(found[1]) == len(every_command()) - 1
    assert int(found[2]) >= 12


def test_a_step_would_have_been_seen() -> None:
    done = subprocess.run([sys.executable, "-c", WATCHED], capture_output=True, text=True, check=True)
    assert int(done.stdout) >= 4


def imported(path: Path) -> set[str]:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    names = {one.name for node in ast.walk(tree) if isinstance(node, ast.Import) for one in node.names}
    names |= {str(node.module) for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)}
    # urllib.parse takes addresses apart and opens none.
    return {name.partition(".")[0] for name in names - {"urllib.parse"}}


@pytest.mark.parametrize("room", sorted(one.name for one in ROOM.iterdir() if one.is_dir()))
def test_only_serve_knows_how_to_reach_a_network(room: str) -> None:
    knowing = {path for path in (ROOM / room).rglob("*.py") if imported(path) & OF_NETWORKS}
    assert {path.parent for path in knowing} <= {ROOM / "cli" / "serve"}
