"""`lastcoat tonight`: where it was left off, and what can be finished in the time there is."""

from __future__ import annotations

import click

from tracker.cli.common import db_option, help_text, json_option, run_verb, say, say_json
from tracker.workbench.desk import Desk


@click.command(
    help=help_text(
        "Where you left off, what is ready and what is drying; with minutes, what can be finished in them.",
        "lastcoat tonight",
        "lastcoat tonight 45",
    )
)
@click.argument("minutes", type=float, required=False)
@json_option
@db_option
@run_verb
def command(desk: Desk, minutes: float | None, as_json: bool) -> None:
    """Ask and print."""
    from tracker.cli.answers import width
    from tracker.report.tonight_answer import tonight_json, tonight_text
    from tracker.workbench.tonight import tonight

    answer = tonight(desk, minutes)
    if as_json:
        say_json(tonight_json(answer))
    else:
        say(tonight_text(answer, width()))
