"""`lastcoat curing begin`, `done` and `wait`."""

from __future__ import annotations

import click

from tracker.cli.common import Decorator, db_option, help_text, run_verb, say
from tracker.domain.problems import Problem, UsageError
from tracker.workbench.desk import Desk

_AT: Decorator = click.option(
    "--at", default="now", metavar="TIME", help='When it was: "20:15" or "30 min ago" (default: now).'
)
_UNIT: Decorator = click.option("--unit", default="", metavar="U", help="The unit it is on.")
_ARMY: Decorator = click.option("--army", metavar="A", help="Its army, when units of several have that name.")


@click.command(
    "begin",
    help=help_text(
        "Begin a timer for something that cures. Putty, glues, clay, varnish and more have usual ranges;"
        " for anything else say the hours.",
        'lastcoat curing begin "putty on the captain"',
        'lastcoat curing begin "water effect" --hours 36 --unit Spears',
        'lastcoat curing begin clay --range 12-24-48 --at "30 min ago"',
    ),
)
@click.argument("what")
@_UNIT
@_ARMY
@click.option("--hours", type=float, metavar="H", help="How long it takes.")
@click.option("--range", "span", metavar="H-H-H", help="Hours at the quickest, usually, at the latest.")
@_AT
@db_option
@run_verb
def begin_command(
    desk: Desk, *, what: str, unit: str, army: str | None, hours: float | None, span: str | None, at: str
) -> None:
    """Store it and say it."""
    from tracker.workbench.curing import begin, read_hours

    if hours is not None and span is not None:
        raise UsageError(Problem("curing begin", "--hours and --range are both said", "Say one of them"))
    said = read_hours(span) if span is not None else () if hours is None else (hours,)
    say(begin(desk, what, hours=said, unit=unit, army=army, at=at).sentence())


@click.command(
    "done",
    help=help_text(
        "A timer is over, or a logged step is dry, earlier or later than it usually is. Say the timer's"
        " words, the step, or the unit.",
        'lastcoat curing done "putty on the captain"',
        "lastcoat curing done varnish --unit Spears",
    ),
)
@click.argument("what")
@_UNIT
@_ARMY
@_AT
@db_option
@run_verb
def done_command(desk: Desk, *, what: str, unit: str, army: str | None, at: str) -> None:
    """Store it and say it."""
    from tracker.workbench.curing import done

    say(done(desk, what, unit=unit, army=army, at=at).sentence())


@click.command(
    "wait",
    help=help_text(
        "Your own usual wait after a step, in hours. It counts wherever that step dries.",
        "lastcoat curing wait varnish 6",
        "lastcoat curing wait varnish --usual",
    ),
)
@click.argument("step")
@click.argument("hours", type=float, required=False)
@click.option("--usual", is_flag=True, help="The usual wait of the trade again.")
@db_option
@run_verb
def wait_command(desk: Desk, *, step: str, hours: float | None, usual: bool) -> None:
    """Store it and say it."""
    from tracker.workbench.curing import set_own_wait

    if (hours is None) != usual:
        raise UsageError(Problem("curing wait", "say hours or --usual", "lastcoat curing wait varnish 6"))
    say(set_own_wait(desk, step, hours).sentence())
