"""`lastcoat order`: the order that puts most on the table soonest, beside the person's own."""

from __future__ import annotations

from datetime import date

import click

from tracker.cli.answers import draws_option, seed_option, width
from tracker.cli.common import as_of_option, db_option, help_text, json_option, run_verb, say, say_json
from tracker.domain.problems import Problem, UsageError
from tracker.workbench.desk import Desk


@click.command(
    "order",
    help=help_text(
        "The order that puts most on the table soonest and keeps goals, with its reasons, beside your own.",
        "lastcoat order",
        "lastcoat order --take",
    ),
)
@click.option("--take", is_flag=True, help="Make it your own order; undo takes it back.")
@db_option
@as_of_option
@draws_option
@seed_option
@json_option
@run_verb
def command(desk: Desk, *, take: bool, as_of: date | None, draws: int, seed: int, as_json: bool) -> None:
    """Ask and print; store it only when that is said."""
    from tracker.report.order_words import order_json, order_text
    from tracker.workbench.ordering import suggest_order, take_order

    if take and as_of is not None:
        raise UsageError(Problem("--take", "an order of the past cannot be taken", "Leave --as-of out"))
    answer = suggest_order(desk, as_of, seed=seed, draws=draws)
    stored = take_order(desk, answer) if take else None
    if as_json:
        say_json({**order_json(answer), "stored": stored is not None})
    elif take:
        say(stored.sentence() if stored else "Nothing to store: it is your own order already.")
    else:
        say(order_text(answer, width()))
