"""A server in this process, and the program `lastcoat serve` as one of its own, with a client for both."""

from __future__ import annotations

import asyncio
import os
import re
import signal
import subprocess
import sys
import time
from asyncio.subprocess import Process
from collections.abc import AsyncIterator, Awaitable, Callable
from contextlib import asynccontextmanager
from pathlib import Path

from aiohttp import ClientSession, ClientWebSocketResponse, CookieJar, WSMsgType, web

from tests.tui.driving import a_small_log
from tracker.cli.serve.door import Door
from tracker.cli.serve.place import take
from tracker.cli.serve.screens import started
from tracker.cli.serve.server import DeskServer
from tracker.workbench.desk import Desk

PATIENCE_SECONDS = 120
KEY = "a-key-of-a-test"
FIRST_SCREEN = "You can take up"


def a_log(folder: Path) -> Desk:
    """The small log, and the clock of the system."""
    return Desk(a_small_log(folder).path)


@asynccontextmanager
async def server(path: str) -> AsyncIterator[str]:
    """Serve a log in this process; gives the address without its key."""
    with (place := take("127.0.0.1", 0)).taken:
        desk_server = DeskServer(started(path), Door(place.names, KEY), place.port)
        runner = web.AppRunner(desk_server.app(), access_log=None)
        await runner.setup()
        await web.SockSite(runner, place.taken).start()
        try:
            yield f"http://127.0.0.1:{place.port}"
        finally:
            await runner.cleanup()


def _hears_of_its_terminal() -> None:
    """Tests that are started to outlive their terminal would hand that on (nohup(1))."""
    signal.signal(signal.SIGHUP, signal.SIG_DFL)


@asynccontextmanager
async def program(folder: Path, *words: str) -> AsyncIterator[tuple[Process, str]]:
    """Start `lastcoat serve` on the log of the folder; gives the process and the address with its key."""
    env = os.environ | {"LASTCOAT_DB": str(folder / "log.db"), "LASTCOAT_CONFIG": str(folder / "c.toml")}
    process = await asyncio.create_subprocess_exec(
        sys.executable, "-m", "tracker.cli.main", "serve", "--port", "0", *words,
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, env=env, preexec_fn=_hears_of_its_terminal,
    )  # fmt: skip
    assert process.stdout is not None
    try:
        async with asyncio.timeout(PATIENCE_SECONDS):
            said = (await process.stdout.readline()).decode()
            found = re.search(r"http://\S+", said)
            assert found, said
            yield process, found[0]
    finally:
        if process.returncode is None:
            process.kill()
        await process.communicate()


@asynccontextmanager
async def let_in(address: str) -> AsyncIterator[ClientSession]:
    """A client that used the key; cookies of an address without a name are kept as well."""
    base, _, key = address.partition("/?key=")
    async with ClientSession(cookie_jar=CookieJar(unsafe=True)) as session:
        async with session.get(f"{base}/?key={key or KEY}") as answer:
            assert answer.status == 200, await answer.text()
        yield session


class Socket:
    """The socket of a page: keys go out, what is drawn comes in."""

    def __init__(self, opening: Awaitable[ClientWebSocketResponse]) -> None:
        self._opening = opening
        self._drawn = ""

    async def open(self) -> Socket:
        """Open it; it need not be closed where the server ends."""
        self.socket: ClientWebSocketResponse = await self._opening
        return self

    async def __aenter__(self) -> Socket:
        return await self.open()

    async def __aexit__(self, *_: object) -> None:
        await self.socket.close()

    async def until(self, words: str) -> None:
        """Read until these words were drawn since the last wait."""
        async with asyncio.timeout(PATIENCE_SECONDS):
            while words not in self._drawn:
                message = await self.socket.receive()
                assert message.type in (WSMsgType.BINARY, WSMsgType.TEXT), (message, self._drawn)
                if message.type == WSMsgType.BINARY:
                    self._drawn += re.sub(
                        r"\x1b\[[0-9;?]*[a-zA-Z]", "", message.data.decode("utf-8", "replace")
                    )
        self._drawn = ""

    async def press(self, keys: str) -> None:
        """Keys as the page sends them."""
        await self.socket.send_json(["stdin", keys])

    async def ended(self) -> int | None:
        """Read to the end; the reason that was given (RFC 6455, 7.4)."""
        async with asyncio.timeout(PATIENCE_SECONDS):
            async for _ in self.socket:
                pass
        return self.socket.close_code


def socket_of(session: ClientSession, address: str) -> Socket:
    """The page's socket, as the page opens it."""
    base = address.partition("/?")[0]
    return Socket(session.ws_connect(f"{base}/ws?width=80&height=24", headers={"Origin": base}))


def wait_for(what: Callable[[], bool]) -> None:
    """Ask again and again until it is so."""
    end = time.monotonic() + PATIENCE_SECONDS
    while not what():
        assert time.monotonic() < end


async def comes(what: Callable[[], bool]) -> None:
    """Likewise, while the rest goes on."""
    await asyncio.to_thread(wait_for, what)


def children(pid: int) -> list[int]:
    """Processes that were started by this one and run (POSIX: ps -A -o)."""
    told = subprocess.run(["ps", "-A", "-o", "pid=,ppid=,stat="], capture_output=True, text=True, check=True)
    rows = [line.split() for line in told.stdout.splitlines()]
    return [int(row[0]) for row in rows if int(row[1]) == pid and not row[2].startswith("Z")]


def runs(pid: int) -> bool:
    """Whether a process still does anything."""
    told = subprocess.run(
        ["ps", "-p", str(pid), "-o", "stat="], capture_output=True, text=True, check=False
    ).stdout.strip()
    return bool(told) and not told.startswith("Z")
