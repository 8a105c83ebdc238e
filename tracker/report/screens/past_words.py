"""Undo, and what was left half typed, in words."""

from __future__ import annotations

KEPT_DRAFT = "This was half typed. The entry key takes it up again."
ASK_UNDO = "{change} Press the same key again to do it."


def nothing_words(verb: str) -> str:
    """When there is nothing to take back or to bring back."""
    return f"There is nothing to {verb}."
