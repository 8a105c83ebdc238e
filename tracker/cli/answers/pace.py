"""`lastcoat pace`: your own minutes per step."""

from __future__ import annotations

from datetime import date

import click

from tracker.cli.answers import seed_option, width
from tracker.cli.common import as_of_option, db_option, help_text, json_option, run_verb, say, say_json
from tracker.workbench.desk import Desk


@click.command(
    "pace",
    help=help_text(
        "Your own minutes per model for every step, as ranges, and how much of it is learned from you.",
        "lastcoat pace",
    ),
)
@db_option
@as_of_option
@seed_option
@json_option
@run_verb
def command(desk: Desk, as_of: date | None, seed: int, as_json: bool) -> None:
    """Ask and print."""
    from tracker.report.answers import pace_json
    from tracker.report.words import pace_text
    from tracker.workbench.answers import pace_answer

    answer = pace_answer(desk, as_of, seed=seed)
    if as_json:
        say_json(pace_json(answer))
    else:
        say(pace_text(answer, width()))
