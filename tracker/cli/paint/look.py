"""`lastcoat paint list` and `needs`: they answer and store nothing."""

from __future__ import annotations

from datetime import date

import click

from tracker.cli.answers import draws_option, seed_option, width
from tracker.cli.common import as_of_option, db_option, help_text, json_option, run_verb, say, say_json
from tracker.workbench.desk import Desk


@click.command(
    "list",
    help=help_text(
        "Every paint that a recipe names: in how many recipes and units, and which are out.",
        "lastcoat paint list",
    ),
)
@db_option
@json_option
@run_verb
def list_command(desk: Desk, *, as_json: bool) -> None:
    """Ask and print."""
    from tracker.workbench.paints import list_paints

    answer = list_paints(desk)
    if as_json:
        from tracker.report.recipe_json import paints_json

        say_json(paints_json(answer))
    else:
        from tracker.report.recipe_paints import paints_text

        say(paints_text(answer, width()))


@click.command(
    "needs",
    help=help_text(
        "Which units still need a paint, or without a name every paint that is out, and about how much work "
        "depends on it.",
        "lastcoat paint needs",
        'lastcoat paint needs "dark red"',
    ),
)
@click.argument("name", required=False, default="")
@db_option
@as_of_option
@draws_option
@seed_option
@json_option
@run_verb
def needs_command(desk: Desk, *, name: str, as_of: date | None, draws: int, seed: int, as_json: bool) -> None:
    """Ask and print."""
    from tracker.workbench.paints import paint_needs

    answer = paint_needs(desk, name, as_of, seed=seed, draws=draws)
    if as_json:
        from tracker.report.recipe_json import needs_json

        say_json(needs_json(answer))
    else:
        from tracker.report.recipe_paints import needs_text

        say(needs_text(answer, width()))
