"""`lastcoat ranks sheet FILE`: the plan at true scale."""

from __future__ import annotations

import click

from tracker.cli.common import db_option, help_text, run_verb, say
from tracker.cli.unit.options import army_option
from tracker.workbench.desk import Desk


@click.command(
    "sheet",
    help=help_text(
        "Write the unit as it stands, or the plan for it, at true scale: a page that lies on the tray's "
        "floor, with the numbers for the undersides, cut lines for tray and fillers, and a bar to check the "
        "printer. "
        "A name ending in .svg gives the drawing alone.",
        "lastcoat ranks sheet Spears spears.html",
        "lastcoat ranks sheet Spears spears.html --paper letter --plan",
        "lastcoat ranks sheet Spears spears.svg",
    ),
)
@click.argument("unit")
@click.argument("file", type=click.Path())
@click.option(
    "--paper",
    type=click.Choice(("a4", "letter")),
    default="a4",
    show_default=True,
    help="What it is printed on.",
)
@click.option("--plan", "planned", is_flag=True, help="The plan, not the order as it stands.")
@army_option
@db_option
@run_verb
def sheet_command(desk: Desk, *, unit: str, file: str, paper: str, planned: bool, army: str | None) -> None:
    """Write and say where."""
    from tracker.workbench.ranks_out import write_sheet

    done = write_sheet(desk, unit, file, letter=paper == "letter", planned=planned, army=army)
    say(done.words())
