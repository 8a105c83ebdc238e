"""The server with a plain client: what is refused, what is handed out, how a sitting ends."""

from __future__ import annotations

import asyncio
import logging
import re
import sys
from collections.abc import Iterator
from contextlib import AsyncExitStack
from pathlib import Path

import pytest
from aiohttp import ClientSession, WSCloseCode, WSServerHandshakeError
from textual_serve.download_manager import DownloadManager

import tracker.cli.serve.server as module
from tests.cli.serve.serving import FIRST_SCREEN, KEY, a_log, comes, let_in, server, socket_of
from tracker.cli.serve import sitting
from tracker.cli.serve.door import NO_KEY, OTHER_NAME, OTHER_PAGE, SPENT
from tracker.cli.serve.sitting import Sitting
from tracker.domain.problems import DataError
from tracker.workbench.drafts import draft

PATHS = ["/", "/ws", "/static/js/textual.js", "/own/page.js", "/download/1", "/nothing", "/?key=another"]


class Watched(Sitting):
    """Remembers every sitting."""

    all: list[Watched] = []  # noqa: RUF012 - emptied by the fixture

    async def start(self, width: int, height: int) -> None:
        self.all.append(self)
        await super().start(width, height)

    @property
    def status(self) -> int | None:
        """The exit status of the screens, once they have ended."""
        return self._process.returncode if self._process else None


