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
        "Write dates, goals, steps, backlog, evenings and pace as one page. It is one file and works without"
        " a network.",
        "lastcoat report backlog.html",
        "lastcoat report backlog.html --plain --figures figures",
    ),
)
@click.argument("file", type=click.Path())
@click.option(
    "--figures", metavar="FOLDER", help="Write every figure as an SVG file into this folder as well."
)
@click.option(
    "--plain", is_flag=True, help="A small page without script: figures do not answer to the pointer."
)
@db_option
@as_of_option
@draws_option
@seed_option
@run_verb
def command(
    file: str, desk: Desk, *, figures: str | None, plain: bool, as_of: date | None, draws: int, seed: int
) -> None:
    """Write and say where."""
    from tracker.workbench.report_out import write_report

    say(write_report(desk, file, as_of, figures=figures, live=not plain, seed=seed, draws=draws).words())
