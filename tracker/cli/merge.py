"""`lastcoat merge`."""

from __future__ import annotations

import click

from tracker.cli.common import db_option, help_text, json_option, run_verb, say, say_json
from tracker.workbench.desk import Desk


@click.command(
    help=help_text(
        "Join the log of another machine to yours: the log itself or what `export all` wrote of it, which is"
        " only read. What yours does not have comes in; what is newer there is taken; where both say"
        " something else, yours is kept and both are shown. What was taken out in one log and not in the"
        " other comes back. One change, which undo takes back; the same log twice changes nothing.",
        "lastcoat merge laptop.db --dry-run",
        "lastcoat merge laptop.db",
        "lastcoat merge everything.json --theirs",
    )
)
@click.argument("file", type=str)
@click.option("--theirs", is_flag=True, help="Where both say something else, take theirs.")
@click.option("--dry-run", is_flag=True, help="Say what would be joined, and store nothing.")
@json_option
@db_option
@run_verb
def command(desk: Desk, *, file: str, theirs: bool, dry_run: bool, as_json: bool) -> None:
    """Join the file to the log and say what came of it."""
    from tracker.report.merge_words import merge_json, merge_lines
    from tracker.workbench.merging import merge_log

    done = merge_log(desk, file, take_theirs=theirs, dry_run=dry_run)
    if as_json:
        say_json(merge_json(done))
        return
    for line in merge_lines(done):
        say(line)
