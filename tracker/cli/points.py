"""`lastcoat points`."""

from __future__ import annotations

from datetime import date

import click

from tracker.cli.answers import draws_option, seed_option, width
from tracker.cli.common import as_of_option, db_option, help_text, json_option, run_verb, say, say_json
from tracker.domain.problems import Problem, UsageError
from tracker.workbench.desk import Desk


@click.command(
    help=help_text(
        "What the list of an army is worth: points planned, built and table-ready; its target, and when that "
        "is reached.",
        "lastcoat points",
        "lastcoat points --target 1000",
        "lastcoat points --drop-target",
    )
)
@click.option("--army", metavar="A", help="Only this army; needed with a target where there are several.")
@click.option("--target", type=float, metavar="N", help="So many points the list is meant to have.")
@click.option("--drop-target", is_flag=True, help="The list has no target any more.")
@db_option
@as_of_option
@draws_option
@seed_option
@json_option
@run_verb
def command(
    desk: Desk, *, army: str | None, target: float | None, drop_target: bool, as_of: date | None, draws: int,
    seed: int, as_json: bool,
) -> None:  # fmt: skip
    """Set what was said, or ask and print."""
    from tracker.report.points_words import points_json, points_text
    from tracker.workbench import points as verbs

    if target is not None and drop_target:
        raise UsageError(Problem("points", "a target is set and dropped at once", "Say one of them"))
    if target is not None:
        say(verbs.set_target(desk, target, army).sentence())
    elif drop_target:
        say(verbs.drop_target(desk, army).sentence())
    else:
        answer = verbs.points(desk, army, as_of, seed=seed, draws=draws)
        say_json(points_json(answer)) if as_json else say(points_text(answer, width()))
