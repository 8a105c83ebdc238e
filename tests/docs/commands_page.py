"""docs/commands.md: the help of every command, as the program prints it."""

from __future__ import annotations

import click

from tests.docs.places import NOTE
from tracker.cli.main import COMMANDS, main

_WIDTH = 78
"""What a terminal of 80 columns gives."""

_INTRODUCTION = """\
Answers go to standard output, and what went wrong goes to standard error, one line per problem. The exit
status is 0 when it worked, 1 when something about the data or a file stood in the way, 2 when the command
was not understood, 130 when it was interrupted."""


def help_of(name: str) -> str:
    """What `lastcoat NAME --help` prints; the program's own help for the empty name."""
    top = click.Context(main, info_name="lastcoat", terminal_width=_WIDTH, **main.context_settings)
    if not name:
        return main.get_help(top)
    ctx: click.Context = top
    command: click.Command = main
    for word in name.split():
        found = command.get_command(ctx, word) if isinstance(command, click.Group) else None
        if found is None:
            raise LookupError(name)
        ctx, command = click.Context(found, parent=ctx, info_name=word), found
    return command.get_help(ctx)


def every_command() -> list[str]:
    """Names of all commands, each followed by its acts ("unit show")."""
    ctx = click.Context(main)
    out = []
    for name in COMMANDS:
        command = main.get_command(ctx, name)
        acts = command.list_commands(ctx) if isinstance(command, click.Group) else []
        out += [name, *(f"{name} {act}" for act in acts)]
    return out


def commands_page() -> str:
    """The whole page."""
    parts = [
        f"{NOTE}\n# Commands",
        _INTRODUCTION,
        _block(help_of("")),
    ]
    for name in every_command():
        parts += [f"## lastcoat {name}", _block(help_of(name))]
    return "\n\n".join(parts) + "\n"


def _block(text: str) -> str:
    lines = text.replace("\b\n", "").rstrip().splitlines()
    return "\n".join(f"    {line}".rstrip() for line in lines)
