"""What a look over the log found, and what could be saved of a damaged one."""

from __future__ import annotations

from typing import NamedTuple


class Found(NamedTuple):
    """One thing in the log that cannot be as it is."""

    code: str
    """For scripts; it stays."""
    where: str
    what: str
    mend: str
    safe: bool = False
    """Whether `lastcoat check --mend` does it."""
    rows: tuple[int, ...] = ()
    """Ids of the rows it is about, where a mend needs them."""


class CheckAnswer(NamedTuple):
    """A look over the whole log."""

    log: str
    rows: int
    """Rows looked at."""
    found: tuple[Found, ...] = ()
    damaged: bool = False
    """The file itself is damaged: only saving what can be read helps."""

    @property
    def mendable(self) -> tuple[Found, ...]:
        """What `--mend` would mend."""
        return () if self.damaged else tuple(one for one in self.found if one.safe)


class MendAnswer(NamedTuple):
    """What was mended, and how the log stands now."""

    mended: tuple[Found, ...]
    backup: str
    """The log as it was before; empty = nothing had to be mended."""
    now: CheckAnswer


class SavedTable(NamedTuple):
    """What could be saved of one table."""

    table: str
    saved: int
    unfit: int = 0
    """Rows that were read but do not fit: what they refer to is gone, or a value cannot be."""
    altered: int = 0
    """Rows saved with a sign in place of letters that cannot be read."""
    expected: int | None = None
    """Rows there were, by the table's seal; None = not known."""
    unread: bool = False
    """A part of it could not be read, and how many rows that were is not known."""
    sealed: bool = True
    """Its seal was read and holds, so that each row is as it was stored."""

    @property
    def lost(self) -> int | None:
        """Rows that are not in the saved log; None = not known."""
        if self.expected is None:
            return None if self.unread else self.unfit
        return max(self.expected - self.saved, 0)


class SalvageAnswer(NamedTuple):
    """What was saved of a log, and where it is."""

    log: str
    document: str
    saved_log: str
    tables: tuple[SavedTable, ...]
    wal_frames_lost: int = 0
    """Pages of the write-ahead log that could not be read."""
