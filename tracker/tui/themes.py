"""Three looks of our own; every text on its ground has a contrast of at least 4.5 to 1 (WCAG 2.2, 1.4.3)."""

from __future__ import annotations

from textual.theme import Theme

NIGHT = Theme(
    "night", dark=True, background="#14171c", surface="#1b1f26", panel="#242a33", foreground="#d9d4c7",
    primary="#8fb8d8", secondary="#b9a3d6", accent="#e6b566", warning="#e6b566", error="#f0917f",
    success="#9cc68b",
    variables={
        "quiet": "#9aa0a8", "lit": "#ffd27a", "cursor-ground": "#33404e", "cursor-text": "#ffffff",
        "chart": "#8fb8d8", "input-cursor-background": "#ffd27a", "input-cursor-foreground": "#14171c",
        "input-selection-background": "#4a5a6c",
    },
)  # fmt: skip
DAY = Theme(
    "day", dark=False, background="#faf7f0", surface="#f1ede3", panel="#e6e0d2", foreground="#26292e",
    primary="#1c5480", secondary="#5e3f86", accent="#7a4a00", warning="#7a4a00", error="#9c2b1b",
    success="#2c5e22",
    variables={
        "quiet": "#5c6068", "lit": "#7a4a00", "cursor-ground": "#cfdcea", "cursor-text": "#10141a",
        "chart": "#1c5480", "input-cursor-background": "#26292e", "input-cursor-foreground": "#faf7f0",
        "input-selection-background": "#b9cde0",
    },
)  # fmt: skip
STARK = Theme(
    "stark", dark=True, background="#000000", surface="#000000", panel="#000000", foreground="#ffffff",
    primary="#ffffff", secondary="#ffffff", accent="#ffff00", warning="#ffff00", error="#ff9a9a",
    success="#9aff9a",
    variables={
        "quiet": "#e0e0e0", "lit": "#ffff00", "cursor-ground": "#ffff00", "cursor-text": "#000000",
        "chart": "#00ffff", "input-cursor-background": "#ffff00", "input-cursor-foreground": "#000000",
        "input-selection-background": "#0000c0",
    },
)  # fmt: skip
THEMES = {theme.name: theme for theme in (NIGHT, DAY, STARK)}


def next_theme(name: str) -> str:
    """The look after this one."""
    names = list(THEMES)
    return names[(names.index(name) + 1) % len(names)] if name in names else names[0]
