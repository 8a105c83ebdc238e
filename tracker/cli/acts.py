"""A command with acts of its own: each lies in a module of its package, loaded only when it runs."""

from __future__ import annotations

from collections.abc import Mapping
from importlib import import_module
from typing import Any

import click

BOOK_SHEETS = ("recipes", "spares", "roles", "sources")
"""The sheets of the bench book: each has a module of its name in the sheets, NAME_sheet in the workbench."""


class Acts(click.Group):
    """A group that loads an act's module only when it runs."""

    def __init__(self, *args: Any, package: str, acts: Mapping[str, tuple[str, str]], **more: Any) -> None:
        super().__init__(*args, **more)
        self._package = package
        self._acts = acts
        """Name of an act -> its module in the package and its line in the help."""

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002 - click's signature
        """Names in the order of the help."""
        return list(self._acts)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:  # noqa: ARG002
        """The act itself."""
        if cmd_name not in self._acts:
            return None
        module = import_module(f"{self._package}.{self._acts[cmd_name][0]}")
        act: click.Command = getattr(module, f"{cmd_name}_command")
        return act

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:  # noqa: ARG002
        """The list of acts, from the table alone."""
        with formatter.section("Commands"):
            formatter.write_dl([(name, words) for name, (_, words) in self._acts.items()])


def acts_of(package: str, acts: Mapping[str, tuple[str, str]], text: str) -> Acts:
    """The command whose acts lie in modules of a package, with its help."""
    options = {"help_option_names": ["-h", "--help"]}
    name = package.rpartition(".")[2]
    return Acts(name=name, package=package, acts=acts, help=text, context_settings=options)
