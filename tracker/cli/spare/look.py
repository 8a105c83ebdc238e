"""`lastcoat spare show` and `find`: they answer and store nothing."""

from __future__ import annotations

import click

from tracker.cli.answers import width
from tracker.cli.common import db_option, help_text, json_option, run_verb, say, say_json
from tracker.cli.spare.options import most_option, wish_options
from tracker.workbench.desk import Desk


@click.command(
    "show",
    help=help_text(
        "Every spare by number; with words only those of which each stands in what is noted; or by numbers.",
        "lastcoat spare show",
        "lastcoat spare show drawer",
        "lastcoat spare show 1-4",
    ),
)
@click.argument("words", nargs=-1)
@db_option
@json_option
@run_verb
def show_command(desk: Desk, *, words: tuple[str, ...], as_json: bool) -> None:
    """Ask and print."""
    from tracker.report.spare_words import spares_json, spares_text
    from tracker.workbench.spares import spares_answer

    answer = spares_answer(desk, words)
    if as_json:
        say_json(spares_json(answer))
    else:
        say(spares_text(answer, width()))


@click.command(
    "find",
    help=help_text(
        "The spares most like what you describe, best first: the base counts most, then height, equipment "
        "and kind.",
        "lastcoat spare find --base 20x20 --height 28 --tag spear --tag shield",
    ),
)
@wish_options
@most_option
@db_option
@json_option
@run_verb
def find_command(
    desk: Desk, *, kind: str, base: str, height: float | None, tags: tuple[str, ...], most: int, as_json: bool
) -> None:
    """Ask and print."""
    from tracker.report.match_words import match_json, match_text
    from tracker.workbench.matching import match_wish
    from tracker.workbench.roles import RoleSaid

    answer = match_wish(desk, RoleSaid(kind, base, height, tags), most=most)
    if as_json:
        say_json(match_json(answer))
    else:
        say(match_text(answer, width()))
