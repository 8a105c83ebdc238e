"""One page in a browser: its screens as a process that ends with it."""

from __future__ import annotations

import asyncio
from asyncio.subprocess import PIPE, Process
from collections.abc import Awaitable, Callable, Sequence
from contextlib import suppress

from textual_serve.app_service import AppService
from textual_serve.download_manager import DownloadManager

from tracker.cli.serve.screens import DRIVER

PATIENCE_SECONDS = 10.0
"""How long screens that were asked to close may take to write what they hold."""


class Sitting(AppService):
    """Starts the screens without a shell between, and sees them out."""

    def __init__(
        self,
        words: Sequence[str],
        downloads: DownloadManager,
        *,
        write_bytes: Callable[[bytes], Awaitable[None]],
        write_str: Callable[[str], Awaitable[None]],
        close: Callable[[], Awaitable[object]],
    ) -> None:
        async def close_quietly() -> None:
            await close()

        super().__init__(
            "", write_bytes=write_bytes, write_str=write_str, close=close_quietly, download_manager=downloads
        )
        self.words = tuple(words)

    async def _open_app_process(self, width: int = 80, height: int = 24) -> Process:
        # A session of its own: Ctrl-C reaches the server alone, which then asks the screens to close.
        self._process = process = await asyncio.create_subprocess_exec(
            *self.words, stdin=PIPE, stdout=PIPE, stderr=PIPE, start_new_session=True,
            env=self._build_environment(width, height),
        )  # fmt: skip
        self._stdin = process.stdin
        return process

    def _build_environment(self, width: int = 80, height: int = 24) -> dict[str, str]:
        """What the terminal UI would get as well, and what kind of terminal the browser is."""
        grown = super()._build_environment(width, height)
        grown.pop("LINES", None)
        return grown | {"TEXTUAL_DRIVER": DRIVER, "TERM": "xterm-256color", "COLORTERM": "truecolor"}

    async def on_data(self, payload: bytes) -> None:
        """What is drawn after the browser has gone is read all the same: a full pipe would hold them up."""
        with suppress(ConnectionError):
            await super().on_data(payload)

    async def on_meta(self, data: bytes) -> None:
        """Likewise."""
        with suppress(ConnectionError):
            await super().on_meta(data)

    async def stop(self) -> None:
        """Ask the screens to close, wait for their end; they do not outlive their page."""
        reading, self._task = self._task, None
        if reading is None or self._process is None:
            return
        await self._download_manager.cancel_app_downloads(app_service_id=self.app_service_id)
        await self.send_meta({"type": "quit"})
        self.stdin.close()
        try:
            await asyncio.wait_for(self._process.wait(), PATIENCE_SECONDS)
        except TimeoutError:
            with suppress(ProcessLookupError):
                self._process.kill()
            await self._process.wait()
        await reading
