"""The server: the page, its files and its socket, each only for whom the door lets in."""

from __future__ import annotations

import asyncio
import logging
import os
import sys
from collections.abc import Callable, Sequence
from html import escape
from pathlib import Path
from string import Template

from aiohttp import WSCloseCode, web
from aiohttp.typedefs import Handler
from textual_serve.server import Server, to_int

from tracker.cli.serve.door import Asked, Door
from tracker.cli.serve.sitting import Sitting
from tracker.workbench.settings import read_settings, settings_path

HERE = Path(__file__).parent
CLOSING_SECONDS = 2.0
"""How long a browser that has gone may take to answer a goodbye."""
ENDING_SECONDS = 15.0
"""How long the end waits for pages to close."""


class DeskServer(Server):
    """Serves one log to one browser."""

    def __init__(self, words: Sequence[str], door: Door, port: int) -> None:
        super().__init__("", title="Lastcoat")
        self.words = tuple(words)
        self.door = door
        self.cookie = f"lastcoat-{port}"
        """Cookies know no ports (RFC 6265, 8.5), so the name tells two servers apart."""
        self.sockets: set[web.WebSocketResponse] = set()

    def run(self, taken: object, ready: Callable[[], None]) -> None:
        """Serve on a listening socket until Ctrl-C or SIGTERM, then see every page out.

        `ready` is called as soon as Ctrl-C would end it cleanly.
        """
        _say_troubles_in_a_line()
        app = self.app()

        async def tell(_: web.Application) -> None:
            ready()

        app.on_startup.append(tell)
        web.run_app(
            app, sock=taken, print=None, access_log=None,  # type: ignore[arg-type]
            shutdown_timeout=ENDING_SECONDS,
        )  # fmt: skip

    def app(self) -> web.Application:
        """The routes behind the door."""
        app = web.Application(middlewares=[self.guard])
        app.add_routes([
            web.get("/", self.page, name="index"),
            web.get("/ws", self.handle_websocket, name="websocket"),
            web.get("/download/{key}", self.handle_download, name="download"),
            web.static("/static", self.statics_path, name="static"),
            web.static("/own", HERE / "own", name="own"),
        ])  # fmt: skip
        app.on_response_prepare.append(_add_headers)
        app.on_shutdown.append(self.on_shutdown)
        return app

    @web.middleware
    async def guard(self, request: web.Request, handler: Handler) -> web.StreamResponse:
        """Around every request: refused with a line and status 403, or let in."""
        verdict = self.door.judge(_asked(request, request.cookies.get(self.cookie, "")))
        if verdict.refusal:
            return web.Response(status=403, text=verdict.refusal + "\n")
        answer = await handler(request)
        if verdict.new_pass:
            answer.set_cookie(self.cookie, verdict.new_pass, httponly=True, samesite="Strict")
        return answer

    async def page(self, request: web.Request) -> web.Response:
        """The page around the screens, in the look that is set for them."""
        look = read_settings(settings_path(os.environ)).settings.theme
        template = Template((HERE / "page.html").read_text(encoding="utf-8"))
        text = template.substitute(socket=escape(f"ws://{request.host}/ws"), look=escape(look))
        return web.Response(text=text, content_type="text/html")

    async def handle_websocket(self, request: web.Request) -> web.WebSocketResponse:
        """One sitting: from the page's opening to its end, or to the screens' end."""
        socket = web.WebSocketResponse(heartbeat=15, timeout=CLOSING_SECONDS)
        await socket.prepare(request)
        self.sockets.add(socket)
        sitting = Sitting(
            self.words, self.download_manager,
            write_bytes=socket.send_bytes, write_str=socket.send_str, close=socket.close,
        )  # fmt: skip
        try:
            columns, lines = (request.query.get(side, "") for side in ("width", "height"))
            await sitting.start(to_int(columns, 80), to_int(lines, 24))
            await self._process_messages(socket, sitting)
        except (ValueError, LookupError, TypeError, AttributeError, AssertionError):
            await socket.close(code=WSCloseCode.POLICY_VIOLATION)  # what no page of ours says
        finally:
            self.sockets.discard(socket)
            await sitting.stop()
            await socket.close()
        return socket

    async def on_shutdown(self, app: web.Application) -> None:  # noqa: ARG002 - the framework's signature
        """Say goodbye to every page; each then closes its screens."""
        await asyncio.gather(*(socket.close(code=WSCloseCode.GOING_AWAY) for socket in set(self.sockets)))


def _asked(request: web.Request, held: str) -> Asked:
    return Asked(
        host=request.headers.get("Host", ""),
        is_page=request.method == "GET" and request.path == "/",
        is_socket="Upgrade" in request.headers,
        origin=request.headers.get("Origin"),
        key=request.query.get("key", ""),
        held=held,
        is_ahead="prefetch" in request.headers.get("Sec-Purpose", ""),
    )


async def _add_headers(request: web.Request, response: web.StreamResponse) -> None:
    response.headers.update({
        "Content-Security-Policy": "default-src 'none'; script-src 'self'; style-src 'self' 'unsafe-inline';"
        f" font-src 'self'; img-src 'self' data:; connect-src {_socket_of(request)};"
        " base-uri 'none'; form-action 'none'; frame-ancestors 'none'",
        "Cache-Control": "no-store",
        "Referrer-Policy": "no-referrer",
        "Server": "lastcoat",
        "X-Content-Type-Options": "nosniff",
    })  # fmt: skip


def _socket_of(request: web.Request) -> str:
    host = request.headers.get("Host", "")
    return f"'self' ws://{host}" if host.isascii() and not set(host) & set(" ;,'\"") else "'self'"


class _Line(logging.Formatter):
    def format(self, record: logging.LogRecord) -> str:
        return "serve: " + " ".join(record.getMessage().split())


def _say_troubles_in_a_line() -> None:
    """A trouble is one line on standard error, without the places in the code it came through."""
    said = logging.StreamHandler(sys.stderr)
    said.setFormatter(_Line())
    said.setLevel(logging.ERROR)
    for name in ("textual-serve", "aiohttp.server", "asyncio"):
        logger = logging.getLogger(name)
        logger.handlers, logger.propagate = [said], False
