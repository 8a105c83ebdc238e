"""`lastcoat paint out` and `back`."""

from __future__ import annotations

import click

from tracker.cli.common import db_option, help_text, run_verb, say
from tracker.workbench.desk import Desk


@click.command(
    "out",
    help=help_text(
        "A paint ran out. Recipes stay as they are and say so.",
        'lastcoat paint out "dark red"',
        'lastcoat paint out "dark red" --use "mid red"',
    ),
)
@click.argument("name")
@click.option("--use", default="", metavar="T", help="What you use in its place.")
@db_option
@run_verb
def out_command(desk: Desk, *, name: str, use: str) -> None:
    """Store it and say it."""
    from tracker.workbench.paints import paint_out

    say(paint_out(desk, name, use).sentence())


@click.command(
    "back", help=help_text("A paint that was out is there again.", 'lastcoat paint back "dark red"')
)
@click.argument("name")
@db_option
@run_verb
def back_command(desk: Desk, *, name: str) -> None:
    """Store it and say it."""
    from tracker.workbench.paints import paint_back

    say(paint_back(desk, name).sentence())
