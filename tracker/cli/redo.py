"""`lastcoat redo`."""

from __future__ import annotations

import click

from tracker.cli.common import db_option, help_text, run_verb, say
from tracker.workbench.desk import Desk


@click.command(
    help=help_text("Bring back what undo took back last. A new change ends that.", "lastcoat redo")
)
@db_option
@run_verb
def command(desk: Desk) -> None:
    """Bring back the change that was taken back last and say what it was."""
    from tracker.workbench.past import redo

    say(redo(desk).sentence("Brought back"))
