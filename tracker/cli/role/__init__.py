"""`lastcoat role`: places in a unit that a model is wanted for, and the spares that would do."""

from __future__ import annotations

import click

from tracker.cli.acts import Acts
from tracker.cli.common import help_text

ACTS: dict[str, tuple[str, str]] = {
    "show": ("look", "Every role and who has it."),
    "match": ("look", "The best spares for each open role."),
    "add": ("say", "Plan roles in a unit."),
    "fill": ("say", "A spare takes a role."),
    "free": ("say", "A role waits again."),
    "drop": ("say", "Give a role up."),
}
"""Name of an act -> its module in this folder and its line in the help."""


@click.command(
    cls=Acts,
    package=__name__,
    acts=ACTS,
    context_settings={"help_option_names": ["-h", "--help"]},
    help=help_text(
        "Places in a unit that a model is wanted for. An open role is no model and no backlog.",
        "lastcoat role add Spears captain --base 25x25 --tag sword",
        "lastcoat role match captain",
        "lastcoat role fill captain 3 --stand-in",
    ),
)
def command() -> None:
    """Choose what to do."""
