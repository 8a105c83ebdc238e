"""`lastcoat serve`: its key is said once and stands nowhere else, and it is heard only where it says.

proc(5): the arguments of a process are for all to read (/proc/PID/cmdline), its sockets in /proc/net/tcp.
"""

from __future__ import annotations

import asyncio
import re
import signal
import socket
from pathlib import Path

import pytest
from aiohttp import ClientSession

from tests.cli.serve.serving import FIRST_SCREEN, a_log, children, let_in, program, server, socket_of
from tracker.cli.serve.place import take

PROC = Path("/proc")


def arguments(pid: int) -> bytes:
    """What everybody sees of a process: its words."""
    return (PROC / str(pid) / "cmdline").read_bytes()


def listening(pid: int) -> set[str]:
    """Addresses on which a process listens (proc(5), net/tcp: state 0A; hex, lowest byte first)."""
    mine = {str(one.readlink()) for one in (PROC / str(pid) / "fd").iterdir() if one.is_symlink()}
    found = set()
    for table in ("tcp", "tcp6", "udp", "udp6"):
        for row in (PROC / str(pid) / "net" / table).read_text().splitlines()[1:]:
            parts = row.split()
            if f"socket:[{parts[9]}]" in mine and (parts[3] == "0A" or table.startswith("udp")):
                host, _, port = parts[1].partition(":")
                found.add(f"{table} {socket.inet_ntoa(bytes.fromhex(host)[::-1])}:{int(port, 16)}")
    return found


def test_the_key_is_said_once_and_kept_nowhere(tmp_path: Path) -> None:
    desk = a_log(tmp_path)

    async def look() -> None:
        async with program(tmp_path, "--db", desk.path) as (process, address):
            key = address.partition("key=")[2]
            held = ""
            async with let_in(address) as session, socket_of(session, address) as page:
                held = next(iter(session.cookie_jar)).value
                await page.until(FIRST_SCREEN)
                seen = [arguments(pid) for pid in (process.pid, *children(process.pid))]
                assert len(seen) == 2, "the server and its screens"
                assert not any(secret.encode() in words for words in seen for secret in (key, held))
                base = address.partition("/?")[0]
                async with ClientSession() as second:
                    for path in (f"/?key={key}", f"/{key}", "/ws"):
                        async with second.get(base + path) as answer:
                            assert key not in await answer.text()
                            assert not any(key in said for said in answer.headers.values())
            process.send_signal(signal.SIGINT)
            out, err = await process.communicate()
            # The line with the address was read before; nothing after it says the key again.
            assert key not in out.decode() + err.decode()
            assert held not in out.decode() + err.decode()
            for file in tmp_path.rglob("*"):
                if file.is_file():
                    data = file.read_bytes()
                    assert key.encode() not in data, file
                    assert held.encode() not in data, file

    asyncio.run(look())


def test_it_listens_where_it_says_and_nowhere_else(tmp_path: Path) -> None:
    async def look() -> None:
        async with program(tmp_path) as (process, address):
            host, _, port = address.removeprefix("http://").partition("/")[0].partition(":")
            assert listening(process.pid) == {f"tcp {host}:{port}"}
            assert host == "127.0.0.1"

    asyncio.run(look())


def test_screens_in_the_browser_listen_nowhere(tmp_path: Path) -> None:
    desk = a_log(tmp_path)

    async def look() -> None:
        async with (
            program(tmp_path, "--db", desk.path) as (process, address),
            let_in(address) as session,
            socket_of(session, address) as page,
        ):
            await page.until(FIRST_SCREEN)
            (screens,) = children(process.pid)
            assert listening(screens) == set()

    asyncio.run(look())


def test_another_address_of_this_machine_does_not_answer() -> None:
    # RFC 1122, 3.2.1.3: all of 127/8 is this machine; only the one address was taken.
    with (
        (place := take("127.0.0.1", 0)).taken,
        socket.socket() as client,
        pytest.raises(ConnectionRefusedError),
    ):
        client.connect(("127.0.0.2", place.port))


OUTSIDE = (
    "/own/../server.py", "/own/%2e%2e/server.py", "/own/..%2fserver.py", "/own/%2e%2e%2f%2e%2e%2fmain.py",
    "/own/....//server.py", "/own/..\\\\server.py", "/own//etc/passwd", "/static/../../server.py",
    "/static/%2e%2e/%2e%2e/%2e%2e/%2e%2e/etc/passwd", "//etc/passwd", "/own/%00", "/own/page.js%00.css",
    "/own", "/own/", "/static", "/static/js/", "/download/../own/page.js", "/log.db",
    "/page.html", "/.git/config",
)  # fmt: skip
"""OWASP, Path Traversal (from memory): dots, encoded once, mixed separators, absolute, NUL."""


async def answer_of(base: str, request: str) -> bytes:
    """What is sent to a request that no client would write; a client would tidy its path first."""
    host, _, port = base.removeprefix("http://").partition(":")
    reader, writer = await asyncio.open_connection(host, int(port))
    writer.write(request.encode())
    await writer.drain()
    said = await reader.read(200_000)
    writer.close()
    return said


def test_only_what_is_ours_is_handed_out(tmp_path: Path) -> None:
    async def ask() -> None:
        async with server(a_log(tmp_path).path) as base, let_in(base) as session:
            cookie = "; ".join(f"{one.key}={one.value}" for one in session.cookie_jar)
            host = base.removeprefix("http://")
            for path in OUTSIDE:
                said = await answer_of(
                    base,
                    f"GET {path} HTTP/1.1\r\nHost: {host}\r\nCookie: {cookie}\r\nConnection: close\r\n\r\n",
                )
                status = re.match(rb"HTTP/1\.[01] (\d+)", said)
                assert status, path
                assert int(status[1]) in (400, 403, 404), (path, said[:200])
                for inside in (b"import ", b"root:", b"SQLite format", b"Index of", b"<li>"):
                    assert inside not in said, (path, inside)

    asyncio.run(ask())


@pytest.mark.parametrize(
    "lines",
    [
        ("GET / HTTP/1.1",),
        ("GET / HTTP/1.1", "Host: {host}", "Host: elsewhere.example"),
        ("GET http://elsewhere.example/ HTTP/1.1", "Host: elsewhere.example"),
        ("GET / HTTP/1.0",),
        ("GET / HTTP/1.1", "Host: {host}", "X-Forwarded-Host: {host}", "Origin: http://elsewhere.example"),
        ("OPTIONS / HTTP/1.1", "Host: {host}", "Origin: http://elsewhere.example"),
    ],
)
def test_a_request_without_our_name_or_from_another_page_gets_nothing(
    tmp_path: Path, lines: tuple[str, ...]
) -> None:
    # RFC 9112, 3.2: a request with no Host, or two of them, is answered with 400.
    async def ask() -> None:
        async with server(a_log(tmp_path).path) as base, let_in(base) as session:
            cookie = "; ".join(f"{one.key}={one.value}" for one in session.cookie_jar)
            words = [line.format(host=base.removeprefix("http://")) for line in lines]
            said = await answer_of(
                base, "\r\n".join((*words, f"Cookie: {cookie}", "Connection: close")) + "\r\n\r\n"
            )
            assert re.match(rb"HTTP/1\.[01] 4\d\d", said), said[:300]
            assert b"Access-Control-Allow-Origin" not in said

    asyncio.run(ask())
