"""`lastcoat restore`."""

from __future__ import annotations

import click

from tracker.cli.common import db_option, help_text, json_option, run_verb, say, say_json
from tracker.workbench.desk import Desk


@click.command(
    help=help_text(
        "Put a backup in the place of the log: the newest, one by its name or file, or the newest made for a"
        " reason. What it replaces is backed up first, and restoring that is the way back; undo is not."
        " Photos are not in backups and stay as they are.",
        "lastcoat restore --dry-run",
        "lastcoat restore newest",
        "lastcoat restore before-restore",
    )
)
@click.argument("backup", default="newest")
@click.option("--dry-run", is_flag=True, help="Say what would come and go, and change nothing.")
@json_option
@db_option
@run_verb
def command(desk: Desk, *, backup: str, dry_run: bool, as_json: bool) -> None:
    """Restore it and say what differs."""
    from tracker.workbench.backups import restore

    done = restore(desk, backup, dry_run=dry_run)
    if not as_json:
        say(done.sentence())
        return
    now = done.now and dict(zip(("units", "lines"), done.now, strict=True))
    then = dict(zip(("units", "lines"), done.then, strict=True))
    say_json(done._asdict() | {"then": then, "now": now})
