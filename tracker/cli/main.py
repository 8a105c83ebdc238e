"""The program `lastcoat`: its commands by name, each loaded only when it is run."""

from __future__ import annotations

import sys
from importlib import import_module
from typing import Any, NoReturn

import click

from tracker import __version__
from tracker.cli.common import INTERRUPTED, complain, db_option, help_text
from tracker.workbench.desk import Desk

COMMANDS: dict[str, tuple[str, str]] = {
    "demo": ("answers.demo", "See it work on an invented army, away from your own log."),
    "tonight": ("tonight", "Where you left off, and what can be finished in the time you have."),
    "ready": ("answers.ready", "What can be worked on tonight."),
    "add": ("add", "Put a unit on the desk, or spare models."),
    "log": ("log", "Log one step on some models: what, how many, how long."),
    "lamp": ("lamp", "A session begins, rests and ends; its minutes are counted."),
    "evening": ("evening", "Say how long an evening was as a whole."),
    "mark": ("mark", "Correct where models stand with a step."),
    "leave": ("leave", "Models that were sold, given away or broken."),
    "route": ("route", "Change the steps of a unit and its finish line."),
    "unit": ("unit", "See a unit's sheet; rename, plan, order, split, merge, retire."),
    "photo": ("photo", "Pictures of work in progress, before and after."),
    "spare": ("spare", "Models without a role: what they look like, where they lie."),
    "role": ("role", "Roles in a unit, and the spares that would stand best in them."),
    "recipe": ("recipe", "What was painted with what, step by step, every version of it."),
    "paint": ("paint", "Paints by your own words: which ran out, and what still needs them."),
    "curing": ("curing", "What dries until when, and timers of your own."),
    "caution": ("caution", "What can hurt, and one thing to do about it."),
    "ranks": ("ranks", "Bases, trays and fillers; who stands where, shoulder to shoulder."),
    "plan": ("plan", "Evenings to come as you mean them, and days away."),
    "goal": ("goal", "What must be ready by a day: its chance, the least cut, what to pick."),
    "points": ("points", "What a list is worth in points, its target, and when that is reached."),
    "source": ("source", "Where things came from or went, and what they cost."),
    "undo": ("undo", "Take back the last change, whole."),
    "redo": ("redo", "Bring back what was taken back last."),
    "pace": ("answers.pace", "Your own minutes per step."),
    "estimate": ("answers.estimate", "Minutes that planned work would take."),
    "army": ("answers.army", "Every unit: what is left, when it is table-ready, the chance by its goal."),
    "forecast": ("answers.forecast", "When every unit will be table-ready, as a range of dates."),
    "order": ("answers.order", "The order that puts most on the table soonest, beside your own."),
    "whatif": ("answers.whatif", "What another plan would do to the dates; nothing is stored."),
    "backlog": ("answers.backlog", "How the backlog moved and when it ends."),
    "report": ("answers.report", "Write all of it as one page for the browser."),
    "calendar": ("calendar", "Write goals, planned evenings and dates as a calendar file."),
    "serve": ("serve.command", "The screens in a browser, on this machine or the desk's tablet."),
    "import": ("import_file", "Read an evening sheet, a roster sheet or a whole log."),
    "export": ("export_file", "Write an evening sheet, a roster sheet or the whole log."),
    "merge": ("merge", "Join the log of another machine to yours, doubling and losing nothing."),
    "check": ("check", "Look over the log, mend it, or save what can be read."),
    "backup": ("backup", "Back up the log now; see the backups there are."),
    "restore": ("restore", "Put a backup in the place of the log, and keep what it replaces."),
    "config": ("config", "Your settings: show, set, check."),
    "keys": ("keys", "Which key does what on the screens."),
    "completion": ("completion", "Set up completion for your shell."),
}
"""Name of a command -> its module in this folder and its line in the help."""

BARE = "ready"
"""What is printed when no command is said and there is no terminal to open the screens in."""


class LazyCommands(click.Group):
    """A group that loads a command's module only when that command runs."""

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002 - click's signature
        """Names in the order of the help."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:  # noqa: ARG002
        """The command itself."""
        if cmd_name not in COMMANDS:
            return None
        command: click.Command = import_module("tracker.cli." + COMMANDS[cmd_name][0]).command
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:  # noqa: ARG002
        """The list of commands, from the table alone."""
        with formatter.section("Commands"):
            formatter.write_dl([(name, words) for name, (_, words) in COMMANDS.items()])

    def shell_complete(self, ctx: click.Context, incomplete: str) -> list[Any]:
        """Names of commands, from the table alone, and the options."""
        from click.shell_completion import CompletionItem

        names = [
            CompletionItem(name, help=words)
            for name, (_, words) in COMMANDS.items()
            if name.startswith(incomplete)
        ]
        return names + click.Command.shell_complete(self, ctx, incomplete)

    def main(self, *args: Any, **more: Any) -> Any:
        """Run; what cannot be understood is one line and status 2, an interruption is status 130."""
        run: Any = super().main
        if not more.pop("standalone_mode", True):
            return run(*args, standalone_mode=False, **more)
        _never_fail_to_print()
        try:
            status = run(*args, standalone_mode=False, **more)
        except click.ClickException as refusal:
            _refuse(refusal)
        except (click.Abort, KeyboardInterrupt):
            complain("Stopped.")
            sys.exit(INTERRUPTED)
        sys.exit(status if isinstance(status, int) else 0)


def _never_fail_to_print() -> None:
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="backslashreplace")


def _refuse(refusal: click.ClickException) -> NoReturn:
    ctx = getattr(refusal, "ctx", None)
    if isinstance(refusal, click.exceptions.NoArgsIsHelpError):
        complain(refusal.format_message())
        sys.exit(refusal.exit_code)
    said = " ".join(refusal.format_message().split())
    path = ctx.command_path if ctx else "lastcoat"
    complain(f"{path}: {said} See: {path} --help")
    sys.exit(refusal.exit_code)


@click.command(
    cls=LazyCommands,
    invoke_without_command=True,
    context_settings={"help_option_names": ["-h", "--help"]},
    help=help_text(
        "Log an evening at the painting desk, learn your own minutes per step, see the table-ready date.",
        "lastcoat add --unit Spears --models 20",
        'lastcoat log "cleaned 10 spears, 50 min"',
        "lastcoat forecast",
    ),
)
@click.version_option(__version__, message="%(version)s")
@db_option
@click.pass_context
def main(ctx: click.Context, desk: Desk) -> None:
    """Run the command that was said, or open the terminal UI."""
    ctx.obj = desk
    if ctx.invoked_subcommand is None:
        from tracker.cli.bare import open_desk

        open_desk(ctx, desk, BARE)


if __name__ == "__main__":
    main()
