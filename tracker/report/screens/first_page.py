"""The first evening in words."""

from __future__ import annotations

from tracker.report.screens.line import BLANK, PageLine, head, sentences

NEW, DEMO, SHEET = "new", "demo", "sheet"
TOLD_DEMO = (
    "This is the demo, an invented army in a folder of its own. Close it and your own log is as it was."
)
_WELCOME = (
    "Nothing is on the desk yet. Say what you are painting and what you did tonight; the rest is learned"
    " from you, evening by evening."
)


def first_lines(width: int) -> list[PageLine]:
    """What to do with an empty log: three ways, each one key."""
    out = [head("Good evening."), BLANK]
    out += sentences(_WELCOME, width)
    return [
        *out,
        BLANK,
        PageLine('Put a unit on the desk, as in "20 Spears"', "row", NEW),
        PageLine("See the demo first, away from your own log", "row", DEMO),
        PageLine("Bring in a roster or an evening sheet you have", "row", SHEET),
        BLANK,
        *sentences('Then press e and say what you did, as in "cleaned 5 spears, 40 min".', width, "quiet"),
    ]
