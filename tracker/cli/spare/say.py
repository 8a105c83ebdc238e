"""`lastcoat spare add`, `note` and `take`."""

from __future__ import annotations

from datetime import date
from typing import Any

import click

from tracker.cli.common import Day, Decorator, db_option, help_text, run_verb, say
from tracker.domain.problems import Problem, UsageError
from tracker.workbench.desk import Desk

_LOOKS: tuple[Decorator, ...] = (
    click.option("--name", metavar="T", help="What you call it."),
    click.option("--kind", metavar="K", help="Infantry, cavalry …, or your own."),
    click.option("--part", metavar="T", help="Which part it is, if it is one: rider, mount."),
    click.option("--base", metavar="SIZE", help='Such as "20x20" or "32 round" (mm).'),
    click.option("--height", "height_mm", type=float, metavar="MM", help="From base to top of head."),
    click.option("--material", metavar="M", help="Plastic, metal, resin, printed, or your own."),
    click.option("--state", metavar="S", help="Bare, built, primed, begun or painted."),
    click.option("--place", metavar="T", help="Where it lies."),
    click.option("--note", metavar="T", help="Anything else."),
)


def _looks(command: Any) -> Any:
    for option in reversed(_LOOKS):
        command = option(command)
    return command


@click.command(
    "add",
    help=help_text(
        "Bring in spares that are alike: kept, and no backlog until a unit takes them.",
        "lastcoat spare add 12 --name spearman --base 20x20 --height 28 --tag spear",
        "lastcoat spare add 1 --name rider --part rider --state primed",
    ),
)
@click.argument("count", type=int)
@_looks
@click.option("--tag", "tags", multiple=True, metavar="T", help="Your own word for it: spear, shield ….")
@click.option("--added", "day", type=Day(), metavar="DATE", help="The day they came in (default: today).")
@db_option
@run_verb
def add_command(desk: Desk, *, count: int, day: date | None, **said: Any) -> None:
    """Store them and say it."""
    from tracker.workbench.spares import SpareSaid, new_spares

    say(new_spares(desk, count, SpareSaid(**said), day=day).sentence())


@click.command(
    "note",
    help=help_text(
        'Note something of spares by their numbers, as in "3, 5-7"; what is not said stays, "" takes away.',
        'lastcoat spare note 1-2 --place "drawer 3" --state primed',
        "lastcoat spare note 2 --tag shield --no-tag spear",
    ),
)
@click.argument("numbers")
@_looks
@click.option("--no-height", is_flag=True, help="Its height is not known after all.")
@click.option("--tag", "more_tags", multiple=True, metavar="T", help="One more word for it.")
@click.option("--no-tag", "less_tags", multiple=True, metavar="T", help="This word no longer.")
@db_option
@run_verb
def note_command(desk: Desk, *, numbers: str, **said: Any) -> None:
    """Store it and say it."""
    from tracker.workbench.spares import SpareSaid, note_spares

    say(note_spares(desk, numbers, SpareSaid(**said)).sentence())


@click.command(
    "take",
    help=help_text(
        "A unit takes spares, with their history. What their state says is behind them counts as done where "
        "nothing was marked or logged.",
        "lastcoat spare take 1-2 --unit Spears",
        'lastcoat spare take 3 --unit Spears --named "Old Tam"',
    ),
)
@click.argument("numbers")
@click.option("--unit", required=True, metavar="U", help="The unit that they join.")
@click.option("--named", default="", metavar="NAME", help="A name for a single one.")
@click.option("--army", metavar="A", help="Its army, when units of several have that name.")
@db_option
@run_verb
def take_command(desk: Desk, *, numbers: str, unit: str, named: str, army: str | None) -> None:
    """Store it and say it."""
    from tracker.workbench.models import read_numbers
    from tracker.workbench.naming import shown
    from tracker.workbench.units_shape import give_role

    said = read_numbers(numbers)
    if said is None:
        what = f"{shown(numbers)} are no numbers"
        raise UsageError(Problem("spare take", what, 'Write them like "1-2, 5"'))
    say(give_role(desk, said, unit, army=army, name=named).sentence())
