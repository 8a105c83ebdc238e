"""`lastcoat source show`, `costs` and `months`: they answer and store nothing."""

from __future__ import annotations

from datetime import date

import click

from tracker.cli.answers import width
from tracker.cli.common import as_of_option, db_option, help_text, json_option, run_verb, say, say_json
from tracker.workbench.desk import Desk


@click.command(
    "show",
    help=help_text(
        "Every deal with its number, the newest first; with a unit, those about its models.",
        "lastcoat source show",
        "lastcoat source show --unit Spears",
    ),
)
@click.option("--unit", default="", metavar="U", help="Only deals about this unit.")
@click.option("--army", metavar="A", help="Its army, where two have a unit of that name.")
@db_option
@json_option
@run_verb
def show_command(desk: Desk, *, unit: str, army: str | None, as_json: bool) -> None:
    """Ask and print."""
    from tracker.report.source_json import sources_json
    from tracker.report.source_words import sources_text
    from tracker.workbench.sources_answers import sources

    answer = sources(desk, unit, army)
    if as_json:
        say_json(sources_json(answer))
    else:
        say(sources_text(answer, width()))


@click.command(
    "costs",
    help=help_text(
        "What each unit cost: money per currency, hours that are known, and both per model.",
        "lastcoat source costs",
        'lastcoat source costs --army "My army"',
    ),
)
@click.option("--army", metavar="A", help="Only this army.")
@db_option
@as_of_option
@json_option
@run_verb
def costs_command(desk: Desk, *, army: str | None, as_of: date | None, as_json: bool) -> None:
    """Ask and print."""
    from tracker.report.source_json import costs_json
    from tracker.report.source_words import costs_text
    from tracker.workbench.sources_answers import costs

    answer = costs(desk, army, as_of)
    if as_json:
        say_json(costs_json(answer))
    else:
        say(costs_text(answer, width()))


@click.command(
    "months",
    help=help_text(
        "Month by month, the newest first: models in and out, money paid and got, swaps and gifts.",
        "lastcoat source months",
        "lastcoat source months --months 24",
    ),
)
@click.option("--months", default=12, show_default=True, metavar="N", help="How many months to look back.")
@db_option
@as_of_option
@json_option
@run_verb
def months_command(desk: Desk, *, months: int, as_of: date | None, as_json: bool) -> None:
    """Ask and print."""
    from tracker.report.source_json import months_json
    from tracker.report.source_words import months_text
    from tracker.workbench.sources_answers import months as ask

    answer = ask(desk, months, as_of)
    if as_json:
        say_json(months_json(answer))
    else:
        say(months_text(answer, width()))
