"""`lastcoat role show` and `match`: they answer and store nothing."""

from __future__ import annotations

import click

from tracker.cli.answers import width
from tracker.cli.common import db_option, help_text, json_option, run_verb, say, say_json
from tracker.cli.role.options import unit_options
from tracker.cli.spare.options import most_option
from tracker.workbench.desk import Desk


@click.command(
    "show",
    help=help_text(
        "Every role: what it asks and who has it.", "lastcoat role show", "lastcoat role show --unit Spears"
    ),
)
@unit_options
@db_option
@json_option
@run_verb
def show_command(desk: Desk, *, unit: str | None, army: str | None, as_json: bool) -> None:
    """Ask and print."""
    from tracker.report.spare_words import roles_json, roles_text
    from tracker.workbench.roles import roles_answer

    answer = roles_answer(desk, unit, army=army)
    if as_json:
        say_json(roles_json(answer))
    else:
        say(roles_text(answer, width()))


@click.command(
    "match",
    help=help_text(
        "The spares that would stand best in an open role, or in each of them, and why: the base counts "
        "most, then height, equipment and kind. Nothing is stored.",
        "lastcoat role match",
        "lastcoat role match captain --most 3",
    ),
)
@click.argument("role", required=False)
@unit_options
@most_option
@db_option
@json_option
@run_verb
def match_command(
    desk: Desk, *, role: str | None, unit: str | None, army: str | None, most: int, as_json: bool
) -> None:
    """Ask and print."""
    from tracker.report.match_words import match_json, match_text
    from tracker.workbench.matching import match_roles

    answer = match_roles(desk, role, unit=unit, army=army, most=most)
    if as_json:
        say_json(match_json(answer))
    else:
        say(match_text(answer, width()))
