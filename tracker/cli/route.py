"""`lastcoat route`."""

from __future__ import annotations

import click

from tracker.cli.common import db_option, help_text, run_verb, say
from tracker.workbench.desk import Desk


@click.command(
    help=help_text(
        "Show a unit's steps, or change them: reorder, drop, rename, add, and choose the finish line.",
        "lastcoat route --unit Spears",
        "lastcoat route --unit Spears --drop tufts --finish varnish",
        'lastcoat route --unit Spears --add "shields" --after assembly',
    )
)
@click.option("--unit", required=True, metavar="U", help="The unit.")
@click.option("--army", metavar="A", help="Its army, when units of several have that name.")
@click.option("--steps", metavar="S;S;S", help="All steps anew, in this order.")
@click.option("--drop", "dropped", multiple=True, metavar="STEP", help="Leave a step out.")
@click.option("--rename", "renamed", nargs=2, multiple=True, metavar="OLD NEW", help="Call a step otherwise.")
@click.option("--add", "added", metavar="STEP", help="Add a step.")
@click.option("--after", default="", metavar="STEP", help="Where to add it (default: where it usually goes).")
@click.option("--finish", metavar="STEP", help='Table-ready after this step ("" = after the last).')
@click.option(
    "--wait", "waits", type=(str, float), multiple=True, metavar="STEP HOURS",
    help="Hours until the next step may start, for every unit.",
)  # fmt: skip
@db_option
@run_verb
def command(
    desk: Desk,
    *,
    unit: str,
    army: str | None,
    steps: str | None,
    dropped: tuple[str, ...],
    renamed: tuple[tuple[str, str], ...],
    added: str | None,
    after: str,
    finish: str | None,
    waits: tuple[tuple[str, float], ...],
) -> None:
    """Change the route if a change was said, and show it."""
    from tracker.workbench.routing import RouteWish, change_route

    said: tuple[str, ...] = ()
    if steps:
        from tracker.sheets.roster import split_steps

        said = split_steps(steps)
    wish = RouteWish(said, renamed, dropped, ((added, after),) if added else (), finish, waits)
    say(change_route(desk, unit, wish, army=army).sentence())
