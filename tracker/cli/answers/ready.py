"""`lastcoat ready`, and bare `lastcoat`: what can be worked on tonight."""

from __future__ import annotations

import click

from tracker.cli.common import db_option, help_text, json_option, run_verb, say, say_json
from tracker.workbench.desk import Desk


@click.command(
    "ready", help=help_text("What can be worked on tonight, and what is still drying.", "lastcoat ready")
)
@db_option
@json_option
@run_verb
def command(desk: Desk, as_json: bool) -> None:
    """Ask and print."""
    from tracker.report.tonight import ready_json, ready_text
    from tracker.workbench.answers import tonight_list

    answer = tonight_list(desk)
    if as_json:
        say_json(ready_json(answer))
    else:
        from tracker.cli.answers import width

        say(ready_text(answer, width()))
