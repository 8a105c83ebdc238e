"""A person's settings: one TOML file (TOML 1.0) in the platform's place; without it, what we chose.

A file that cannot be read, a name that is not known and a value that cannot be are one clear line each;
what is in doubt stays as it is without the file. Nothing here touches the log.
"""

from __future__ import annotations

import os
import re
import sys
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from stat import S_ISFIFO
from typing import Any, NamedTuple

from tracker.domain.problems import DataError, Problem, UsageError, did_you_mean

THEMES = ("night", "day", "stark")
WEEK_STARTS = ("monday", "sunday", "saturday")
COLUMNS = ("models", "hours", "ready", "chance")
_KEYS = re.compile(r"[^\s,]+(?:,[^\s,]+)*")
_BYTES_MOST = 1_000_000


class Settings(NamedTuple):
    """What a person can set."""

    theme: str = "night"
    animation: bool = False
    week_start: str = "monday"
    columns: tuple[str, ...] = COLUMNS
    """Columns of the army, in order."""
    backup_folder: str = ""
    """Where backups lie; empty = beside the log."""
    keys: tuple[tuple[str, str], ...] = ()
    """(action, its keys, with commas between them) for those that differ from ours."""


class Setting(NamedTuple):
    """One setting, its value, and where the value is from."""

    name: str
    value: str | bool | tuple[str, ...]
    source: str
    """The file, or "default"."""


class Read(NamedTuple):
    """What the file says."""

    path: str
    settings: Settings
    shown: tuple[Setting, ...]
    problems: tuple[Problem, ...] = ()


def settings_path(environment: Mapping[str, str]) -> str:
    """Where the settings lie: LASTCOAT_CONFIG, else XDG_CONFIG_HOME, else the platform's place."""
    said = environment.get("LASTCOAT_CONFIG")
    if said:
        return said
    home = environment.get("XDG_CONFIG_HOME")
    if not home and sys.platform == "linux":
        # Answered here, since the first change of a day waits for it. Source: XDG Base Directory 0.8.
        home = os.path.expanduser("~/.config")  # noqa: PTH111
    elif not home:
        from platformdirs import user_config_dir

        home = user_config_dir()
    return str(Path(home) / "lastcoat" / "config.toml")


def read_settings(path: str) -> Read:
    """The settings in that file; a missing file is none."""
    document, problem = _document(path)
    if problem is not None:
        return Read(path, Settings(), _shown(Settings(), {}, path), (problem,))
    problems: list[Problem] = []
    good: dict[str, Any] = {}
    for name, value in document.items():
        if name == "keys" and isinstance(value, dict):
            good["keys"], wrong = _read_keys(path, value)
            problems += wrong
            continue
        checked = _checked(path, name, value)
        if isinstance(checked, Problem):
            problems.append(checked)
        else:
            good[name] = checked
    settings = Settings(**good)
    return Read(path, settings, _shown(settings, good, path), tuple(problems))


def set_setting(path: str, name: str, said: str) -> Setting:
    """Set one value ("theme", "keys.lamp") and leave everything else of the file, comments too."""
    import tomlkit

    group, dot, action = name.partition(".")
    if dot and group == "keys" and action:
        checked: Any = _good_keys(path, action, said)
    else:
        checked = _checked(path, name, _typed(name, said))
    if isinstance(checked, Problem):
        raise UsageError(checked._replace(where=name))
    _, broken = _document(path)
    if broken is not None:
        raise DataError(broken)
    document = tomlkit.parse(_text(path))
    plain = list(checked) if isinstance(checked, tuple) else checked
    if dot:
        if not isinstance(document.get("keys"), dict):
            document["keys"] = tomlkit.table()
        document["keys"][action] = plain
    else:
        document[name] = plain
    _write(path, tomlkit.dumps(document))
    return Setting(name, checked, path)


def action_problems(read: Read, actions: Iterable[str]) -> tuple[Problem, ...]:
    """Keys that are set for actions nobody knows, the nearest names beside them."""
    known = list(actions)
    return tuple(
        Problem(
            read.path, f'there is no action "{action}"', did_you_mean(action, known, "See: lastcoat keys")
        )
        for action, _ in read.settings.keys
        if action not in known
    )


def _document(path: str) -> tuple[dict[str, Any], Problem | None]:
    import tomllib  # only where there may be a file: the first change of a day comes by here

    try:
        return tomllib.loads(_text(path)), None
    except DataError as refusal:
        return {}, refusal.problems[0]
    except tomllib.TOMLDecodeError as refusal:
        return {}, Problem(path, f"it is not TOML: {refusal}", "Mend that place, or delete the file")
    except RecursionError:
        return {}, Problem(path, "it has brackets within brackets without end", "Delete the file")


