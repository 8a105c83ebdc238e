"""Help in words: what can be done on a screen and everywhere, by which key, and the same as plain text."""

from __future__ import annotations

from collections.abc import Sequence

from tracker.report.plain import clip, pad
from tracker.report.screens.line import BLANK, PageLine, head, sentences

Keys = Sequence[tuple[str, str]]
_ENTRY = (
    ("e", "opens it with the line you left off: type its minutes and press Enter,"),
    ("", "or begin a sentence of your own, its words in any order:"),
    ("Enter", "stores; what is understood stands under the line before that"),
    ("↑ ↓", "another step"),
    ("Tab", "another unit (Shift and ↑ ↓ too)"),
    ("Esc", "leaves it; what is typed is kept, even if the program is closed"),
)
ASK_FOR_ANYTHING = "What do you want to do? A few letters are enough"
_EXAMPLES = (
    "washed 10 spears, 50 min",
    "primed 8 riders yesterday",
    "30 min highlights captain not finished",
    "shaded 5 spears; based 5 spears; 90 min in all",
)


def help_lines(title: str, own: Keys, everywhere: Keys, twin: str, width: int) -> list[PageLine]:
    """Everything that can be done by a key."""
    out = [head(f"On this page: {title}"), *_keys(own, width), BLANK] if own else []
    out += [head("The entry line"), *_keys(_ENTRY[:2], width)]
    out += [PageLine(clip(f"            {example}", width), "quiet") for example in _EXAMPLES]
    out += _keys(_ENTRY[2:], width)
    out += [BLANK, head("Everywhere"), *_keys(everywhere, width)]
    out += _keys(
        (("^P", "Everything by name: type a few letters of it"), ("^Q ^C", "Close, whatever else")), width
    )
    out += [BLANK, *sentences(f"The same as plain text, for a pipe or a screen reader: {twin}", width)]
    return [*out, *sentences("Other keys, the look: lastcoat config", width, "quiet")]


def _keys(keys: Keys, width: int) -> list[PageLine]:
    return [PageLine(clip(f"{pad(key, 8, right=True)}  {words}", width)) for key, words in keys]
