"""`lastcoat whatif`: what would be if, beside what is. Nothing of it is stored."""

from __future__ import annotations

from datetime import date
from typing import Any

import click

from tracker.cli.answers import draws_option, seed_option, width
from tracker.cli.common import Day, as_of_option, db_option, help_text, json_option, run_verb, say, say_json
from tracker.domain.problems import Problem, UsageError
from tracker.domain.records import KINDS, MATERIALS, STANDARDS
from tracker.domain.wishes import (
    AtStandard,
    Away,
    Filler,
    First,
    InOrder,
    MoreEvenings,
    NewUnit,
    OnlyModels,
    Wish,
    Without,
)
from tracker.workbench.desk import Desk

COUNT = click.IntRange(1, 10_000)


@click.command(
    "whatif",
    help=help_text(
        "What another order, an evening more, a holiday or a smaller unit would do to the dates, side by "
        "side. Wishes add up; nothing is stored.",
        'lastcoat whatif "one more evening a week; without Riders"',
        "lastcoat whatif --first Riders --away 2026-12-20 2027-01-03",
        "lastcoat whatif --filler Spears 3 --standard Riders quick",
    ),
)
@click.argument("sentence", nargs=-1)
@click.option("--first", multiple=True, metavar="UNIT", help="This unit before all others.")
@click.option("--order", metavar="UNITS", help='These units first, in this order: "Riders, Spears".')
@click.option(
    "--evenings", type=click.FloatRange(-7, 7), metavar="N", help="So many a week more; -1 = fewer."
)
@click.option(
    "--away", type=(Day(), Day()), multiple=True, metavar="FROM TO", help="No evening on these days."
)
@click.option("--filler", type=(str, COUNT), multiple=True, metavar="UNIT N", help="Scenery for N models.")
@click.option("--models", type=(str, COUNT), multiple=True, metavar="UNIT N", help="The unit with N models.")
@click.option(
    "--standard",
    type=(str, click.Choice(STANDARDS)),
    multiple=True,
    metavar="UNIT STANDARD",
    help=f"The unit to another standard: {', '.join(STANDARDS)}.",
)
@click.option("--without", multiple=True, metavar="UNIT", help="This unit left out.")
@click.option("--new", type=(str, COUNT), multiple=True, metavar="NAME N", help="A unit of N models more.")
@click.option(
    "--kind", type=click.Choice(KINDS), default="infantry", metavar="KIND", help="Of what --new adds."
)
@click.option("--material", type=click.Choice(MATERIALS), default="plastic", help="Of what --new adds.")
@db_option
@as_of_option
@draws_option
@seed_option
@json_option
@run_verb
def command(
    desk: Desk,
    *,
    sentence: tuple[str, ...],
    as_of: date | None,
    draws: int,
    seed: int,
    as_json: bool,
    **said: Any,
) -> None:
    """Ask and print."""
    from tracker.report.whatif_words import whatif_json, whatif_text
    from tracker.workbench.whatif import understood, whatif

    wishes = _wishes(said, desk.evening_day())
    if sentence:
        wishes += understood(desk, " ".join(sentence))
    if not wishes:
        raise UsageError(
            Problem("what if", "nothing is wished", 'Say it like "one more evening a week", or see --help')
        )
    answer = whatif(desk, wishes, as_of, seed=seed, draws=draws)
    if as_json:
        say_json(whatif_json(answer))
    else:
        say(whatif_text(answer, width()))


def _wishes(said: dict[str, Any], today: date) -> tuple[Wish, ...]:
    """The options as wishes. What changes units comes before the order of them."""
    wishes: list[Wish] = [
        NewUnit(unit, models, said["kind"], said["material"]) for unit, models in said["new"]
    ]
    wishes += [Without(unit) for unit in said["without"]]
    wishes += [OnlyModels(*one) for one in said["models"]]
    wishes += [Filler(*one) for one in said["filler"]]
    wishes += [AtStandard(*one) for one in said["standard"]]
    if said["order"]:
        names = [name.strip() for name in said["order"].split(",") if name.strip()]
        wishes.append(InOrder(tuple((name, "") for name in names)))
    wishes += [First(unit) for unit in reversed(said["first"])]
    wishes += [MoreEvenings(said["evenings"])] if said["evenings"] else []
    return (*wishes, *(_away(first, last, today) for first, last in said["away"]))


def _away(first: date, last: date, today: date) -> Away:
    if last < first:
        raise UsageError(Problem("--away", "the last day is before the first", "Say the first day first"))
    if last < today:
        raise UsageError(Problem("--away", "these days lie behind", "Say days to come"))
    return Away(first, last)
