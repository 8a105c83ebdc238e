"""`lastcoat undo`."""

from __future__ import annotations

import click

from tracker.cli.common import db_option, help_text, run_verb, say
from tracker.workbench.desk import Desk


@click.command(
    help=help_text(
        "Take back the last change, whole: a logged line, an import, a unit. Again for the one before it.",
        "lastcoat undo",
    )
)
@db_option
@run_verb
def command(desk: Desk) -> None:
    """Take back the last change and say what it was."""
    from tracker.workbench.past import undo

    say(undo(desk).sentence("Taken back"))
