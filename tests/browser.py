"""A real Chromium without a window, told what to do over its DevTools protocol."""

from __future__ import annotations

import asyncio
import json
import re
import shutil
from base64 import b64decode
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from itertools import count
from pathlib import Path
from typing import Any, TypeVar

from aiohttp import ClientSession, ClientWebSocketResponse, WSMsgType

PATIENCE_SECONDS = 120.0
BINARY = 2
"""Kind of a frame (RFC 6455, 11.8)."""
STEERING = re.compile(r"\x1b\[[0-9;?]*[a-zA-Z]")
"""What moves the cursor and sets colours (ECMA-48, 5.4)."""
T = TypeVar("T")
Event = dict[str, Any]


def chromium() -> str:
    """The installed browser; without one the tests that need it fail."""
    found = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
    assert found is not None, "these tests need Chromium (Debian: apt-get install chromium)"
    return found


class Page:
    """One tab of one profile, and everything it reported."""

    def __init__(self, socket: ClientWebSocketResponse) -> None:
        self.socket = socket
        self.events: list[Event] = []
        self._numbers = count(1)
        self._answers: dict[int, asyncio.Future[Any]] = {}
        self._changed = asyncio.Condition()
        self.session = ""

    async def read(self) -> None:
        """Take in what the browser says, for as long as it runs."""
        async for message in self.socket:
            if message.type != WSMsgType.TEXT:
                break
            said = json.loads(message.data)
            if "id" in said:
                self._answers.pop(said["id"]).set_result(said)
            else:
                async with self._changed:
                    self.events.append(said)
                    self._changed.notify_all()

    async def ask(self, method: str, **params: object) -> Any:
        """Run a command of the protocol; its result."""
        number = next(self._numbers)
        self._answers[number] = asyncio.get_running_loop().create_future()
        call = {"id": number, "method": method, "params": params}
        await self.socket.send_json(call | ({"sessionId": self.session} if self.session else {}))
        said = await asyncio.wait_for(self._answers[number], PATIENCE_SECONDS)
        assert "result" in said, said
        return said["result"]

    async def begin(self) -> None:
        """Open a tab in a profile of its own, every report switched on."""
        context = await self.ask("Target.createBrowserContext")
        target = await self.ask("Target.createTarget", url="about:blank", **context)
        self.session = (await self.ask("Target.attachToTarget", flatten=True, **target))["sessionId"]
        for domain in ("Page", "Network", "Runtime", "Log"):
            await self.ask(f"{domain}.enable")

    async def window(self, width: int, height: int, *, is_tablet: bool = False) -> None:
        """How large the page is, and whether it is touched."""
        await self.ask(
            "Emulation.setDeviceMetricsOverride",
            width=width, height=height, deviceScaleFactor=1, mobile=is_tablet,
            screenWidth=width, screenHeight=height,
        )  # fmt: skip
        await self.ask("Emulation.setTouchEmulationEnabled", enabled=is_tablet)

    async def open(self, address: str) -> int:
        """Go to an address; the status that the server answered with, 0 for a file."""
        before = len(self.events)
        frame = (await self.ask("Page.navigate", url=address))["frameId"]
        await self.until(lambda: self.said("Page.loadEventFired", before) or None)
        statuses = [
            event["response"]["status"]
            for event in self.said("Network.responseReceived", before)
            if event["frameId"] == frame and event["type"] == "Document"
        ]
        return int(statuses[0]) if statuses else 0

    def said(self, method: str, after: int = 0) -> list[Event]:
        """The details of every event of a kind; the first `after` events are past."""
        return [event["params"] for event in self.events[after:] if event["method"] == method]

    async def until(self, what: Callable[[], T | None]) -> T:
        """Wait for events until this holds; what it gave."""
        async with asyncio.timeout(PATIENCE_SECONDS), self._changed:
            while not (found := what()):
                await self._changed.wait()
            return found

    async def drawn(self, words: str, after: int = 0) -> None:
        """Wait until the screens have sent these words through the page's socket; `after` events are past."""

        def seen() -> bool:
            frames = [e["response"] for e in self.said("Network.webSocketFrameReceived", after)]
            drawn = b"".join(b64decode(frame["payloadData"]) for frame in frames if frame["opcode"] == BINARY)
            return words in STEERING.sub("", drawn.decode("utf-8", "replace"))

        await self.until(seen)

    async def type(self, text: str) -> None:
        """Type as a keyboard does; a carriage return is Enter."""
        for sign in text:
            what = {"text": sign, "key": "Enter" if sign == "\r" else sign}
            code = {"windowsVirtualKeyCode": 13} if sign == "\r" else {}
            await self.ask("Input.dispatchKeyEvent", type="keyDown", **what, **code)
            await self.ask("Input.dispatchKeyEvent", type="keyUp", key=what["key"], **code)

    async def shows(self, script: str) -> Any:
        """What a script in the page gives."""
        return (await self.ask("Runtime.evaluate", expression=script, returnByValue=True))["result"].get(
            "value"
        )

    async def print(self, *, own_size: bool = False) -> bytes:
        """The page as a PDF, without backgrounds: on A4 sheets, or on those that the page asks for itself."""
        size = {"preferCSSPageSize": True} if own_size else {"paperWidth": 8.27, "paperHeight": 11.69}
        return b64decode((await self.ask("Page.printToPDF", **size))["data"])

    async def prefer(self, **features: str) -> None:
        """What the reader prefers (Media Queries Level 5), as in `prefers_color_scheme="dark"`."""
        wanted = [{"name": name.replace("_", "-"), "value": value} for name, value in features.items()]
        await self.ask("Emulation.setEmulatedMedia", features=wanted)

    def asked(self) -> list[str]:
        """Every address that was asked for."""
        return [event["request"]["url"] for event in self.said("Network.requestWillBeSent")]

    def hosts(self) -> set[str]:
        """Every host that was asked for anything."""
        asked = self.asked() + [event["url"] for event in self.said("Network.webSocketCreated")]
        return {address.split("/")[2] for address in asked if not address.startswith("data:")}

    def complaints(self) -> list[str]:
        """What a developer would see in red or yellow, but for a remark on how busy the machine is."""
        told = [event["entry"] for event in self.said("Log.entryAdded")]
        told += [
            event for event in self.said("Runtime.consoleAPICalled") if event["type"] in ("error", "warning")
        ]
        shown = [str(one) for one in told + self.said("Runtime.exceptionThrown")]
        return [one for one in shown if "task queue exceeded allotted deadline" not in one]


@asynccontextmanager
async def browser(folder: Path) -> AsyncIterator[Callable[[], Any]]:
    """Start it; gives a function that opens a tab in a fresh profile."""
    process = await asyncio.create_subprocess_exec(
        chromium(), "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run",
        "--disable-background-networking", "--disable-component-update", "--disable-sync",
        "--enable-unsafe-swiftshader", f"--user-data-dir={folder}", "--remote-debugging-port=0",
        "about:blank",
        stdout=asyncio.subprocess.DEVNULL, stderr=asyncio.subprocess.PIPE,
    )  # fmt: skip
    assert process.stderr is not None
    try:
        async with asyncio.timeout(PATIENCE_SECONDS):
            while not (found := re.search(rb"listening on (ws://\S+)", await process.stderr.readline())):
                assert not process.stderr.at_eof()
        async with ClientSession() as session:
            readers: list[asyncio.Task[None]] = []

            async def tab() -> Page:
                page = Page(await session.ws_connect(found[1].decode(), max_msg_size=0))
                readers.append(asyncio.create_task(page.read()))
                await page.begin()
                return page

            yield tab
            for reader in readers:
                reader.cancel()
            await asyncio.gather(*readers, return_exceptions=True)
    finally:
        process.terminate()
        await process.communicate()
