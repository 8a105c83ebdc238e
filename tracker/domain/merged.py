"""What joining another log did: what came in, what was known, where both logs say something else."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple


class Clash(NamedTuple):
    """One thing of which the two logs say something else; one of both is kept."""

    table: str
    what: str
    """Whose it is, in the person's names: "Spears 3", "the evening of 2026-03-03"."""
    field: str
    """The column; "*" for a thing that cannot stand beside one of ours."""
    ours: str
    theirs: str
    kept: str
    """"ours" or "theirs"."""


class Merged(NamedTuple):
    """What joining another log did, or would do."""

    file: str
    added: Mapping[str, int]
    """Rows that came in, by table, only where there are some."""
    same: int = 0
    """Rows that both logs have alike."""
    taken: int = 0
    """Rows of ours that were brought to what theirs says: theirs had moved on from ours."""
    kept: int = 0
    """Rows where ours had moved on from theirs and stays."""
    clashes: tuple[Clash, ...] = ()
    notes: tuple[str, ...] = ()
    """What came in otherwise than it was there: names, numbers, labels."""
    photos: int = 0
    """Photos that came in; their files do not come with a log."""
    changed: bool = False
    dry_run: bool = False
