"""What every command shares: options, printing, and turning a refusal into a line and a status."""

from __future__ import annotations

import errno
import os
import sys
from collections.abc import Callable
from contextlib import suppress
from datetime import date
from functools import wraps
from typing import Any, ParamSpec, TypeVar

import click

from tracker.domain.problems import LastcoatError
from tracker.domain.text import printable
from tracker.workbench.desk import Desk

INTERRUPTED = 130
_AS_OF_AHEAD_YEARS, _AS_OF_AGO_YEARS = 10, 200
P = ParamSpec("P")
T = TypeVar("T")
Decorator = Callable[[Callable[..., Any]], Callable[..., Any]]


def default_path() -> str:
    """Where a person's log lies: LASTCOAT_DB, else the platform's folder for a person's data."""
    said = os.environ.get("LASTCOAT_DB")
    if said:
        return said
    home = os.environ.get("XDG_DATA_HOME") or _data_home()
    return os.path.join(home, "lastcoat", "lastcoat.db")  # noqa: PTH118 - pathlib would cost the hot path


def _data_home() -> str:
    """The folder of every program's data.

    Linux and macOS are answered here, since asking platformdirs costs a tenth of logging a line. Sources:
    XDG Base Directory Specification 0.8; Apple, File System Programming Guide.
    """
    if sys.platform == "linux" and "ANDROID_DATA" not in os.environ:
        return os.path.expanduser("~/.local/share")  # noqa: PTH111
    if sys.platform == "darwin":
        return os.path.expanduser("~/Library/Application Support")  # noqa: PTH111
    from platformdirs import user_data_dir

    return user_data_dir()


def _desk(ctx: click.Context, _option: click.Parameter, path: str | None) -> Desk:
    root = ctx.find_root()
    if path is None and isinstance(root.obj, Desk):
        return root.obj
    desk = Desk(path or default_path())
    return desk._replace(now=root.obj.now, new_uid=root.obj.new_uid) if isinstance(root.obj, Desk) else desk


db_option: Decorator = click.option(
    "--db",
    "desk",
    metavar="FILE",
    callback=_desk,
    help="The log to use (default: LASTCOAT_DB, else your own data folder).",
)
"""Gives the command `desk: Desk`. A test passes its own as `obj=Desk(...)`."""


class Day(click.ParamType[date]):
    """An ISO date that exists."""

    name = "date"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> date:
        """The date, or a usage error that says how to write one."""
        if isinstance(value, date):
            return value
        try:
            return date.fromisoformat(value if len(value) == 10 else "")
        except ValueError:
            self.fail(f'"{value}" is no date. Write one that exists like 2026-03-14.', param, ctx)


class KnownBy(Day):
    """An ISO date up to which something can be known."""

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> date:
        """The date, or a usage error for one that lies too far off to answer for."""
        day = super().convert(value, param, ctx)
        root = ctx.find_root().obj if ctx else None
        today = (root if isinstance(root, Desk) else Desk("")).today()
        if not -_AS_OF_AGO_YEARS <= day.year - today.year <= _AS_OF_AHEAD_YEARS:
            self.fail(f'"{day.isoformat()}" is too far off. Check the year.', param, ctx)
        return day


as_of_option: Decorator = click.option(
    "--as-of",
    "as_of",
    type=KnownBy(),
    metavar="DATE",
    help="Answer as if only what was logged by then were known.",
)
"""Gives the command `as_of: date | None`; without it, use `desk.today()`."""

json_option: Decorator = click.option(
    "--json", "as_json", is_flag=True, help="Print one JSON document and nothing else."
)
"""Gives the command `as_json: bool`."""


def help_text(says: str, *examples: str) -> str:
    r"""A command's help with its examples on lines of their own (`@click.command(help=help_text(...))`)."""
    return f"{says}\n\n\b\n" + "\n".join(examples)


def say(text: str = "") -> None:
    """Print text to standard output, every line harmless to a terminal."""
    for line in text.split("\n"):
        click.echo(printable(line))


def say_json(document: object) -> None:
    """Print one JSON document to standard output; only ASCII, so no name can steer a terminal."""
    from json import dumps

    click.echo(dumps(document, indent=2))


def complain(text: str) -> None:
    """Print text to standard error, every line harmless to a terminal."""
    for line in text.split("\n"):
        click.echo(printable(line), err=True)


def run_verb(command: Callable[P, T]) -> Callable[P, T]:
    """Around a command's function (innermost): a refusal is one line per problem and its exit status.

    A reader who closed the pipe early got what they wanted: quiet, status 0. Ctrl-C is status 130.
    """

    @wraps(command)
    def run(*args: P.args, **kwargs: P.kwargs) -> T:
        try:
            answer = command(*args, **kwargs)
            sys.stdout.flush()
        except LastcoatError as refusal:
            for problem in refusal.problems:
                complain(_one_line(str(problem)))
            raise click.exceptions.Exit(refusal.exit_status) from None
        except BrokenPipeError:
            _let_go_of_stdout()
            raise click.exceptions.Exit(0) from None
        except KeyboardInterrupt:
            complain("Stopped.")
            raise click.exceptions.Exit(INTERRUPTED) from None
        except OSError as refusal:
            complain(_one_line(_system_words(refusal)))
            raise click.exceptions.Exit(1) from None
        return answer

    return run


def _system_words(refusal: OSError) -> str:
    """What the system refused, and how to mend it where that is known."""
    where = refusal.filename or "the file"
    if refusal.errno in (errno.ENOSPC, errno.EDQUOT):
        return f"{where}: the disk is full, so nothing was written. Make room and do it again"
    if refusal.errno in (errno.EFBIG, errno.EIO):
        return f"{where}: the disk refused to read or write. Check its space and health"
    return f"{where}: {refusal.strerror or refusal}."


def _let_go_of_stdout() -> None:
    """So that the interpreter does not complain at its end (docs.python.org, signal, on SIGPIPE)."""
    with suppress(OSError, ValueError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, sys.stdout.fileno())
        os.close(nowhere)


def _one_line(text: str) -> str:
    return text.replace("\r", "\\r").replace("\n", "\\n")
