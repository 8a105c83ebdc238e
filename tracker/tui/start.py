"""Opening the program in a terminal, and closing it cleanly whichever way it ends."""

from __future__ import annotations

import asyncio
import errno
import os
import signal
import sys
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from importlib import import_module

from tracker.tui.actions import ACTIONS, HELP, action_id
from tracker.tui.app import Lastcoat
from tracker.tui.widgets.picture import TERMINAL_PICTURES
from tracker.workbench.desk import Desk
from tracker.workbench.photo_files import photo_folder
from tracker.workbench.settings import action_problems, read_settings, settings_path

SWITCH_SECONDS = 0.002
"""How long a worker may hold the interpreter while a key waits."""


def run(desk: Desk) -> int:
    """Run until it is closed; its exit status."""
    # The forecast's sums are small: starting threads for them would only make keys wait.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    sys.setswitchinterval(SWITCH_SECONDS)
    _say_size_where_the_terminal_does_not()
    _let_terminal_draw(desk)
    read = read_settings(settings_path(os.environ))
    app = Lastcoat(desk, read.settings, read.path)
    app.trouble = (*read.problems, *action_problems(read, map(action_id, (*ACTIONS, HELP))))
    asyncio.run(_until_closed(app))
    status = app.return_code or 0
    if app.answers.working != "no":
        # Nobody waits for a forecast any more; what was logged is on disk, and the terminal is as it was.
        sys.stdout.flush()
        sys.stderr.flush()
        os._exit(status)
    return status


def _let_terminal_draw(desk: Desk) -> None:
    """Load the optional package that draws pictures, which asks the terminal what it can before it is ours.

    Only where there are photos: it takes a third of a second. A terminal that answers in some odd way is
    one that draws nothing itself.
    """
    if photo_folder(desk.path).is_dir() and sys.stdout.isatty():
        with suppress(Exception):
            import_module(f"{TERMINAL_PICTURES}.widget")


def _say_size_where_the_terminal_does_not() -> None:
    """A serial line may report 0 columns by 0 lines; the layers below then disagree on what to assume."""
    with suppress(OSError):  # a pipe to a browser has no size of its own
        if 0 in os.get_terminal_size(sys.stdout.fileno()):
            os.environ.setdefault("COLUMNS", "80")
            os.environ.setdefault("LINES", "24")


async def _leave(app: Lastcoat) -> None:
    """Close; where the terminal itself is gone, without a last picture that could only be waited for."""
    if _terminal_is_gone():
        await app.until_stored()
        os._exit(0)
    await app.close_when_stored()


def _terminal_is_gone() -> bool:
    """Whether a dropped connection took it along (termios(3): the call fails with EIO)."""
    if sys.stdin is None or not sys.platform.startswith(("linux", "darwin")):
        return False
    import termios

    try:
        termios.tcgetattr(sys.stdin.fileno())
    except termios.error as refusal:
        return bool(refusal.args[0] == errno.EIO)
    except (OSError, ValueError):
        return True
    return False


async def _until_closed(app: Lastcoat) -> None:
    loop = asyncio.get_running_loop()
    leaving: list[asyncio.Task[None]] = []
    for name in ("SIGTERM", "SIGHUP"):
        if hasattr(signal, name):
            loop.add_signal_handler(
                getattr(signal, name), lambda: leaving.append(loop.create_task(_leave(app)))
            )
    await app.run_async()
    if app.answers.working != "no":
        loop.set_default_executor(ThreadPoolExecutor(1))
