"""`lastcoat recipe sheet NAME FILE`: one recipe as a page to print."""

from __future__ import annotations

import click

from tracker.cli.common import db_option, help_text, run_verb, say
from tracker.workbench.desk import Desk


@click.command(
    "sheet",
    help=help_text(
        "Write one recipe as a page to print and lay beside the desk; it needs nothing but itself.",
        'lastcoat recipe sheet "Red cloaks" cloaks.html',
        'lastcoat recipe sheet "Red cloaks" cloaks.html --version 1 --paper letter',
    ),
)
@click.argument("name")
@click.argument("file", type=click.Path())
@click.option("--version", type=int, metavar="N", help="This version (default: the newest).")
@click.option(
    "--paper",
    type=click.Choice(("a4", "letter")),
    default="a4",
    show_default=True,
    help="What it is printed on.",
)
@db_option
@run_verb
def sheet_command(desk: Desk, *, name: str, file: str, version: int | None, paper: str) -> None:
    """Write and say where."""
    from tracker.workbench.recipes_out import write_recipe_page

    say(write_recipe_page(desk, name, file, version=version, letter=paper == "letter").words())
