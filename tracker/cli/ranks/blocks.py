"""`lastcoat ranks filler`, `large`, `shared` and `clear`: larger bases on several places."""

from __future__ import annotations

import click

from tracker.cli.common import Decorator, db_option, help_text, run_verb, say
from tracker.cli.unit.options import army_option
from tracker.workbench.desk import Desk

at_option: Decorator = click.option(
    "--at", "place", required=True, metavar="PLACE", help="Its front left place, like B2."
)


@click.command(
    "filler",
    help=help_text(
        "Scenery on a larger base takes several places of a unit. It has its own steps, and the models that "
        "then have no place become spares: no backlog any more.",
        "lastcoat ranks filler Spears 40x40 --at C3",
    ),
)
@click.argument("unit")
@click.argument("size", metavar="SIZE")
@at_option
@click.option("--name", default="", metavar="T", help="What it shows, in your words.")
@army_option
@db_option
@run_verb
def filler_command(desk: Desk, *, unit: str, size: str, place: str, name: str, army: str | None) -> None:
    """Store it and say it."""
    from tracker.workbench.ranks_blocks import add_filler

    say(add_filler(desk, unit, size, place, name=name, army=army).sentence())


@click.command(
    "large",
    help=help_text(
        "A model of the unit stands on a larger base that takes several places.",
        "lastcoat ranks large Spears 1 40x40 --at B1",
    ),
)
@click.argument("unit")
@click.argument("model", metavar="MODEL")
@click.argument("size", metavar="SIZE")
@at_option
@army_option
@db_option
@run_verb
def large_command(desk: Desk, *, unit: str, model: str, size: str, place: str, army: str | None) -> None:
    """Store it and say it."""
    from tracker.workbench.ranks_blocks import add_large

    say(add_large(desk, unit, model, size, place, army=army).sentence())


@click.command(
    "shared",
    help=help_text(
        "One base holds several models, fewer than the places it takes; the models it saves become spares.",
        "lastcoat ranks shared Spears 60x40 --at A3 --holds 4",
    ),
)
@click.argument("unit")
@click.argument("size", metavar="SIZE")
@at_option
@click.option("--holds", "models", type=int, required=True, metavar="N", help="Models it holds.")
@army_option
@db_option
@run_verb
def shared_command(desk: Desk, *, unit: str, size: str, place: str, models: int, army: str | None) -> None:
    """Store it and say it."""
    from tracker.workbench.ranks_blocks import add_multi

    say(add_multi(desk, unit, size, place, models, army=army).sentence())


@click.command(
    "clear",
    help=help_text(
        "A filler or another larger base goes from the unit's plan.", "lastcoat ranks clear Spears --at C3"
    ),
)
@click.argument("unit")
@at_option
@army_option
@db_option
@run_verb
def clear_command(desk: Desk, *, unit: str, place: str, army: str | None) -> None:
    """Store it and say it."""
    from tracker.workbench.ranks_blocks import drop_block

    say(drop_block(desk, unit, place, army=army).sentence())
