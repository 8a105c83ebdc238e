"""`lastcoat recipe list` and `show`: they answer and store nothing."""

from __future__ import annotations

import click

from tracker.cli.answers import width
from tracker.cli.common import db_option, help_text, json_option, run_verb, say, say_json
from tracker.domain.problems import Problem, UsageError
from tracker.workbench.desk import Desk


@click.command(
    "list",
    help=help_text(
        "Every recipe with its newest version and who is painted with it.", "lastcoat recipe list"
    ),
)
@db_option
@json_option
@run_verb
def list_command(desk: Desk, *, as_json: bool) -> None:
    """Ask and print."""
    from tracker.workbench.recipes_known import list_recipes

    answer = list_recipes(desk)
    if as_json:
        from tracker.report.recipe_json import recipes_json

        say_json(recipes_json(answer))
    else:
        from tracker.report.recipe_words import recipes_text

        say(recipes_text(answer, width()))


@click.command(
    "show",
    help=help_text(
        "One recipe step by step, the newest version unless you name one; or what a unit and its army are "
        "painted with.",
        'lastcoat recipe show "Red cloaks"',
        'lastcoat recipe show "Red cloaks" --version 1',
        "lastcoat recipe show --unit Spears",
    ),
)
@click.argument("name", required=False)
@click.option("--version", type=int, metavar="N", help="This version.")
@click.option("--unit", metavar="U", help="The versions that this unit and its army are painted with.")
@click.option("--army", metavar="A", help="Its army, when units of several have that name.")
@db_option
@json_option
@run_verb
def show_command(
    desk: Desk, *, name: str | None, version: int | None, unit: str | None, army: str | None, as_json: bool
) -> None:
    """Ask and print."""
    if (name is None) == (unit is None):
        raise UsageError(Problem("recipe show", "what is shown?", "Say a recipe's name, or --unit"))
    if name is not None:
        _recipe(desk, name, version, as_json)
    else:
        _unit(desk, unit or "", army, as_json)


def _recipe(desk: Desk, name: str, version: int | None, as_json: bool) -> None:
    from tracker.workbench.recipes_known import show_recipe

    look = show_recipe(desk, name, version)
    if as_json:
        from tracker.report.recipe_json import recipe_json

        say_json(recipe_json(look, desk.evening_day()))
    else:
        from tracker.report.recipe_words import recipe_text

        say(recipe_text(look, width()))


def _unit(desk: Desk, unit: str, army: str | None, as_json: bool) -> None:
    from tracker.workbench.recipes_known import show_unit

    answer = show_unit(desk, unit, army)
    if as_json:
        from tracker.report.recipe_json import recipes_json

        say_json(recipes_json(answer))
    else:
        from tracker.report.recipe_words import recipes_text

        say(recipes_text(answer, width()))
