"""`lastcoat lamp`: a session begins, rests and ends."""

from __future__ import annotations

import click

from tracker.cli.common import db_option, help_text, json_option, run_verb, say, say_json
from tracker.domain.problems import DataError, Problem, UsageError
from tracker.workbench.desk import Desk

ACTS = ("on", "off", "pause", "resume", "back")


@click.command(
    help=help_text(
        "The lamp counts a session: on, pause, resume, off. Off adds its minutes to the evening; back counts"
        " nothing. Without a word it says how it stands.",
        "lastcoat lamp on",
        "lastcoat lamp pause",
        "lastcoat lamp",
        "lastcoat lamp off",
    )
)
@click.argument("act", type=click.Choice(ACTS), required=False)
@click.option("--since", metavar="TIME", help='When it really began: "20:15" or "30 min ago".')
@click.option("--at", "stopped", metavar="TIME", help="When you really stopped, if it was left on.")
@json_option
@db_option
@run_verb
def command(desk: Desk, *, act: str | None, since: str | None, stopped: str | None, as_json: bool) -> None:
    """Switch it and say how it stands."""
    from tracker.report.lamp import lamp_json, lamp_text
    from tracker.workbench import lamp
    from tracker.workbench.moments import read_moment

    for option, said, with_act in (("--since", since, "on"), ("--at", stopped, "off")):
        if said is not None and act != with_act:
            raise UsageError(
                Problem(option, "it does not belong here", f"Use it with: lastcoat lamp {with_act}")
            )
    moment = read_moment(since or stopped or "now", desk.now())
    if isinstance(moment, Problem):
        raise DataError(moment._replace(where="--since" if since else "--at"))
    if act == "off":
        done = lamp.lamp_off(desk, at=moment if stopped else None)
        if as_json:
            say_json(done._asdict() | {"day": done.day.isoformat(), "today": done.today.isoformat()})
        else:
            say(done.sentence())
        return
    state = {
        "on": lambda: lamp.lamp_on(desk, since=moment if since else None),
        "pause": lambda: lamp.lamp_pause(desk),
        "resume": lambda: lamp.lamp_resume(desk),
        "back": lambda: lamp.lamp_take_back(desk),
    }.get(act or "", lambda: lamp.lamp_state(desk))()
    if as_json:
        say_json(lamp_json(state))
    else:
        say(lamp_text(state))
