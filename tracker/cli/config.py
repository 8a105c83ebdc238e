"""`lastcoat config`: see, set and check the settings."""

from __future__ import annotations

import os

import click

from tracker.cli.common import complain, help_text, json_option, run_verb, say, say_json
from tracker.domain.problems import DataError, Problem, UsageError


@click.command(
    help=help_text(
        "Your settings: show each with where it is from, set one, say where the file is, check it.",
        "lastcoat config show",
        "lastcoat config set theme day",
        "lastcoat config set keys.lamp f2",
        "lastcoat config where",
        "lastcoat config check",
    )
)
@click.argument("act", type=click.Choice(["show", "set", "where", "check"]), default="show")
@click.argument("name", required=False)
@click.argument("value", required=False)
@json_option
@run_verb
def command(*, act: str, name: str | None, value: str | None, as_json: bool) -> None:
    """Do it and print."""
    from tracker.workbench.settings import settings_path

    path = settings_path(os.environ)
    if act == "set":
        _set(path, name, value)
    elif name is not None:
        raise UsageError(Problem("config", f'"{name}" does not belong here', "See: lastcoat config --help"))
    elif act == "where":
        say_json({"path": path, "exists": os.path.exists(path)}) if as_json else say(path)  # noqa: PTH110
    elif act == "check":
        _check(path)
    else:
        _show(path, as_json=as_json)


def _set(path: str, name: str | None, value: str | None) -> None:
    from tracker.workbench.settings import set_setting

    if name is None or value is None:
        raise UsageError(Problem("config", "what to set is missing", "Say: lastcoat config set theme day"))
    if name.startswith("keys."):
        _known_action(name.removeprefix("keys."))
    done = set_setting(path, name, value)
    say(f"Set: {done.name} = {_text(done.value)} in {path}")


def _known_action(action: str) -> None:
    from tracker.domain.problems import did_you_mean

    known = _actions()
    if action not in known:
        mend = did_you_mean(action, known, "See: lastcoat keys")
        raise UsageError(Problem(f"keys.{action}", "there is no such action", mend))


def _actions() -> list[str]:
    from tracker.tui.actions import ACTIONS, HELP, action_id

    return list(dict.fromkeys(action_id(action) for action in (*ACTIONS, HELP)))


def _check(path: str) -> None:
    from tracker.workbench.settings import action_problems, read_settings

    read = read_settings(path)
    problems = (*read.problems, *action_problems(read, _actions()))
    if problems:
        raise DataError(problems)
    said = "Everything in it is understood" if os.path.exists(path) else "There is no file; ours apply"  # noqa: PTH110
    say(f"{said}: {path}")


def _show(path: str, *, as_json: bool) -> None:
    from tracker.workbench.settings import read_settings

    read = read_settings(path)
    for problem in read.problems:
        complain(" ".join(str(problem).split()))
    if as_json:
        say_json({one.name: {"value": one.value, "source": one.source} for one in read.shown})
        return
    for one in read.shown:
        say(f"{one.name} = {_text(one.value)}  ({one.source})")


def _text(value: str | bool | tuple[str, ...]) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    return value if isinstance(value, str) else ",".join(value)
