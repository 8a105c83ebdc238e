"""`lastcoat photo show`."""

from __future__ import annotations

import click

from tracker.cli.answers import width
from tracker.cli.common import db_option, help_text, json_option, run_verb, say, say_json
from tracker.workbench.desk import Desk


@click.command(
    "show",
    help=help_text(
        "Every photo with its number, oldest first.",
        "lastcoat photo show",
        "lastcoat photo show --unit Spears",
    ),
)
@click.option("--unit", default="", metavar="U", help="Only those of this unit and its models.")
@click.option("--army", metavar="A", help="Its army, where two have a unit of that name.")
@json_option
@db_option
@run_verb
def show_command(desk: Desk, *, unit: str, army: str | None, as_json: bool) -> None:
    """Ask and print."""
    from tracker.report.photo_words import photos_json, photos_text
    from tracker.workbench.photos import photos

    answer = photos(desk, unit, army=army)
    if as_json:
        say_json(photos_json(answer))
    else:
        say(photos_text(answer, width()))
