"""`lastcoat curing`: what dries until when; each act is a command of its own, and without one it answers."""

from __future__ import annotations

import click

from tracker.cli.acts import Acts
from tracker.cli.common import db_option, help_text, json_option, run_verb, say, say_json
from tracker.workbench.desk import Desk

ACTS: dict[str, tuple[str, str]] = {
    "begin": ("timers", "Begin a timer for something that cures."),
    "done": ("timers", "A timer is over, or a logged step is dry."),
    "wait": ("timers", "Your own usual wait after a step."),
}
"""Name of an act -> its module in this folder and its line in the help."""


@click.command(
    cls=Acts,
    package=__name__,
    acts=ACTS,
    invoke_without_command=True,
    context_settings={"help_option_names": ["-h", "--help"]},
    help=help_text(
        "What is drying and curing until when: logged steps by their usual waits, and timers of your own. "
        "Without a command it tells.",
        "lastcoat curing",
        'lastcoat curing begin "putty on the captain"',
        'lastcoat curing done "putty on the captain"',
    ),
)
@json_option
@db_option
@click.pass_context
@run_verb
def command(ctx: click.Context, *, desk: Desk, as_json: bool) -> None:
    """Ask and print, or leave it to an act."""
    # a log that is named here is the act's as well
    ctx.find_root().obj = desk
    if ctx.invoked_subcommand is not None:
        return
    from tracker.cli.answers import width
    from tracker.report.curing_words import curing_json, curing_text
    from tracker.workbench.curing import curing

    answer = curing(desk)
    if as_json:
        say_json(curing_json(answer))
    else:
        say(curing_text(answer, width()))
