"""`lastcoat unit split`, `merge`, `retire`, `spare` and `role`: models go from one unit to another."""

from __future__ import annotations

from datetime import date

import click

from tracker.cli.common import Day, db_option, help_text, run_verb, say
from tracker.cli.unit.options import army_option, models_option
from tracker.domain.problems import Problem, UsageError
from tracker.domain.records import DEPARTURES
from tracker.workbench.desk import Desk


@click.command(
    "split",
    help=help_text(
        "Models become a unit of their own, with the same plan; what was done on them goes with them.",
        'lastcoat unit split Spears --models "last 8" --new "Old Spears"',
    ),
)
@click.argument("unit")
@models_option
@click.option("--new", required=True, metavar="NAME", help="Name of the new unit.")
@army_option
@db_option
@run_verb
def split_command(desk: Desk, *, unit: str, models: str, new: str, army: str | None) -> None:
    """Store it and say what became of them."""
    from tracker.workbench.units_shape import split

    say(split(desk, unit, models, new, army=army).sentence())


@click.command(
    "merge",
    help=help_text(
        "A unit joins another one, with its models and all that was logged of it.",
        "lastcoat unit merge Riders --into Spears",
    ),
)
@click.argument("unit")
@click.option("--into", required=True, metavar="U", help="The unit that stays.")
@click.option("--into-army", metavar="A", help="Its army, when units of several have that name.")
@army_option
@db_option
@run_verb
def merge_command(desk: Desk, *, unit: str, into: str, into_army: str | None, army: str | None) -> None:
    """Store it and say it."""
    from tracker.workbench.units_shape import merge

    say(merge(desk, unit, into, army=army, into_army=into_army).sentence())


@click.command(
    "retire",
    help=help_text(
        "All models of a unit leave; what was done on them stays in the log.",
        "lastcoat unit retire Riders --how sold",
    ),
)
@click.argument("unit")
@click.option(
    "--how", type=click.Choice(DEPARTURES), default="sold", show_default=True, help="How they left."
)
@click.option("--date", "day", type=Day(), metavar="DATE", help="When (default: this evening).")
@army_option
@db_option
@run_verb
def retire_command(desk: Desk, *, unit: str, how: str, day: date | None, army: str | None) -> None:
    """Store it and say it."""
    from tracker.workbench.units_shape import retire

    say(retire(desk, unit, how, army=army, day=day).sentence())


@click.command(
    "spare",
    help=help_text(
        "Models of a unit become spares: kept, but no backlog.", "lastcoat unit spare Spears --models 19-20"
    ),
)
@click.argument("unit")
@models_option
@army_option
@db_option
@run_verb
def spare_command(desk: Desk, *, unit: str, models: str, army: str | None) -> None:
    """Store it and say it."""
    from tracker.workbench.units_shape import to_spares

    say(to_spares(desk, unit, models, army=army).sentence())


@click.command(
    "role",
    help=help_text(
        "Spares join a unit; list them with: unit spares.", "lastcoat unit role 1-2 --unit Spears"
    ),
)
@click.argument("numbers")
@click.option("--unit", required=True, metavar="U", help="The unit that they join.")
@click.option("--named", default="", metavar="NAME", help="A name for a single one.")
@army_option
@db_option
@run_verb
def role_command(desk: Desk, *, numbers: str, unit: str, named: str, army: str | None) -> None:
    """Store it and say it."""
    from tracker.workbench.models import read_numbers
    from tracker.workbench.naming import shown
    from tracker.workbench.units_shape import give_role

    said = read_numbers(numbers)
    if said is None:
        raise UsageError(Problem("unit role", f"{shown(numbers)} are no numbers", 'Write them like "1-2,5"'))
    say(give_role(desk, said, unit, army=army, name=named).sentence())
