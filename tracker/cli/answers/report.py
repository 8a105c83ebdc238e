"""`lastcoat report FILE.html`: all of it as one page for the browser."""

from __future__ import annotations

from datetime import date

import click

from tracker.cli.answers import draws_option, seed_option
from tracker.cli.common import as_of_option, db_option, help_text, run_verb, say
from tracker.workbench.desk import Desk


@click.command(
    "report",
    help=help_text(
        "Write forecast, backlog, pace and evenings as one page. It is one file and works without a network.",
        "lastcoat report backlog.html",
    ),
)
@click.argument("file", type=click.Path())
@db_option
@as_of_option
@draws_option
@seed_option
@run_verb
def command(file: str, desk: Desk, as_of: date | None, draws: int, seed: int) -> None:
    """Write and say where."""
    from tracker.workbench.answers import write_report

    say(f"Wrote {write_report(desk, file, as_of, seed=seed, draws=draws)}")
