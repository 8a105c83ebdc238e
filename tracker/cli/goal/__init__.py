"""`lastcoat goal`: what must be table-ready by a day; each act is a command of its own."""

from __future__ import annotations

from importlib import import_module

import click

from tracker.cli.common import help_text

ACTS: dict[str, tuple[str, str]] = {
    "show": ("look", "Every goal: its chance, its days, when to begin."),
    "cut": ("look", "What could stay undone so that a goal is kept."),
    "pick": ("look", "The units worth most points by a day."),
    "add": ("say", "Set a goal: units, a number of models, or points."),
    "set": ("say", "Another day, name or size."),
    "drop": ("say", "Give a goal up."),
}
"""Name of an act -> its module in this folder and its line in the help."""


class Acts(click.Group):
    """A group that loads an act's module only when it runs."""

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002 - click's signature
        """Names in the order of the help."""
        return list(ACTS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:  # noqa: ARG002
        """The act itself."""
        if cmd_name not in ACTS:
            return None
        module = import_module(f"tracker.cli.goal.{ACTS[cmd_name][0]}")
        act: click.Command = getattr(module, f"{cmd_name}_command")
        return act

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:  # noqa: ARG002
        """The list of acts, from the table alone."""
        with formatter.section("Commands"):
            formatter.write_dl([(name, words) for name, (_, words) in ACTS.items()])


@click.command(
    cls=Acts,
    context_settings={"help_option_names": ["-h", "--help"]},
    help=help_text(
        "What must be table-ready by a day, and how it stands.",
        'lastcoat goal add "Spring game" 2027-03-13 --unit Spears --unit Riders',
        "lastcoat goal show",
        'lastcoat goal cut "Spring game"',
        "lastcoat goal pick 2027-03-13",
    ),
)
def command() -> None:
    """Choose what to do."""
