"""`lastcoat keys`: which key does what on the screens."""

from __future__ import annotations

import os

import click

from tracker.cli.common import complain, help_text, json_option, run_verb, say, say_json


@click.command(
    help=help_text(
        "Which key does what on the screens, with your own keys in it. The first word is the action's name"
        " for: lastcoat config set keys.NAME KEY",
        "lastcoat keys",
    )
)
@json_option
@run_verb
def command(*, as_json: bool) -> None:
    """Print the list."""
    from tracker.tui.actions import ACTIONS, HELP, action_id
    from tracker.workbench.settings import action_problems, read_settings, settings_path

    read = read_settings(settings_path(os.environ))
    own = dict(read.settings.keys)
    rows = [
        (action_id(one), own.get(action_id(one), one.keys), one.words, list(one.where))
        for one in (*ACTIONS, HELP)
    ]
    for problem in (*read.problems, *action_problems(read, [row[0] for row in rows])):
        complain(" ".join(str(problem).split()))
    if as_json:
        say_json([dict(zip(("action", "keys", "does", "screens"), row, strict=True)) for row in rows])
        return
    for action, keys, words, where in rows:
        on = f" (on: {', '.join(where)})" if where else ""
        say(f"{action}: {keys or 'no key, only the palette'}: {words}{on}")
