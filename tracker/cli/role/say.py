"""`lastcoat role add`, `fill`, `free` and `drop`."""

from __future__ import annotations

import click

from tracker.cli.common import db_option, help_text, run_verb, say
from tracker.cli.role.options import unit_options
from tracker.cli.spare.options import wish_options
from tracker.domain.keeping import StandIn
from tracker.domain.problems import Problem, UsageError
from tracker.workbench.desk import Desk


@click.command(
    "add",
    help=help_text(
        "Plan a role, or several alike, in a unit; what is not said of base and kind goes by the unit.",
        "lastcoat role add Spears captain --base 25x25 --height 30 --tag sword",
        "lastcoat role add Spears spearman --tag spear --tag shield --count 4",
    ),
)
@click.argument("unit")
@click.argument("role")
@wish_options
@click.option("--count", type=int, default=1, show_default=True, help="How many roles of this sort.")
@click.option("--army", metavar="A", help="The unit's army, when units of several have that name.")
@db_option
@run_verb
def add_command(
    desk: Desk,
    *,
    unit: str,
    role: str,
    kind: str,
    base: str,
    height: float | None,
    tags: tuple[str, ...],
    count: int,
    army: str | None,
) -> None:
    """Store it and say it."""
    from tracker.workbench.roles import RoleSaid, add_roles

    said = RoleSaid(kind, base, height, tags)
    say(add_roles(desk, unit, role, said, count=count, army=army).sentence())


@click.command(
    "fill",
    help=help_text(
        "A spare takes a role: it joins the unit with its history, and has the role's name if it had none.",
        "lastcoat role fill captain 1",
        "lastcoat role fill banner 2 --stand-in",
    ),
)
@click.argument("role")
@click.argument("spare", type=int)
@click.option("--stand-in", is_flag=True, help="For an evening: it is told as a stand-in.")
@click.option("--for-good", is_flag=True, help="It was converted for this role.")
@unit_options
@db_option
@run_verb
def fill_command(
    desk: Desk,
    *,
    role: str,
    spare: int,
    stand_in: bool,
    for_good: bool,
    unit: str | None,
    army: str | None,
) -> None:
    """Store it and say it."""
    from tracker.workbench.roles import fill_role

    if stand_in and for_good:
        raise UsageError(Problem("role fill", "for an evening and for good", "Say one of them"))
    how: StandIn = "stand-in" if stand_in else "for good" if for_good else ""
    say(fill_role(desk, role, spare, how, unit=unit, army=army).sentence())


@click.command(
    "free",
    help=help_text(
        "A role waits again; its model goes back to the spares with its history.",
        "lastcoat role free captain",
        "lastcoat role free banner --stay",
    ),
)
@click.argument("role")
@click.option("--stay", is_flag=True, help="The model stays in the unit, without the role.")
@unit_options
@db_option
@run_verb
def free_command(desk: Desk, *, role: str, stay: bool, unit: str | None, army: str | None) -> None:
    """Store it and say it."""
    from tracker.workbench.roles import free_role

    say(free_role(desk, role, stays=stay, unit=unit, army=army).sentence())


@click.command(
    "drop",
    help=help_text("Give a role up; a model that had it stays in the unit.", "lastcoat role drop captain"),
)
@click.argument("role")
@unit_options
@db_option
@run_verb
def drop_command(desk: Desk, *, role: str, unit: str | None, army: str | None) -> None:
    """Take it out and say so."""
    from tracker.workbench.roles import drop_role

    say(drop_role(desk, role, unit=unit, army=army).sentence())
