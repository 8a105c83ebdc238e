"""`lastcoat recipe use`, `unuse` and `from`."""

from __future__ import annotations

import click

from tracker.cli.common import Decorator, db_option, help_text, run_verb, say
from tracker.workbench.desk import Desk

_unit_option: Decorator = click.option("--unit", metavar="U", help="The unit.")
_army_option: Decorator = click.option(
    "--army", metavar="A", help="Without a unit: the whole army (rims, bases). With one: the unit's army."
)


@click.command(
    "use",
    help=help_text(
        "Say which unit or army is painted with a recipe: with its newest version, or with the one you name. "
        "One that was painted with another version moves to this one, and that is said.",
        'lastcoat recipe use "Red cloaks" --unit Spears',
        'lastcoat recipe use "Red cloaks" --unit Riders --version 1',
        'lastcoat recipe use "Red cloaks" --army "My army"',
    ),
)
@click.argument("name")
@_unit_option
@_army_option
@click.option("--version", type=int, metavar="N", help="The version (default: the newest).")
@db_option
@run_verb
def use_command(desk: Desk, *, name: str, unit: str | None, army: str | None, version: int | None) -> None:
    """Store it and say it."""
    from tracker.workbench.recipes_used import use_recipe

    say(use_recipe(desk, name, unit=unit, army=army, version=version).sentence())


@click.command(
    "unuse",
    help=help_text(
        "A unit or army no longer goes by a recipe.", 'lastcoat recipe unuse "Red cloaks" --unit Spears'
    ),
)
@click.argument("name")
@_unit_option
@_army_option
@db_option
@run_verb
def unuse_command(desk: Desk, *, name: str, unit: str | None, army: str | None) -> None:
    """Store it and say it."""
    from tracker.workbench.recipes_used import stop_using

    say(stop_using(desk, name, unit=unit, army=army).sentence())


@click.command(
    "from",
    help=help_text(
        'A recipe from the notes of a unit\'s evenings that are written like "cloth: dark red, wash", in the '
        "order of the evenings. The recipe is called as the unit unless you name it; one of that name gets a "
        "new version. The unit goes by it from then on.",
        "lastcoat recipe from Spears",
        'lastcoat recipe from Spears --name "Spear cloaks"',
    ),
)
@click.argument("unit")
@click.option("--name", default="", metavar="T", help="The recipe's name (default: the unit's).")
@click.option("--army", metavar="A", help="Its army, when units of several have that name.")
@db_option
@run_verb
def from_command(desk: Desk, *, unit: str, name: str, army: str | None) -> None:
    """Store it and say what was taken."""
    from tracker.workbench.recipes_used import recipe_from_log

    say(recipe_from_log(desk, unit, army=army, name=name).sentence())
