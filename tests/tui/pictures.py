"""Pictures of screens, held against the ones that were looked at; LASTCOAT_NEW_PICTURES=1 makes new ones."""

from __future__ import annotations

import os
import re
from pathlib import Path

from tracker.tui.app import Lastcoat

FOLDER = Path(__file__).parent / "pictures"
_FONTS = re.compile(r"\s*@font-face \{.*?\}", re.DOTALL)
_OWN_NAMES = re.compile(r"terminal-\d+-")


def picture(app: Lastcoat) -> str:
    """The screen as SVG, the same in every run and without a font from the network.

    The framework numbers its names at random, and names a font by its address.
    """
    svg = _OWN_NAMES.sub("terminal-", _FONTS.sub("", app.export_screenshot(simplify=True)))
    return "\n".join(line.rstrip() for line in svg.splitlines()) + "\n"


def differs(app: Lastcoat, name: str) -> str:
    """Empty when the screen looks as in its picture, else what to do."""
    now, path = picture(app), FOLDER / f"{name}.svg"
    if os.environ.get("LASTCOAT_NEW_PICTURES") == "1":
        path.parent.mkdir(exist_ok=True)
        path.write_text(now, encoding="utf-8")
        return ""
    if path.exists() and path.read_text(encoding="utf-8") == now:
        return ""
    seen = FOLDER / f"{name}.now.svg"
    seen.write_text(now, encoding="utf-8")
    return f"{name} looks different: see {seen.name}, and if it is right: LASTCOAT_NEW_PICTURES=1"
