"""`lastcoat calendar FILE.ics`: what lies ahead, for the calendar a person uses anyway."""

from __future__ import annotations

from datetime import datetime, time
from typing import Any

import click

from tracker.cli.answers import draws_option, seed_option
from tracker.cli.common import db_option, help_text, run_verb, say
from tracker.workbench.desk import Desk


class Clock(click.ParamType[time]):
    """A time of day like 20:00."""

    name = "time"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> time:
        """The time, or a usage error that says how to write one."""
        if isinstance(value, time):
            return value
        try:
            return datetime.strptime(value, "%H:%M").time()
        except ValueError:
            self.fail(f'"{value}" is no time of day. Write it like 20:00.', param, ctx)


@click.command(
    "calendar",
    help=help_text(
        "Write goals, planned evenings, days away, the middle of every unit's ready dates and the ends of"
        " drying as a calendar file (RFC 5545). Read in again, it brings what it wrote before up to date."
        " What you no longer plan stays in your calendar until you take it out there.",
        "lastcoat calendar desk.ics",
        "lastcoat calendar desk.ics --at 20:00",
    ),
)
@click.argument("file", type=click.Path())
@click.option(
    "--at",
    type=Clock(),
    metavar="TIME",
    help="When planned evenings begin (default: when yours usually do; else they are whole days).",
)
@db_option
@draws_option
@seed_option
@run_verb
def command(file: str, desk: Desk, at: time | None, draws: int, seed: int) -> None:
    """Write and say where."""
    from tracker.workbench.calendar_out import write_calendar

    say(write_calendar(desk, file, at=at, seed=seed, draws=draws).words())
