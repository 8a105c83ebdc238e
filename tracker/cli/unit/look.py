"""`lastcoat unit show` and `lastcoat unit spares`."""

from __future__ import annotations

import click

from tracker.cli.common import db_option, help_text, json_option, run_verb, say, say_json
from tracker.cli.unit.options import army_option
from tracker.workbench.desk import Desk


@click.command(
    "show",
    help=help_text(
        "A unit's sheet: models down, steps across, a letter for where each stands.",
        "lastcoat unit show Spears",
    ),
)
@click.argument("unit")
@click.option("--each", is_flag=True, help="One line for each model, in words instead of letters.")
@army_option
@json_option
@db_option
@run_verb
def show_command(desk: Desk, *, unit: str, each: bool, army: str | None, as_json: bool) -> None:
    """Ask and print."""
    from tracker.cli.answers import width
    from tracker.report.unit_sheet import sheet_json, sheet_models_text, sheet_text
    from tracker.workbench.army import sheet

    answer = sheet(desk, unit, army)
    if as_json:
        say_json(sheet_json(answer))
    else:
        say(sheet_models_text(answer) if each else sheet_text(answer, width()))


@click.command("spares", help=help_text("Models without a unit, by number.", "lastcoat unit spares"))
@json_option
@db_option
@run_verb
def spares_command(desk: Desk, *, as_json: bool) -> None:
    """Ask and print."""
    from tracker.report.unit_sheet import spares_text
    from tracker.workbench.units_shape import spares

    found = spares(desk)
    if as_json:
        say_json([spare._asdict() | {"added_on": spare.added_on.isoformat()} for spare in found])
    else:
        say(spares_text(found))
