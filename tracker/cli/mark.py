"""`lastcoat mark`."""

from __future__ import annotations

from datetime import date

import click

from tracker.cli.common import Day, db_option, help_text, run_verb, say
from tracker.workbench.desk import Desk


@click.command(
    help=help_text(
        "Correct where models stand with a step: not yet, in hand, done, or skipped.",
        "lastcoat mark --unit Spears --models 1-5 --step priming --state done",
    )
)
@click.option("--unit", required=True, metavar="U", help="The unit.")
@click.option(
    "--models", default="all", show_default=True, metavar="WHICH", help='"1-5,8", a name, or "all".'
)
@click.option("--step", required=True, metavar="S", help="The step.")
@click.option(
    "--state",
    type=click.Choice(["not yet", "in hand", "done", "skipped"]),
    default="done",
    show_default=True,
    help="Where they stand with it.",
)
@click.option("--army", metavar="A", help="Its army, when units of several have that name.")
@click.option("--date", "day", type=Day(), metavar="DATE", help="Since when (default: this evening).")
@db_option
@run_verb
def command(
    desk: Desk, *, unit: str, models: str, step: str, state: str, army: str | None, day: date | None
) -> None:
    """Store the mark and say on which models."""
    from tracker.workbench.models import mark

    say(mark(desk, unit, models, step, state, army=army, day=day).sentence())
