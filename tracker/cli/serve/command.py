"""`lastcoat serve`: open the screens to a browser."""

from __future__ import annotations

import os
import secrets
from importlib.util import find_spec

import click

from tracker.cli.common import complain, db_option, help_text, run_verb, say
from tracker.domain.problems import DataError, Problem
from tracker.workbench.desk import Desk

KEY_BYTES = 12
"""96 random bits in 16 letters: past guessing, and short enough to be typed on a tablet."""
OPEN_TO_OTHERS = (
    "Mind: others on the network can reach this address. Who gets in can read and change your log, and"
    " nothing on the way is encrypted, the key neither. Use it only on a network you trust."
)


@click.command(
    help=help_text(
        "The screens in a browser, on this machine or on the tablet at your desk. It shows an address that"
        " works once, for the first browser that opens it. Ctrl-C ends it.",
        "lastcoat serve",
        "lastcoat serve --host 0.0.0.0",
    )
)
@click.option(
    "--host", default="127.0.0.1", show_default=True, metavar="ADDRESS",
    help="Serve under this address of this machine; 0.0.0.0 opens it to its networks.",
)  # fmt: skip
@click.option(
    "--port", type=click.IntRange(0, 65535), default=8023, show_default=True, metavar="NUMBER",
    help="The port; 0 takes any that is free.",
)  # fmt: skip
@db_option
@run_verb
def command(*, desk: Desk, host: str, port: int) -> None:
    """Take the port, show the address, serve until it is ended."""
    _need_the_extra()
    from tracker.cli.serve.door import Door
    from tracker.cli.serve.place import take
    from tracker.cli.serve.screens import started
    from tracker.cli.serve.server import DeskServer

    place = take(host, port)
    with place.taken:
        key = secrets.token_urlsafe(KEY_BYTES)
        server = DeskServer(started(os.path.abspath(desk.path)), Door(place.names, key), place.port)  # noqa: PTH100

        def show() -> None:
            if place.is_open:
                complain(OPEN_TO_OTHERS)
            say(f"Open in a browser: {place.address(key)}")
            say("It works once, for the first browser that opens it. Ctrl-C here ends it.")

        server.run(place.taken, show)
    say("Closed. What was half typed is kept.")


def _need_the_extra() -> None:
    if find_spec("textual_serve") is None:
        what = "what shows the screens in a browser is not installed"
        raise DataError(
            Problem("serve", what, 'Install it beside lastcoat: pip install "textual-serve>=1.1"')
        )
