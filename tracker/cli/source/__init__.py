"""`lastcoat source`: where things came from, where they went, what they cost; each act is a command."""

from __future__ import annotations

import click

from tracker.cli.acts import Acts
from tracker.cli.common import help_text

ACTS: dict[str, tuple[str, str]] = {
    "show": ("look", "Every deal, the newest first."),
    "costs": ("look", "What each unit cost, in money and in hours."),
    "months": ("look", "What came in and went out, month by month."),
    "add": ("say", "Note what came in or went out."),
    "set": ("say", "Say a deal otherwise."),
    "drop": ("say", "Forget a deal."),
}
"""Name of an act -> its module in this folder and its line in the help."""


@click.command(
    cls=Acts,
    package=__name__,
    acts=ACTS,
    context_settings={"help_option_names": ["-h", "--help"]},
    help=help_text(
        "Where models and other things came from or went to, and what they cost. Money keeps its currency; "
        "two currencies are never added up.",
        'lastcoat source add bought --unit Spears --cost "12.50 EUR"',
        "lastcoat source show",
        "lastcoat source costs",
    ),
)
def command() -> None:
    """Choose what to do."""
