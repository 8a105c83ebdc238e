"""`lastcoat plan`: evenings to come, as the person means them; each act is a command of its own."""

from __future__ import annotations

from importlib import import_module

import click

from tracker.cli.common import help_text

ACTS: dict[str, tuple[str, str]] = {
    "evenings": ("say", 'Recurring evenings, such as "every Tuesday and Thursday".'),
    "once": ("say", "One evening, or a long day at the desk."),
    "away": ("say", "Days away: none is expected, and none is missed."),
    "show": ("look", "What is planned, and how well plans were kept."),
    "drop": ("look", "Take one plan back, by its number."),
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
        module = import_module(f"tracker.cli.plan.{ACTS[cmd_name][0]}")
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
        "Evenings to come as you mean them. The dates take them as a hint, and rest on what happened.",
        'lastcoat plan evenings "every Tuesday and Thursday"',
        "lastcoat plan once 2027-03-06 --minutes 240",
        "lastcoat plan away 2027-04-01 2027-04-10",
        "lastcoat plan show",
    ),
)
def command() -> None:
    """Choose what to say."""