@pytest.fixture(autouse=True)
def sittings(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Iterator[list[Watched]]:
    monkeypatch.setattr(module, "Sitting", Watched)
    monkeypatch.setenv("LASTCOAT_CONFIG", str(tmp_path / "config.toml"))
    yield Watched.all
    Watched.all.clear()


def test_without_the_key_every_request_is_refused(tmp_path: Path) -> None:
    async def ask() -> None:
        async with server(a_log(tmp_path).path) as base, ClientSession() as session:
            for path in PATHS:
                for method in ("GET", "HEAD", "POST"):
                    async with session.request(method, base + path) as answer:
                        assert answer.status == 403, path
                        assert "Set-Cookie" not in answer.headers
            async with session.head(f"{base}/?key={KEY}") as answer:
                assert answer.status == 403
            async with session.get(base) as answer:
                assert await answer.text() == NO_KEY + "\n"
            with pytest.raises(WSServerHandshakeError, match="403"):
                await session.ws_connect(f"{base}/ws?key={KEY}", headers={"Origin": base})

    asyncio.run(ask())


def test_another_name_is_refused_with_the_key_too(tmp_path: Path) -> None:
    async def ask() -> None:
        async with server(a_log(tmp_path).path) as base:
            async with (
                ClientSession() as session,
                session.get(f"{base}/?key={KEY}", headers={"Host": "elsewhere.example"}) as answer,
            ):
                assert (answer.status, await answer.text()) == (403, OTHER_NAME + "\n")
            async with (
                let_in(base) as session,
                session.get(base, headers={"Host": "elsewhere.example"}) as answer,
            ):
                assert answer.status == 403

    asyncio.run(ask())


def test_the_key_is_for_one_browser(tmp_path: Path) -> None:
    async def ask() -> None:
        async with server(a_log(tmp_path).path) as base, let_in(base) as first:
            async with ClientSession() as second, second.get(f"{base}/?key={KEY}") as answer:
                assert (answer.status, await answer.text()) == (403, SPENT + "\n")
            for path in ("/", f"/?key={KEY}", "/own/page.js", "/static/js/textual.js", "/own/icon.svg"):
                async with first.get(base + path) as answer:
                    assert answer.status == 200, path
            for path in ("/nothing", "/download/1", "/own/", "/static/"):
                async with first.get(base + path) as answer:
                    assert answer.status in (403, 404), path

    asyncio.run(ask())


def test_the_pass_is_a_cookie_no_script_and_no_other_page_can_use(tmp_path: Path) -> None:
    # RFC 6265 and its revision 6265bis for SameSite.
    async def ask() -> None:
        async with (
            server(a_log(tmp_path).path) as base,
            ClientSession() as session,
            session.get(f"{base}/?key={KEY}") as answer,
        ):
            said = answer.headers["Set-Cookie"].split("; ")
            assert {"HttpOnly", "SameSite=Strict", "Path=/"} <= set(said)
            assert KEY not in said[0]
            assert base.rpartition(":")[2] in said[0]
            assert answer.headers["Referrer-Policy"] == "no-referrer"
            assert answer.headers["Cache-Control"] == "no-store"
            assert answer.headers["Content-Security-Policy"].startswith("default-src 'none'")
            assert KEY not in await answer.text()

    asyncio.run(ask())


def test_the_page_leads_nowhere_else(tmp_path: Path) -> None:
    async def ask() -> None:
        async with server(a_log(tmp_path).path) as base, let_in(base) as session:
            for path in ("/", "/own/page.css", "/own/page.js"):
                async with session.get(base + path) as answer:
                    text = await answer.text()
                assert set(re.findall(r"\w+://[^/\"]*", text)) <= {base.replace("http", "ws")}

    asyncio.run(ask())


@pytest.mark.parametrize("origin", [None, "http://elsewhere.example", "null"])
def test_a_socket_of_another_page_is_refused(tmp_path: Path, origin: str | None) -> None:
    async def ask() -> None:
        async with server(a_log(tmp_path).path) as base, let_in(base) as session:
            headers = {"Origin": origin} if origin else {}
            with pytest.raises(WSServerHandshakeError, match="403"):
                await session.ws_connect(f"{base}/ws", headers=headers)
            async with session.get(base, headers={"Origin": "http://elsewhere.example"}) as answer:
                assert await answer.text() == OTHER_PAGE + "\n"
        assert Watched.all == []

    asyncio.run(ask())


def test_a_page_that_is_closed_keeps_what_is_half_typed(tmp_path: Path, sittings: list[Watched]) -> None:
    desk = a_log(tmp_path)

    async def sit() -> None:
        async with server(desk.path) as base, let_in(base) as session:
            async with socket_of(session, base) as page:
                await page.until(FIRST_SCREEN)
                await page.press("e")
                await page.until("Esc")
                await page.press("glued 2 sp")
                await page.until("glued 2 sp")
            await comes(lambda: sittings[0].status is not None)
            assert sittings[0].status == 0
            assert draft(desk) == "glued 2 sp"
            async with socket_of(session, base) as page:
                await page.until("glued 2 sp")

    asyncio.run(sit())
    assert [one.status for one in sittings] == [0, 0]


def test_the_end_of_the_server_closes_the_page_and_its_screens(
    tmp_path: Path, sittings: list[Watched]
) -> None:
    desk = a_log(tmp_path)

    async def sit() -> None:
        async with AsyncExitStack() as client:
            async with server(desk.path) as base:
                session = await client.enter_async_context(let_in(base))
                page = await client.enter_async_context(socket_of(session, base))
                await page.until(FIRST_SCREEN)
                ending = asyncio.create_task(page.ended())
            assert await ending == WSCloseCode.GOING_AWAY

    asyncio.run(sit())
    assert [one.status for one in sittings] == [0]


def test_the_key_that_closes_the_screens_closes_the_page(tmp_path: Path, sittings: list[Watched]) -> None:
    desk = a_log(tmp_path)

    async def sit() -> None:
        async with (
            server(desk.path) as base, let_in(base) as session, socket_of(session, base) as page,
        ):  # fmt: skip
            await page.until(FIRST_SCREEN)
            await page.press("q")
            assert await page.ended() == WSCloseCode.OK

    asyncio.run(sit())
    assert [one.status for one in sittings] == [0]


@pytest.mark.parametrize("said", ["{", "{}", "[]", '["stdin"]', '["stdin", 3]', '["resize", {}]'])
def test_what_no_page_of_ours_says_ends_the_sitting(
    tmp_path: Path, sittings: list[Watched], said: str
) -> None:
    async def sit() -> None:
        async with (
            server(a_log(tmp_path).path) as base, let_in(base) as session, socket_of(session, base) as page,
        ):  # fmt: skip
            await page.until(FIRST_SCREEN)
            await page.socket.send_str(said)
            assert await page.ended() == WSCloseCode.POLICY_VIOLATION

    asyncio.run(sit())
    assert [one.status for one in sittings] == [0]


def test_screens_that_do_not_end_are_ended(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sitting, "PATIENCE_SECONDS", 0.0)
    stubborn = "print('__GANGLION__', flush=True)\nwhile True: pass"

    async def nothing(*_: object) -> None:
        return None

    async def sit() -> int | None:
        one = Watched(
            [sys.executable, "-c", stubborn], DownloadManager(),
            write_bytes=nothing, write_str=nothing, close=nothing,
        )  # fmt: skip
        await one.start(80, 24)
        await one.stop()
        await one.stop()
        return one.status

    assert asyncio.run(sit()) == -9


def test_the_screens_get_no_secret_and_a_terminal_of_their_own(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TERM", "linux")
    monkeypatch.setenv("LINES", "7")
    one = Sitting.__new__(Sitting)
    one.debug = False
    grown = one._build_environment(100, 30)
    assert (grown["COLUMNS"], grown["ROWS"], grown["TERM"]) == ("100", "30", "xterm-256color")
    assert "LINES" not in grown
    assert grown["TEXTUAL_DRIVER"] == "tracker.cli.serve.driver:PipeDriver"


def test_troubles_are_a_line_each(capsys: pytest.CaptureFixture[str]) -> None:
    module._say_troubles_in_a_line()
    logging.getLogger("aiohttp.server").error("Two\nlines", exc_info=DataError(()))
    assert capsys.readouterr().err == "serve: Two lines\n"
