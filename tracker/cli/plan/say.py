"""`lastcoat plan evenings`, `once` and `away`."""

from __future__ import annotations

from datetime import date

import click

from tracker.cli.common import Day, db_option, help_text, run_verb, say
from tracker.workbench.desk import Desk

_note = click.option("--note", default="", metavar="TEXT", help="Why, or what for.")


@click.command(
    "evenings",
    help=help_text(
        "Recurring evenings, in plain words or as a rule of RFC 5545.",
        'lastcoat plan evenings "every Tuesday and Thursday"',
        'lastcoat plan evenings "every other Friday" --until 2027-06-30',
        'lastcoat plan evenings "FREQ=MONTHLY;BYDAY=1SA"',
    ),
)
@click.argument("rule")
@click.option("--from", "first", type=Day(), metavar="DATE", help="The day they begin (default: today).")
@click.option("--until", "last", type=Day(), metavar="DATE", help="The last day they are meant for.")
@click.option(
    "--without", type=Day(), multiple=True, metavar="DATE", help="Not on this one; may be repeated."
)
@_note
@db_option
@run_verb
def evenings_command(
    desk: Desk, *, rule: str, first: date | None, last: date | None, without: tuple[date, ...], note: str
) -> None:
    """Store and say what was understood."""
    from tracker.workbench.declared import plan_evenings

    say(plan_evenings(desk, rule, first=first, last=last, without=without, note=note).sentence())


@click.command(
    "once",
    help=help_text("One evening, or a long day at the desk.", "lastcoat plan once 2027-03-06 --minutes 240"),
)
@click.argument("day", type=Day(), metavar="DATE")
@click.option("--minutes", type=float, metavar="NUMBER", help="How long it is meant to be.")
@_note
@db_option
@run_verb
def once_command(desk: Desk, *, day: date, minutes: float | None, note: str) -> None:
    """Store and say what was understood."""
    from tracker.workbench.declared import plan_once

    say(plan_once(desk, day, minutes=minutes, note=note).sentence())


@click.command(
    "away",
    help=help_text(
        "Days away from the desk, coming or past: no evening is expected, and none counts as missed.",
        "lastcoat plan away 2027-04-01 2027-04-10",
    ),
)
@click.argument("first", type=Day(), metavar="DATE")
@click.argument("last", type=Day(), metavar="[DATE]", required=False)
@_note
@db_option
@run_verb
def away_command(desk: Desk, *, first: date, last: date | None, note: str) -> None:
    """Store and say what was understood."""
    from tracker.workbench.declared import plan_away

    say(plan_away(desk, first, last, note=note).sentence())
