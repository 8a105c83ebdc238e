"""Bare `lastcoat`: the terminal UI where there is a terminal, else what is ready to work on."""

from __future__ import annotations

import os
import sys

import click

from tracker.workbench.desk import Desk


def has_terminal() -> bool:
    """Whether a person sits at a terminal that can show a screen."""
    streams = (sys.stdin, sys.stdout, sys.stderr)
    return all(stream and stream.isatty() for stream in streams) and os.environ.get("TERM", "") not in (
        "", "dumb",
    )  # fmt: skip


def open_desk(ctx: click.Context, desk: Desk, otherwise: str) -> None:
    """Open the screens, or run the command that prints instead."""
    if has_terminal():
        from tracker.tui.start import run

        ctx.exit(run(desk))
    group = ctx.command
    command = group.get_command(ctx, otherwise) if isinstance(group, click.Group) else None
    if command is not None:
        with command.make_context(otherwise, [], parent=ctx) as bare:
            command.invoke(bare)
