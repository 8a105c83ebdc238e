"""`lastcoat unit rename`, `set` and `move`: what is planned for a unit."""

from __future__ import annotations

from typing import Any

import click

from tracker.cli.common import Day, db_option, help_text, run_verb, say
from tracker.cli.unit.options import army_option
from tracker.domain.problems import Problem, UsageError
from tracker.domain.records import KINDS, MATERIALS, STANDARDS
from tracker.workbench.desk import Desk

CLEARABLE = (
    "goal-date",
    "goal",
    "base",
    "files",
    "ranks",
    "points",
    "guess",
    "source",
    "cost",
    "note",
    "finish",
)
_FIELD_OF = {"goal-date": "goal_date", "guess": "guess_minutes", "finish": "finish_line"}


@click.command(
    "rename",
    help=help_text(
        "Call a unit otherwise, or let it join another army.", 'lastcoat unit rename Spears "Long Spears"'
    ),
)
@click.argument("unit")
@click.argument("new")
@click.option("--to-army", default="", metavar="A", help="The army it joins; made if there is none.")
@army_option
@db_option
@run_verb
def rename_command(desk: Desk, *, unit: str, new: str, to_army: str, army: str | None) -> None:
    """Store the name and say it."""
    from tracker.workbench.units_plan import rename

    say(rename(desk, unit, new, army=army, new_army=to_army).sentence())


@click.command(
    "set",
    help=help_text(
        "Set what is planned for a unit, or take it away.",
        "lastcoat unit set Spears --goal-date 2027-05-01 --standard good",
        "lastcoat unit set Spears --no goal-date",
    ),
)
@click.argument("unit")
@click.option("--kind", metavar="K", help=f"{', '.join(KINDS)}, or your own.")
@click.option("--material", metavar="M", help=f"{', '.join(MATERIALS)}, or your own.")
@click.option("--standard", metavar="S", help=f"{', '.join(STANDARDS)}, or your own.")
@click.option("--goal-date", type=Day(), metavar="DATE", help="The day it should be ready.")
@click.option("--goal", metavar="T", help="What the date is for.")
@click.option("--finish", "finish_line", metavar="STEP", help="The step after which it is table-ready.")
@click.option("--base", metavar="SIZE", help='Such as "20x20" or "32 round" (mm).')
@click.option("--files", type=int, metavar="N", help="Models side by side, when it ranks up.")
@click.option("--ranks", type=int, metavar="N", help="Ranks behind each other.")
@click.option("--points", type=float, metavar="P", help="What it counts in a list.")
@click.option("--guess", "guess_minutes", type=float, metavar="MINUTES", help="Your own guess for all of it.")
@click.option("--source", metavar="T", help="Where it is from.")
@click.option("--cost", metavar="T", help="What it cost.")
@click.option("--note", metavar="T", help="Anything else.")
@click.option("--no", "cleared", type=click.Choice(CLEARABLE), multiple=True, help="Take this away.")
@army_option
@db_option
@run_verb
def set_command(desk: Desk, *, unit: str, army: str | None, cleared: tuple[str, ...], **fields: Any) -> None:
    """Store what was said and say it."""
    from tracker.workbench.units_plan import set_plan

    said = {field: value for field, value in fields.items() if value is not None}
    said |= {_FIELD_OF.get(name, name): None for name in cleared}
    if not said:
        raise UsageError(
            Problem("unit set", "nothing is said", "Say what to set, as in --goal-date 2027-05-01")
        )
    say(set_plan(desk, unit, said, army=army).sentence())


@click.command(
    "move",
    help=help_text(
        "Put a unit earlier or later in the order in which things are done.",
        "lastcoat unit move Spears --earlier",
        "lastcoat unit move Spears --to 1",
    ),
)
@click.argument("unit")
@click.option("--earlier", is_flag=True, help="One place earlier.")
@click.option("--later", is_flag=True, help="One place later.")
@click.option("--to", "place", type=int, metavar="N", help="To this place; 1 = do first.")
@click.option("--nowhere", is_flag=True, help="Take its place away: it goes by its age again.")
@army_option
@db_option
@run_verb
def move_command(
    desk: Desk, *, unit: str, earlier: bool, later: bool, place: int | None, nowhere: bool, army: str | None
) -> None:
    """Store the order and say it."""
    from tracker.workbench.units_plan import move, set_order

    if earlier + later + nowhere + (place is not None) != 1:
        raise UsageError(
            Problem("unit move", "say one way to move it", "--earlier, --later, --to N or --nowhere")
        )
    if earlier or later:
        say(move(desk, unit, -1 if earlier else 1, army=army).sentence())
    else:
        say(set_order(desk, unit, place, army=army).sentence())
