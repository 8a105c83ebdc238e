"""docs/screens.md and the pictures beside it: a short tour of the screens, and every key."""

from __future__ import annotations

import re
from collections.abc import Iterable

from tests.docs.places import DOCS, NOTE
from tests.docs.screens import SCREENS, Screen
from tests.docs.screens_drawn import drawn
from tests.docs.tour import words_of
from tracker.tui.actions import ACTIONS, HELP, Action, action_id, shown_key

FOLDER = DOCS / "screens"
_FUNCTION_KEY = re.compile(r"f\d+")
_COLOUR = re.compile("#[0-9a-f]{6}")
_TITLES = {
    "tonight": "Tonight",
    "dates": "The dates",
    "army": "The army",
    "spares": "Spares",
    "roles": "Roles and spares",
    "recipes": "Recipes",
    "recipe": "A recipe",
    "money": "Points and money",
    "photos": "Photos",
    "curing": "Curing",
    "unit": "A unit's sheet",
    "pace": "Your pace",
    "first": "An empty desk",
}
_INTRODUCTION = """\
`lastcoat` without a command opens the screens, where there is a terminal. The pictures are of the demo, which
`y` opens on an empty desk. Everything can also be asked and done by [commands](commands.md): under each
picture stands the one that does or prints the same as plain text, for a pipe or a screen reader. The screens
are at home in 80 columns and 24 lines, and need 60 by 16. `lastcoat serve` opens them in
[a browser](serve.md)."""
_FRAME = """\
At the top is the lamp, lit or not, and the evening it is. At the foot are the entry line, what it understood
or what it bought, and the keys used most here. Colour never says anything alone: signs and words say it too.
`T` turns to another look (night, day, stark); `NO_COLOR` does without colours."""
_KEYS = """\
Every key can be put elsewhere: `lastcoat config set keys.NAME KEY`, with the name of the last column. See
[Settings](settings.md). The mouse works as well: a click puts the cursor there, another one chooses."""


def screens_page() -> str:
    """The whole page."""
    parts = [f"{NOTE}\n# The screens", _INTRODUCTION, _FRAME, *map(_shown, SCREENS), "## Every key", _KEYS]
    parts += ["### Everywhere", _table(a for a in (*ACTIONS, HELP) if not a.where)]
    for page in dict.fromkeys(page for action in ACTIONS for page in action.where):
        title = _TITLES.get(page, page)
        parts += [f"### On: {title}", _table(a for a in ACTIONS if page in a.where)]
    return "\n\n".join(parts) + "\n"


def _shown(screen: Screen) -> str:
    return "\n\n".join(
        (
            f"## {screen.title}",
            screen.words,
            f"![{screen.title}](screens/{screen.name}.svg)",
            f"By command: `{screen.command}`",
        )
    )


def _table(actions: Iterable[Action]) -> str:
    rows = ["| key | what it does | its name |", "|---|---|---|"]
    for action in actions:
        keys = ", ".join(f"`{_key_words(key)}`" for key in action.keys.split(",") if key)
        rows.append(f"| {keys or 'by its name: `^P`'} | {action.words} | `{action_id(action)}` |")
    return "\n".join(rows)


def _key_words(key: str) -> str:
    return key.upper() if _FUNCTION_KEY.fullmatch(key) else shown_key(key)


def stale_pictures() -> list[str]:
    """Names of pictures that say something else than the program, are missing, or are shown nowhere."""
    pictures = drawn()
    stand = {path.stem: path.read_text(encoding="utf-8") for path in FOLDER.glob("*")}
    return sorted(
        name
        for name in pictures.keys() | stand.keys()
        if name not in pictures or _said(stand.get(name, "")) != _said(pictures[name][0])
    )


def _said(picture: str) -> tuple[str, list[str]]:
    """Its words and colours; the last digit of a figure, and a dot of a chart, may differ elsewhere."""
    return words_of(picture), sorted(set(_COLOUR.findall(picture)))


def write_pictures() -> None:
    """Draw them all; what is shown no more goes."""
    pictures = drawn()
    FOLDER.mkdir(exist_ok=True)
    for path in FOLDER.glob("*"):
        if path.stem not in pictures:
            path.unlink()
    for name, (picture, _) in pictures.items():
        (FOLDER / f"{name}.svg").write_text(picture, encoding="utf-8")
