"""`lastcoat backup`."""

from __future__ import annotations

import click

from tracker.cli.common import db_option, help_text, json_option, run_verb, say, say_json
from tracker.domain.problems import Problem, UsageError
from tracker.workbench.desk import Desk


@click.command(
    help=help_text(
        "Back up the log now, or list the backups there are. Backups are made by themselves too: before the"
        " first change of an evening, before an import, merge, mend, restore and new schema. The newest ten"
        " are kept, and one of every week for a year. Photos are not in them: lastcoat photo pack.",
        "lastcoat backup",
        "lastcoat backup copy-of-my-log.db",
        "lastcoat backup --list",
    )
)
@click.argument("file", required=False)
@click.option("--list", "listed", is_flag=True, help="What there is: when, why, size, schema, what is in it.")
@json_option
@db_option
@run_verb
def command(desk: Desk, *, file: str | None, listed: bool, as_json: bool) -> None:
    """Make one and say where it is, or list them."""
    from tracker.report.backup_words import backups_json, backups_text
    from tracker.workbench.backups import back_up_now, backups

    if listed and file is not None:
        raise UsageError(Problem("--list", "it goes without a file", "Leave one of them out"))
    if listed:
        seen = backups(desk)
        say_json(backups_json(*seen)) if as_json else say(backups_text(*seen))
        return
    made = back_up_now(desk, file)
    say_json(made._asdict()) if as_json else say(made.sentence())
