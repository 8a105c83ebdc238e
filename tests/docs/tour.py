"""The README's tour: what the demo prints and one of its screens, put between their marks.

Which words and columns are printed is checked to the letter. The figures in them are not: their last
digit may differ between processors.
"""

from __future__ import annotations

import re
import tempfile
from pathlib import Path

from tests.docs.places import README
from tests.docs.running import printed
from tests.docs.screens_drawn import drawn

_BLOCK = re.compile(r"(?ms)^<!-- tour: (?P<what>[^\n]*) -->\n(?P<shown>.*?)^<!-- end -->$")
_DEMO = "lastcoat demo --folder barleywick"
_SCREEN = "screen "
_OWN = (
    "lastcoat add --unit Spears --models 20",
    'lastcoat log "2026-03-03 cleaned 10 spears, 50 min"',
    "lastcoat undo",
)


def tour() -> str:
    """The README with every block of its tour printed anew."""
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        demo = printed(_DEMO, folder)
        return _BLOCK.sub(lambda block: _filled(block["what"], demo, folder), _readme())


def shape(page: str) -> str:
    """The page with the figures, dates and charts of its tour blanked out."""
    return _BLOCK.sub(lambda block: _blanked(block["shown"]), page)


def _readme() -> str:
    return README.read_text(encoding="utf-8")


def _filled(what: str, demo: str, folder: Path) -> str:
    if what == "demo":
        said = demo.partition("\nThe page: ")[0]
    elif what.startswith(_SCREEN):
        name = what.removeprefix(_SCREEN)
        said = drawn(name)[name][1]
    elif what == "own":
        said = "\n".join(f"$ {command}\n{printed(command, folder)}" for command in _OWN)
    else:
        said = f"$ {what}\n{printed(what, folder)}"
    return f"<!-- tour: {what} -->\n\n{_indented(said)}\n\n<!-- end -->"


def _indented(text: str) -> str:
    return "\n".join(f"    {line}".rstrip() for line in text.strip("\n").split("\n"))


def words_of(page: str) -> str:
    """The words of a page whose figures may differ in the last digit between processors."""
    return _blanked(page)


def _blanked(shown: str) -> str:
    words = re.findall(r"[^\W\d_]{4,}", shown)
    return " ".join(sorted(set(words)))
