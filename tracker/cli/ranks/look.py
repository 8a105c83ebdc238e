"""`lastcoat ranks show`, `plan` and `check`: the unit drawn, as it stands and as planned."""

from __future__ import annotations

import click

from tracker.cli.answers import plain_signs, width
from tracker.cli.common import Decorator, db_option, help_text, json_option, run_verb, say, say_json
from tracker.cli.unit.options import army_option
from tracker.domain.answers_ranks import RankAnswer
from tracker.ranking.solve import First
from tracker.workbench.desk import Desk

first_option: Decorator = click.option(
    "--least-total",
    "least_total",
    is_flag=True,
    help="The least clash in all, not the least worst joint first.",
)
plan_seed_option: Decorator = click.option(
    "--seed", type=click.IntRange(0, 2**32 - 1), default=0, show_default=True, help="Same seed, same plan."
)


def print_ranks(answer: RankAnswer, *, as_json: bool) -> None:
    """The drawing, or one JSON document."""
    if as_json:
        from tracker.report.ranks_json import ranks_json

        say_json(ranks_json(answer))
    else:
        from tracker.report.ranks_text import ranks_text

        say(ranks_text(answer, width(), plain=plain_signs()))


@click.command(
    "show",
    help=help_text("The unit as it stands, with the joints that clash.", "lastcoat ranks show Spears"),
)
@click.argument("unit")
@army_option
@db_option
@json_option
@run_verb
def show_command(desk: Desk, *, unit: str, army: str | None, as_json: bool) -> None:
    """Ask and print."""
    from tracker.workbench.ranks import ranks

    print_ranks(ranks(desk, unit, army=army), as_json=as_json)


@click.command(
    "plan",
    help=help_text(
        "Who should stand where, by what was measured and checked: no clash, or the least. It lists the "
        "joints to dry-fit. With --take the unit stands like this from now on.",
        "lastcoat ranks plan Spears",
        "lastcoat ranks plan Spears --take",
    ),
)
@click.argument("unit")
@click.option("--take", "taken", is_flag=True, help="Store it as the order the unit stands in.")
@first_option
@plan_seed_option
@army_option
@db_option
@json_option
@run_verb
def plan_command(
    desk: Desk, *, unit: str, taken: bool, least_total: bool, seed: int, army: str | None, as_json: bool
) -> None:
    """Ask and print; store it where that is said."""
    from tracker.workbench.ranks import plan_ranks
    from tracker.workbench.ranks_say import take

    first: First = "total" if least_total else "worst"
    answer = plan_ranks(desk, unit, army=army, seed=seed, first=first, thorough=True)
    stored = take(desk, unit, answer.placed, army=army).sentence() if taken else ""
    print_ranks(answer, as_json=as_json)
    if stored and not as_json:
        say(stored)


@click.command(
    "check",
    help=help_text(
        "Joints of the plan that you dry-fitted, each as two places and what you found: fits, or the mm by "
        "which they clash. All of them are stored together; then comes the plan that follows.",
        "lastcoat ranks check Spears B1-C1 fits",
        "lastcoat ranks check Spears B1-C1 fits C2-C3 1.5 D1-D2 fits",
    ),
)
@click.argument("unit")
@click.argument("found", nargs=-1, required=True, metavar="JOINT FOUND [JOINT FOUND ...]")
@click.option("--as-it-stands", is_flag=True, help="The places are those of the order as it stands.")
@first_option
@plan_seed_option
@army_option
@db_option
@json_option
@run_verb
def check_command(
    desk: Desk, *, unit: str, found: tuple[str, ...], as_it_stands: bool, least_total: bool, seed: int,
    army: str | None, as_json: bool,
) -> None:  # fmt: skip
    """Store what was found and print the plan that follows."""
    from tracker.workbench.ranks import plan_ranks
    from tracker.workbench.ranks_check import check_places

    first: First = "total" if least_total else "worst"
    done = check_places(desk, unit, found, army=army, seed=seed, first=first, as_it_stands=as_it_stands)
    if not as_json:
        say(f"{done.sentence()}\n")
    print_ranks(plan_ranks(desk, unit, army=army, seed=seed, first=first, thorough=True), as_json=as_json)
