"""Values inside messages."""

from __future__ import annotations

from tracker.domain.text import printable

_SHOWN_MOST = 40


def shown(text: str) -> str:
    """A value inside a message: in quotes, harmless and short."""
    short = text if len(text) <= _SHOWN_MOST else text[: _SHOWN_MOST - 1] + "…"
    return f'"{printable(short)}"'
