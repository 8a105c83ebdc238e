"""`lastcoat recipe add`, `change`, `copy`, `rename` and `drop`."""

from __future__ import annotations

import click

from tracker.cli.common import db_option, help_text, run_verb, say
from tracker.workbench.desk import Desk

FORM = (
    'TEXT names areas and their steps: "cloth: dark red, wash, mid red 2:1 water, orange edge?; trim: gold". '
    'A word like "wash" or "edge" ends a step or stands alone; "2:1" is the mix, behind it the medium; '
    '"?" = probably, "??" = a guess.'
)


@click.command(
    "add",
    help=help_text(
        f"Write a recipe down; without TEXT its steps come later. {FORM}",
        'lastcoat recipe add "Red cloaks" "cloth: dark red, wash, orange edge?"',
        'lastcoat recipe add "Army rims" "rim: dark brown" --primer black --note thin',
    ),
)
@click.argument("name")
@click.argument("text", required=False, default="")
@click.option("--primer", default="", metavar="T", help="The primer beneath, in your own words.")
@click.option("--note", default="", metavar="T", help="A note on the recipe.")
@db_option
@run_verb
def add_command(desk: Desk, *, name: str, text: str, primer: str, note: str) -> None:
    """Store it and say it."""
    from tracker.workbench.recipes import add_recipe

    say(add_recipe(desk, name, text, primer=primer, note=note).sentence())


@click.command(
    "change",
    help=help_text(
        "A new version: the areas that TEXT names have these steps now, all else stays. Units keep the "
        "version they were painted with.",
        'lastcoat recipe change "Red cloaks" "cloth: dark red, pink edge" --note pink',
        'lastcoat recipe change "Red cloaks" --primer white',
        'lastcoat recipe change "Red cloaks" --drop-area trim',
    ),
)
@click.argument("name")
@click.argument("text", required=False, default="")
@click.option("--primer", metavar="T", help="The primer beneath.")
@click.option("--drop-area", "without", multiple=True, metavar="AREA", help="An area that goes.")
@click.option("--note", default="", metavar="T", help="What was changed, or why.")
@db_option
@run_verb
def change_command(
    desk: Desk, *, name: str, text: str, primer: str | None, without: tuple[str, ...], note: str
) -> None:
    """Store it and say it."""
    from tracker.workbench.recipes import change_recipe

    say(change_recipe(desk, name, text, primer=primer, note=note, without=without).sentence())


@click.command(
    "copy",
    help=help_text(
        "A variant: a new recipe that begins as a copy, with what TEXT says otherwise. The original stays as "
        "it is.",
        'lastcoat recipe copy "Red cloaks" "Blue cloaks" "cloth: dark blue, wash"',
    ),
)
@click.argument("name")
@click.argument("new", metavar="NEW_NAME")
@click.argument("text", required=False, default="")
@click.option("--version", type=int, metavar="N", help="The version to copy (default: the newest).")
@click.option("--primer", metavar="T", help="Another primer beneath.")
@click.option("--note", default="", metavar="T", help="A note on the new recipe.")
@db_option
@run_verb
def copy_command(
    desk: Desk, *, name: str, new: str, text: str, version: int | None, primer: str | None, note: str
) -> None:
    """Store it and say it."""
    from tracker.workbench.recipes import copy_recipe

    say(copy_recipe(desk, name, new, text, version=version, primer=primer, note=note).sentence())


@click.command(
    "rename",
    help=help_text("Another name for a recipe.", 'lastcoat recipe rename "Red cloaks" "Crimson cloaks"'),
)
@click.argument("name")
@click.argument("new", metavar="NEW_NAME")
@click.option("--note", metavar="T", help="Another note on the recipe.")
@db_option
@run_verb
def rename_command(desk: Desk, *, name: str, new: str, note: str | None) -> None:
    """Store it and say it."""
    from tracker.workbench.recipes import rename_recipe

    say(rename_recipe(desk, name, new, note=note).sentence())


@click.command(
    "drop",
    help=help_text(
        "Take a recipe out with all its versions. One that a unit or army is painted with, or that another "
        "came from, stays.",
        'lastcoat recipe drop "Red cloaks"',
    ),
)
@click.argument("name")
@db_option
@run_verb
def drop_command(desk: Desk, *, name: str) -> None:
    """Take it out and say so."""
    from tracker.workbench.recipes import drop_recipe

    say(drop_recipe(desk, name).sentence())
