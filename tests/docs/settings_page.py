"""docs/settings.md: what can be set, with what it is when nothing is said."""

from __future__ import annotations

from tests.docs.places import NOTE
from tracker.tui.actions import ACTIONS, HELP, action_id
from tracker.workbench.settings import COLUMNS, THEMES, WEEK_STARTS, Settings

MEANING = {
    "theme": ("The look of the screens; `T` turns to the next one and remembers it.", THEMES),
    "animation": ("Whether things on the screens may glide.", ("true", "false")),
    "week_start": ("With which day a week begins.", WEEK_STARTS),
    "columns": ("Columns of the army, in your order.", COLUMNS),
    "backup_folder": (
        "Where backups lie; empty = beside the log.",
        ("a whole path",),
    ),
}
"""Name -> its sentence, and what it can be; columns can be several."""

_PAGE = """{note}
# Settings

Everything works without settings. Those you want to change stand in one TOML file; `lastcoat config where`
says where it is (on Linux usually `~/.config/lastcoat/config.toml`). `LASTCOAT_CONFIG` names another file.
Nothing in it touches your log.

    lastcoat config show
    lastcoat config set theme day
    lastcoat config set keys.lamp f2
    lastcoat config check

`set` leaves your comments as they are. What cannot be understood is told in one line and stays as it is
without the file.

| name | what it is | can be | unless you say so |
|---|---|---|---|
{rows}
| `keys.NAME` | The key of an action, or several with commas between them. | `f2`, `l,f2` | see below |

The whole file, as it would stand with nothing changed:

{example}

## Keys

`lastcoat keys` lists every action with its name and its key now; so does [Every key](screens.md#every-key).
A key is written as a letter (`l`), or by its name: `f2`, `enter`, `space`, `ctrl+l`, `question_mark`.
The table `[keys]` comes last in the file:

{keys}

## From outside

| name | what it does |
|---|---|
| `LASTCOAT_DB` | the log, when it is not in its usual place; `--db` goes before it |
| `LASTCOAT_CONFIG` | the settings file |
| `LASTCOAT_BACKUPS` | the folder of backups; it goes before `backup_folder` |
| `NO_COLOR` | screens without colours |
"""


def settings_page() -> str:
    """The whole page."""
    plain = Settings()
    rows = [
        f"| `{name}` | {MEANING[name][0]} | {_can_be(name)} | `{_toml(getattr(plain, name))}` |"
        for name in plain_names()
    ]
    example = "\n".join(f"    {name} = {_toml(getattr(plain, name))}" for name in plain_names())
    lamp = next(action for action in ACTIONS if action.name == "lamp")
    keys = (
        f'    [keys]\n    {action_id(lamp)} = "{lamp.keys},f2"\n    {action_id(HELP)} = "{HELP.keys},ctrl+g"'
    )
    return _PAGE.format(note=NOTE, rows="\n".join(rows), example=example, keys=keys)


def plain_names() -> list[str]:
    """Settings that are one value."""
    return [name for name in Settings._fields if name != "keys"]


def _can_be(name: str) -> str:
    words = ", ".join(f"`{word}`" for word in MEANING[name][1])
    return f"some of {words}" if isinstance(getattr(Settings(), name), tuple) else words


def _toml(value: str | bool | tuple[str, ...]) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, tuple):
        return "[" + ", ".join(f'"{one}"' for one in value) + "]"
    return f'"{value}"'
