"""The half-typed evening is still there next time."""

from __future__ import annotations

import os

from tracker.store.drafts import read_draft, write_draft
from tracker.workbench.desk import Desk
from tracker.workbench.naming import good_text


def save_draft(desk: Desk, text: str) -> None:
    """Keep what is typed so far; it is on disk when this returns, and no part of undo."""
    good_text("the entry", text)
    if not text and not os.path.lexists(desk.path):
        return
    with desk.open(create=True) as store:
        write_draft(store, text)


def draft(desk: Desk) -> str:
    """What was typed and not stored; empty when there is nothing."""
    if not os.path.lexists(desk.path):
        return ""
    with desk.open() as store:
        return read_draft(store)


def clear_draft(desk: Desk) -> None:
    """Forget what was typed."""
    save_draft(desk, "")
