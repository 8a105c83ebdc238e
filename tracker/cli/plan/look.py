"""`lastcoat plan show` and `lastcoat plan drop`."""

from __future__ import annotations

import click

from tracker.cli.common import db_option, help_text, json_option, run_verb, say, say_json
from tracker.workbench.desk import Desk


@click.command("show", help=help_text("What is planned, and how well plans were kept.", "lastcoat plan show"))
@json_option
@db_option
@run_verb
def show_command(desk: Desk, *, as_json: bool) -> None:
    """Ask and print."""
    from tracker.cli.answers import width
    from tracker.report.plan_words import plans_json, plans_text
    from tracker.workbench.declared import plan_words, plans

    answer = plans(desk)
    if as_json:
        say_json(plans_json(answer))
    else:
        words = [plan_words(said, answer.as_of) for said in answer.declared]
        say(plans_text(answer, words, width()))


@click.command(
    "drop", help=help_text("Take one plan back, by its number in the list.", "lastcoat plan drop 1")
)
@click.argument("number", type=int)
@db_option
@run_verb
def drop_command(desk: Desk, *, number: int) -> None:
    """Take it back and say so."""
    from tracker.workbench.declared import drop_plan

    say(drop_plan(desk, number).sentence())
