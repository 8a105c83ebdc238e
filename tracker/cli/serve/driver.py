"""Between the screens and the pipes to `lastcoat serve`: however it ends, what is being written is kept."""

from __future__ import annotations

import asyncio
import os
import signal

from textual.drivers.web_driver import WebDriver


class PipeDriver(WebDriver):
    """Closes the screens as their own key does: when asked to, by a signal, or when the pipes end."""

    def write(self, data: str) -> None:
        """What nobody reads any more is dropped; the end of the input closes the screens."""
        try:
            super().write(data)
        except BrokenPipeError:
            self._close()

    def write_meta(self, data: dict[str, object]) -> None:
        """Likewise."""
        try:
            super().write_meta(data)
        except BrokenPipeError:
            self._close()

    def start_application_mode(self) -> None:
        """Take the signals over from the framework, which would not wait for what is being written."""
        super().start_application_mode()
        if os.name == "posix":
            for told in (signal.SIGINT, signal.SIGTERM, signal.SIGHUP):
                asyncio.get_running_loop().add_signal_handler(told, self._close)

    def run_input_thread(self) -> None:
        """Keys until the pipe ends."""
        super().run_input_thread()
        self._close()

    def on_meta(self, packet_type: str, payload: dict[str, object]) -> None:
        """What the server says beside the keys."""
        if packet_type == "quit":
            self._close()
        else:
            super().on_meta(packet_type, payload)

    def _close(self) -> None:
        if not self.exit_event.is_set():
            self._app.call_later(self._app.action_quit)
