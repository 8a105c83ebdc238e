"""`lastcoat photo add` and `drop`."""

from __future__ import annotations

from datetime import date

import click

from tracker.cli.common import Day, db_option, help_text, run_verb, say
from tracker.workbench.desk import Desk


@click.command(
    "add",
    help=help_text(
        "Copy pictures beside the log, tied to a unit (or one of its models, or a spare) and to the step "
        "they show the end of. The day is what the picture says, else today.",
        "lastcoat photo add spears.jpg --unit Spears --step priming",
        "lastcoat photo add front.png back.png --unit Spears --model 3",
    ),
)
@click.argument("files", nargs=-1, required=True, metavar="FILE...")
@click.option("--unit", default="", metavar="U", help="The unit they show.")
@click.option("--army", metavar="A", help="Its army, where two have a unit of that name.")
@click.option("--model", default="", metavar="M", help="One model of it, by number or name.")
@click.option("--spare", type=int, metavar="N", help="A spare, by its number, instead of a unit.")
@click.option("--step", default="", metavar="S", help="The step they show the end of.")
@click.option("--note", default="", metavar="T", help="What is to be seen.")
@click.option("--date", "day", type=Day(), metavar="DATE", help="The day they were taken.")
@db_option
@run_verb
def add_command(
    desk: Desk,
    *,
    files: tuple[str, ...],
    unit: str,
    army: str | None,
    model: str,
    spare: int | None,
    step: str,
    note: str,
    day: date | None,
) -> None:
    """Store and say what was stored."""
    from tracker.workbench.photos import PhotoWish, add_photos

    say(add_photos(desk, files, PhotoWish(unit, army, model, spare, step, note, day)).sentence())


@click.command(
    "drop",
    help=help_text(
        "Forget a photo, by its number. Its file stays until: lastcoat photo tidy.",
        "lastcoat photo drop 1",
    ),
)
@click.argument("number", type=int)
@db_option
@run_verb
def drop_command(desk: Desk, *, number: int) -> None:
    """Store and say what was stored."""
    from tracker.workbench.photos import drop_photo

    say(drop_photo(desk, number).sentence())