def _text(path: str) -> str:
    """The file's text, empty where there is none."""
    try:
        if S_ISFIFO(os.stat(path).st_mode):  # noqa: PTH116 - it would be waited for until somebody writes
            raise DataError(Problem(path, "it is a pipe", "Give a file"))
        with open(path, "rb") as file:  # noqa: PTH123
            data = file.read(_BYTES_MOST + 1)
        if len(data) > _BYTES_MOST:
            raise DataError(Problem(path, "it is too long for settings", "Give another file"))
        return data.decode("utf-8-sig")
    except FileNotFoundError:
        return ""
    except UnicodeDecodeError:
        raise DataError(Problem(path, "it is not UTF-8 text", "Save it as UTF-8")) from None
    except OSError as refusal:
        raise DataError(Problem(path, f"it cannot be read: {refusal.strerror}", "Check the path")) from None


def _write(path: str, text: str) -> None:
    """The file appears whole or stays as it was; a link stays a link."""
    from tracker.store.folders import make_own_folder

    target = Path(os.path.realpath(path))
    unready = target.with_name(f"{target.name}.unready")
    try:
        make_own_folder(str(target.parent))
        with open(os.open(unready, os.O_CREAT | os.O_WRONLY | os.O_TRUNC, 0o600), "wb") as out:  # noqa: PTH123
            out.write(text.encode())
        unready.replace(target)
    except OSError as refusal:
        raise DataError(
            Problem(path, f"it cannot be written: {refusal.strerror}", "Check the path")
        ) from None
    finally:
        unready.unlink(missing_ok=True)


def _one_of(*known: str) -> Callable[[Any], Any]:
    def check(value: Any) -> Any:
        if value in known:
            return value
        return did_you_mean(str(value), known, f"One of: {', '.join(known)}")

    return check


def _yes_or_no(value: Any) -> Any:
    return value if isinstance(value, bool) else "Say true or false"


def _some_of(value: Any) -> Any:
    good = isinstance(value, list | tuple) and value and all(one in COLUMNS for one in value)
    return tuple(dict.fromkeys(value)) if good else f"Some of: {', '.join(COLUMNS)}"


def _a_folder(value: Any) -> Any:
    """A whole path, or one that begins at home ("~"); empty = ours."""
    good = isinstance(value, str) and "\0" not in value and value.isprintable()
    if good and (not value or os.path.isabs(os.path.expanduser(value))):  # noqa: PTH111, PTH117
        return value
    return 'Write the whole path of a folder, like "~/backups"'


_CHECKS: dict[str, tuple[type, Callable[[Any], Any]]] = {
    "theme": (str, _one_of(*THEMES)),
    "animation": (bool, _yes_or_no),
    "week_start": (str, _one_of(*WEEK_STARTS)),
    "columns": (tuple, _some_of),
    "backup_folder": (str, _a_folder),
}


def _checked(path: str, name: str, value: Any) -> Any:
    """The value, or a problem that says what it could be."""
    if name not in _CHECKS:
        known = [*_CHECKS, "keys"]
        return Problem(
            path, f'there is no setting "{name}"', did_you_mean(name, known, f"One of: {', '.join(known)}")
        )
    kind, check = _CHECKS[name]
    checked = check(value)
    refused = isinstance(checked, str) and (kind is not str or checked != value)
    return Problem(path, f'"{name}" cannot be {value!r}', checked) if refused else checked


def _typed(name: str, said: str) -> Any:
    """What was typed on the command line, as the kind of its setting."""
    kind = _CHECKS.get(name, (str, None))[0]
    if kind is bool:
        return {"true": True, "yes": True, "on": True, "false": False, "no": False, "off": False}.get(
            said.casefold(), said
        )
    return [part.strip() for part in said.split(",")] if kind is tuple else said


def _good_keys(path: str, action: str, keys: Any) -> str | Problem:
    if isinstance(keys, str) and _KEYS.fullmatch(keys):
        return keys
    return Problem(path, f'the key of "{action}" cannot be {keys!r}', 'Write it like "f2" or "l,f2"')


def _read_keys(path: str, said: dict[str, Any]) -> tuple[tuple[tuple[str, str], ...], list[Problem]]:
    checked = {action: _good_keys(path, action, keys) for action, keys in said.items()}
    good = tuple((action, keys) for action, keys in checked.items() if isinstance(keys, str))
    return good, [keys for keys in checked.values() if isinstance(keys, Problem)]


def _shown(settings: Settings, said: Mapping[str, Any], path: str) -> tuple[Setting, ...]:
    plain = [Setting(name, getattr(settings, name), path if name in said else "default") for name in _CHECKS]
    return (*plain, *(Setting(f"keys.{action}", keys, path) for action, keys in settings.keys))
