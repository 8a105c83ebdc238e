"""`lastcoat army`: every unit, what is left of it and when it is table-ready."""

from __future__ import annotations

import click

from tracker.cli.answers import width
from tracker.cli.common import db_option, help_text, json_option, run_verb, say, say_json
from tracker.workbench.desk import Desk

SORTS = ("order", "name", "work", "date", "goal")
"""How units may be sorted, in the order of the screens."""


@click.command(
    "army",
    help=help_text(
        "Every unit: models, steps and hours left, its range of dates, the chance by its goal.",
        "lastcoat army",
        "lastcoat army --sort date --named spear",
    ),
)
@click.option("--sort", type=click.Choice(SORTS), default="order", show_default=True, help="By what.")
@click.option("--named", default="", metavar="LETTERS", help="Only units with these letters in their name.")
@click.option("--fold", multiple=True, metavar="ARMY", help="Of this army only its sum; may be repeated.")
@json_option
@db_option
@run_verb
def command(desk: Desk, *, sort: str, named: str, fold: tuple[str, ...], as_json: bool) -> None:
    """Ask and print."""
    from tracker.report.army_text import army_json, army_text
    from tracker.report.screens.army_page import View
    from tracker.workbench.answers import forecast
    from tracker.workbench.army import army_list

    answer = army_list(desk)
    dates = forecast(desk) if answer.units else None
    view = View(SORTS.index(sort), named, frozenset(fold))
    if as_json:
        say_json(army_json(answer, dates, view))
    else:
        say(army_text(answer, dates, width(), view))
