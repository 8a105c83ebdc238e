"""`lastcoat goal add`, `set` and `drop`."""

from __future__ import annotations

from datetime import date
from typing import Any

import click

from tracker.cli.common import Day, Decorator, db_option, help_text, run_verb, say
from tracker.domain.problems import Problem, UsageError
from tracker.workbench.desk import Desk


def _options(command: Any) -> Any:
    for option in reversed(_OPTIONS):
        command = option(command)
    return command


_OPTIONS: tuple[Decorator, ...] = (
    click.option(
        "--unit", "units", multiple=True, metavar="U", help='This unit; "Host: Spears" says its army too.'
    ),
    click.option("--models", type=int, metavar="N", help="So many table-ready models are enough."),
    click.option("--points", type=float, metavar="P", help="So many points of table-ready units are enough."),
    click.option("--least-models", type=int, metavar="N", help="The fewest models a unit may have there."),
)


@click.command(
    "add",
    help=help_text(
        "Set a goal: these units, or so many models or points of them; with no unit, of all.",
        'lastcoat goal add "Spring game" 2027-03-13 --unit Spears --least-models 5',
        'lastcoat goal add "Forty ready" 2027-06-30 --models 40',
        'lastcoat goal add "Small list" 2027-06-30 --points 1000',
    ),
)
@click.argument("name")
@click.argument("day", type=Day(), metavar="DATE")
@_options
@db_option
@run_verb
def add_command(desk: Desk, *, name: str, day: date, **said: Any) -> None:
    """Store it and say it."""
    from tracker.workbench.goals import GoalWish, add_goal

    say(add_goal(desk, name, GoalWish(day, **_wish(said))).sentence())


@click.command(
    "set",
    help=help_text(
        "Change a goal; what is not said stays.",
        'lastcoat goal set "Spring game" --date 2027-03-20',
        'lastcoat goal set "Spring game" --name "Summer game"',
    ),
)
@click.argument("name")
@click.option("--date", "day", type=Day(), metavar="DATE", help="Its day.")
@click.option("--name", "new_name", metavar="T", help="Its name.")
@_options
@db_option
@run_verb
def set_command(desk: Desk, *, name: str, day: date | None, new_name: str | None, **said: Any) -> None:
    """Store it and say it."""
    from tracker.workbench.goals import GoalWish, change_goal

    wish = GoalWish(day, name=new_name, **_wish(said))
    if wish == GoalWish():
        raise UsageError(Problem("goal set", "nothing is said", "Say what changes, as in --date 2027-03-20"))
    say(change_goal(desk, name, wish).sentence())


@click.command(
    "drop",
    help=help_text(
        "Give a goal up. Its units stay, and so does their plan.", 'lastcoat goal drop "Spring game"'
    ),
)
@click.argument("name")
@db_option
@run_verb
def drop_command(desk: Desk, *, name: str) -> None:
    """Take it back and say so."""
    from tracker.workbench.goals import drop_goal

    say(drop_goal(desk, name).sentence())


def _wish(said: dict[str, Any]) -> dict[str, Any]:
    return said | {"units": said["units"] or None}
