"""`lastcoat source add`, `set` and `drop`."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

import click

from tracker.cli.common import Day, Decorator, db_option, help_text, run_verb, say
from tracker.domain.problems import Problem, UsageError
from tracker.domain.sources import WAYS_IN, WAYS_OUT
from tracker.workbench.desk import Desk

if TYPE_CHECKING:
    from tracker.workbench.sources_said import DealWish

_MONEY = 'Money with its currency, as in "12.50 EUR"'
_OPTIONS: tuple[Decorator, ...] = (
    click.option(
        "--unit", "units", multiple=True, metavar="U", help="About models of this unit; again for more."
    ),
    click.option(
        "--models",
        multiple=True,
        metavar="1-10",
        help="Which of them, for each --unit (default: those no deal tells of).",
    ),
    click.option("--army", metavar="A", help="The army, where two have a unit of that name."),
    click.option("--spares", metavar="3-7", help="About these spares."),
    click.option("--from", "--to", "whom", metavar="T", help="From or to whom."),
    click.option("--cost", metavar="M", help=f"{_MONEY}: what was paid, or got for it."),
    click.option("--postage", metavar="M", help="Postage that you paid, in the same currency."),
    click.option("--given", "exchange", metavar="T", help="What was given or got for it that was no money."),
    click.option("--note", metavar="T", help="A note."),
    click.option("--date", "day", type=Day(), metavar="DATE", help="The day (default: this evening)."),
)


def _options(command: Any) -> Any:
    for option in reversed(_OPTIONS):
        command = option(command)
    return command


@click.command(
    "add",
    help=help_text(
        f"Note what came in ({', '.join(WAYS_IN)}) or went out ({', '.join(WAYS_OUT)}). Models that go out "
        "leave their unit with it. With no unit and no spares it is for the desk: paints, tools.",
        'lastcoat source add bought --unit Spears --models 1-10 --cost "12.50 EUR"',
        'lastcoat source add swapped --unit Riders --from "Ben" --given "a book"',
        'lastcoat source add bought --note "two brushes" --cost "9 EUR"',
        'lastcoat source add sold --unit Spears --models 19-20 --cost "4 EUR"',
    ),
)
@click.argument("how", metavar="HOW")
@_options
@db_option
@run_verb
def add_command(desk: Desk, *, how: str, **said: Any) -> None:
    """Store it and say it."""
    from tracker.workbench.sources import add_deal

    say(add_deal(desk, how, _wish(**said)).sentence())


@click.command(
    "set",
    help=help_text(
        'Say a deal otherwise; what is not said stays, and "" takes a thing away. Its number stands in '
        "lastcoat source show.",
        'lastcoat source set 1 --cost "14 EUR" --postage "3 EUR"',
    ),
)
@click.argument("number", type=int)
@click.option("--how", metavar="HOW", help="Another way: bought, swapped, gifted and so on.")
@_options
@db_option
@run_verb
def set_command(desk: Desk, *, number: int, how: str | None, **said: Any) -> None:
    """Store it and say it."""
    from tracker.workbench.sources import change_deal

    wish = _wish(**said)
    say(change_deal(desk, number, wish._replace(how=how)).sentence())


@click.command(
    "drop",
    help=help_text("Forget a deal. Its models stay as they are.", "lastcoat source drop 1"),
)
@click.argument("number", type=int)
@db_option
@run_verb
def drop_command(desk: Desk, *, number: int) -> None:
    """Take it back and say so."""
    from tracker.workbench.sources import drop_deal

    say(drop_deal(desk, number).sentence())


def _wish(*, units: Sequence[str], models: Sequence[str], army: str | None, **said: Any) -> DealWish:
    """What was said; the first --models belongs to the first --unit, and so on."""
    from tracker.workbench.sources_models import SaidPart
    from tracker.workbench.sources_said import DealWish

    if models and len(models) != len(units):
        what = f"{len(models)} times --models for {len(units)} times --unit"
        raise UsageError(Problem("--models", what, "Say --unit and --models in pairs"))
    numbers = models or [""] * len(units)
    parts = tuple(SaidPart(unit, which, army) for unit, which in zip(units, numbers, strict=True))
    return DealWish(parts=parts or None, **said)
