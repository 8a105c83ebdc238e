"""`lastcoat goal show`, `cut` and `pick`: they answer and store nothing."""

from __future__ import annotations

import re
from datetime import date

import click

from tracker.cli.answers import draws_option, seed_option, width
from tracker.cli.common import Day, as_of_option, db_option, help_text, json_option, run_verb, say, say_json
from tracker.workbench.desk import Desk

_LIKE_A_DATE = re.compile(r"\d{4}-\d\d?-\d\d?")


@click.command(
    "show", help=help_text("Every goal: its chance, its days, when to begin.", "lastcoat goal show")
)
@db_option
@as_of_option
@draws_option
@seed_option
@json_option
@run_verb
def show_command(desk: Desk, *, as_of: date | None, draws: int, seed: int, as_json: bool) -> None:
    """Ask and print."""
    from tracker.report.goal_words import goals_json, goals_text
    from tracker.workbench.goals import goals

    answer = goals(desk, as_of, seed=seed, draws=draws)
    if as_json:
        say_json(goals_json(answer))
    else:
        say(goals_text(answer, width()))


@click.command(
    "cut",
    help=help_text(
        "What could stay undone so that a goal is kept 8 times in 10: fewer models, scenery in their place, "
        "a quicker standard, a step the rear ranks go without, a unit left out. Nothing is stored.",
        'lastcoat goal cut "Spring game"',
    ),
)
@click.argument("name")
@db_option
@as_of_option
@click.option(
    "--draws",
    type=click.IntRange(100, 100_000),
    default=500,
    show_default=True,
    help="How many futures to play through, for each cut.",
)
@seed_option
@json_option
@run_verb
def cut_command(desk: Desk, *, name: str, as_of: date | None, draws: int, seed: int, as_json: bool) -> None:
    """Ask and print."""
    from tracker.report.goal_words import cuts_json, cuts_text
    from tracker.workbench.goals import cuts

    answer = cuts(desk, name, as_of, seed=seed, draws=draws)
    if as_json:
        say_json(cuts_json(answer))
    else:
        say(cuts_text(answer, width()))


@click.command(
    "pick",
    help=help_text(
        "The units worth most points that can be ready by a day, worked first and alone. Nothing is stored.",
        "lastcoat goal pick 2027-03-13",
        'lastcoat goal pick "Spring game"',
    ),
)
@click.argument("said", metavar="DATE|NAME")
@db_option
@as_of_option
@draws_option
@seed_option
@json_option
@run_verb
def pick_command(desk: Desk, *, said: str, as_of: date | None, draws: int, seed: int, as_json: bool) -> None:
    """Ask and print."""
    from tracker.report.goal_words import pick_json, pick_text
    from tracker.workbench.goals import pick

    # What looks like a date is one: it had better exist.
    meant = Day().convert(said, None, None) if _LIKE_A_DATE.fullmatch(said.strip()) else said
    answer = pick(desk, meant, as_of, seed=seed, draws=draws)
    if as_json:
        say_json(pick_json(answer))
    else:
        say(pick_text(answer, width()))
