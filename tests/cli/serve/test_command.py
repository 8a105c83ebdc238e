"""`lastcoat serve` as a program: what it says, and that its end loses nothing."""

from __future__ import annotations

import asyncio
import signal
from pathlib import Path

import pytest
from click.testing import CliRunner

from tests.cli.serve.serving import (
    FIRST_SCREEN,
    a_log,
    children,
    comes,
    let_in,
    program,
    runs,
    socket_of,
)  # fmt: skip
from tracker.cli.main import main
from tracker.cli.serve import command as module
from tracker.cli.serve.place import take
from tracker.workbench.drafts import draft


def said(*words: str) -> tuple[int, str]:
    """Status and standard error of `lastcoat serve`."""
    done = CliRunner().invoke(main, ["serve", *words])
    return done.exit_code, done.stderr


def test_without_the_extra_it_says_how_to_get_it(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "find_spec", lambda _: None)
    status, line = said()
    assert status == 1
    assert line.count("\n") == 1
    assert 'pip install "textual-serve' in line


def test_a_port_in_use_is_one_line() -> None:
    with (place := take("127.0.0.1", 0)).taken:
        status, line = said("--port", str(place.port))
    assert (status, line.count("\n")) == (1, 1)
    assert "in use" in line


@pytest.mark.parametrize(
    "words", [("--host", ""), ("--host", "203.0.113.9"), ("--port", "65536"), ("--port", "x")]
)
def test_what_cannot_be_served_is_one_line(words: tuple[str, ...]) -> None:
    status, line = said(*words)
    assert (status, line.count("\n")) == (2, 1)


@pytest.mark.parametrize("how", [signal.SIGINT, signal.SIGTERM])
def test_it_ends_cleanly_and_its_screens_with_it(tmp_path: Path, how: signal.Signals) -> None:
    desk = a_log(tmp_path)

    async def sit() -> None:
        async with program(tmp_path) as (process, address), let_in(address) as session:
            page = await socket_of(session, address).open()
            await page.until(FIRST_SCREEN)
            await page.press("e")
            await page.until("Esc")
            await page.press("glued 2 sp")
            await page.until("glued 2 sp")
            (screens,) = children(process.pid)
            process.send_signal(how)
            await page.ended()
            out, err = await process.communicate()
            assert process.returncode == 0
            assert out.decode().endswith("\nClosed. What was half typed is kept.\n")
            assert err == b""
            assert not runs(screens)

    asyncio.run(sit())
    assert draft(desk) == "glued 2 sp"


@pytest.mark.parametrize("how", [signal.SIGKILL, signal.SIGHUP])
def test_when_it_is_killed_its_screens_close_themselves(tmp_path: Path, how: signal.Signals) -> None:
    desk = a_log(tmp_path)

    async def sit() -> None:
        async with program(tmp_path) as (process, address), let_in(address) as session:
            page = await socket_of(session, address).open()
            await page.until(FIRST_SCREEN)
            await page.press("e")
            await page.until("Esc")
            await page.press("glued 2 sp")
            await page.until("glued 2 sp")
            (screens,) = children(process.pid)
            process.send_signal(how)
            await process.wait()
            await comes(lambda: not runs(screens))

    asyncio.run(sit())
    assert draft(desk) == "glued 2 sp"


@pytest.mark.parametrize("how", [signal.SIGINT, signal.SIGTERM, signal.SIGHUP])
def test_screens_that_are_told_to_end_close_the_page(tmp_path: Path, how: signal.Signals) -> None:
    desk = a_log(tmp_path)

    async def sit() -> None:
        import os

        async with program(tmp_path) as (process, address), let_in(address) as session:
            async with socket_of(session, address) as page:
                await page.until(FIRST_SCREEN)
                await page.press("e")
                await page.until("Esc")
                await page.press("glued 2 sp")
                await page.until("glued 2 sp")
                (screens,) = children(process.pid)
                os.kill(screens, how)
                await page.ended()
            await comes(lambda: not runs(screens))

    asyncio.run(sit())
    assert draft(desk) == "glued 2 sp"


def test_opened_to_others_it_warns_in_one_line(tmp_path: Path) -> None:
    async def look() -> str:
        async with program(tmp_path, "--host", "0.0.0.0") as (process, address):  # noqa: S104 - what is tested
            assert "//0.0.0.0" not in address
            process.send_signal(signal.SIGINT)
            return (await process.communicate())[1].decode()

    warned = asyncio.run(look())
    assert warned.count("\n") == 1
    assert all(word in warned for word in ("read and change", "encrypted", "network you trust"))


def test_every_start_has_a_key_of_its_own(tmp_path: Path) -> None:
    async def look() -> str:
        async with program(tmp_path) as (process, address):
            process.send_signal(signal.SIGINT)
            await process.communicate()
            return address.partition("key=")[2]

    first, second = asyncio.run(look()), asyncio.run(look())
    # 96 bits in base64url (RFC 4648, 5) are 16 letters; OWASP asks 64 bits of a session's name (from memory).
    assert len(first) == len(second) == 16
    assert first != second
