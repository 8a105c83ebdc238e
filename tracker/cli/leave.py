"""`lastcoat leave`."""

from __future__ import annotations

from datetime import date

import click

from tracker.cli.common import Day, db_option, help_text, run_verb, say
from tracker.domain.records import DEPARTURES
from tracker.workbench.desk import Desk


@click.command(
    help=help_text(
        "Models leave: sold, given away or broken. What was done on them stays in the log.",
        "lastcoat leave --unit Riders --models 6-8 --how sold",
    )
)
@click.option("--unit", required=True, metavar="U", help="The unit.")
@click.option("--models", required=True, metavar="WHICH", help='"1-5,8", a name, or "all".')
@click.option(
    "--how", type=click.Choice(DEPARTURES), default="sold", show_default=True, help="How they left."
)
@click.option("--army", metavar="A", help="Its army, when units of several have that name.")
@click.option("--date", "day", type=Day(), metavar="DATE", help="When (default: this evening).")
@db_option
@run_verb
def command(desk: Desk, *, unit: str, models: str, how: str, army: str | None, day: date | None) -> None:
    """Store it and say which models left."""
    from tracker.workbench.models import leave

    say(leave(desk, unit, models, how, army=army, day=day).sentence())
