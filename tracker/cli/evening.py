"""`lastcoat evening`."""

from __future__ import annotations

from datetime import date

import click

from tracker.cli.common import Day, db_option, help_text, run_verb, say
from tracker.workbench.desk import Desk


@click.command(
    help=help_text(
        "Say how long an evening was as a whole. Its lines without minutes of their own share it.",
        "lastcoat evening --minutes 90",
        "lastcoat evening --minutes 90 --date 2026-03-03",
    )
)
@click.option("--minutes", type=float, required=True, metavar="M", help="The evening's total minutes.")
@click.option("--date", "day", type=Day(), metavar="DATE", help="The day it began (default: this evening).")
@click.option("--evening", "label", metavar="NAME", help="Which one, when a day had several.")
@db_option
@run_verb
def command(desk: Desk, minutes: float, day: date | None, label: str | None) -> None:
    """Set the evening's total and say who shares it."""
    from tracker.workbench.evening import set_evening_minutes

    say(set_evening_minutes(desk, minutes, day, label).sentence())
