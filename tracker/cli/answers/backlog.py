"""`lastcoat backlog`: how the backlog moved and when it ends."""

from __future__ import annotations

from datetime import date

import click

from tracker.cli.answers import draws_option, plain_signs, seed_option, width
from tracker.cli.common import as_of_option, db_option, help_text, json_option, run_verb, say, say_json
from tracker.workbench.desk import Desk


@click.command(
    "backlog",
    help=help_text(
        "How the backlog moved, what came in and went, and when it ends.",
        "lastcoat backlog",
        "lastcoat backlog --evenings",
        "lastcoat backlog --json",
    ),
)
@click.option(
    "--evenings", "with_evenings", is_flag=True, help="Draw the evenings of the past weeks as well."
)
@db_option
@as_of_option
@draws_option
@seed_option
@json_option
@run_verb
def command(
    desk: Desk, *, as_of: date | None, draws: int, seed: int, as_json: bool, with_evenings: bool
) -> None:
    """Ask and print."""
    from tracker.report.answers import backlog_json
    from tracker.report.words import backlog_text
    from tracker.workbench.answers import backlog

    answer = backlog(desk, as_of, seed=seed, draws=draws)
    if as_json:
        say_json(backlog_json(answer))
    else:
        say(backlog_text(answer, width(), plain=plain_signs()))
        if with_evenings:
            from tracker.report.fan import evenings_text
            from tracker.workbench.army import evening_minutes

            days = [one for one in evening_minutes(desk) if one[0] <= answer.as_of]
            say("\n" + evenings_text(days, answer.as_of, width(), plain=plain_signs()))
