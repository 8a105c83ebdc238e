"""Backups in words and as JSON."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from tracker.domain.backups import Backup

_WHY = {"daily": "first change of the evening", "by-hand": "by hand", "damaged": "damaged, kept as it was"}
_HEAD = ("made", "size", "schema", "units", "lines", "why", "name")
_NUMBERS = 4
"""Columns from the second on that are numbers, set to the right."""


def backups_text(folder: str, backups: Sequence[Backup]) -> str:
    """A table of the backups, newest first."""
    if not backups:
        return f"There is no backup yet in {folder}"
    rows = [_HEAD, *map(_cells, backups)]
    widths = [max(len(row[column]) for row in rows) for column in range(len(_HEAD))]
    lines = ["  ".join(_padded(row, widths)).rstrip() for row in rows]
    return "\n".join([*lines, "", f"They lie in {folder}. Photos are not in them."])


def backups_json(folder: str, backups: Sequence[Backup]) -> dict[str, Any]:
    """The same as one document."""
    return {
        "folder": folder,
        "backups": [one._asdict() | {"when": one.when.isoformat()} for one in backups],
    }


def why_words(why: str) -> str:
    """As in "before a merge"."""
    head, _, rest = why.partition("-")
    if why in _WHY:
        return _WHY[why]
    if head == "schema":
        return f"before the schema after {rest}"
    return f"before {'an' if rest[:1] in 'aeiou' else 'a'} {rest}" if head == "before" else why


def size_words(size_bytes: int) -> str:
    """In MB (10^6 bytes, as disks are sold; IEC 80000-13), at least 0.1."""
    return f"{max(size_bytes / 1_000_000, 0.1):.1f} MB"


def _cells(one: Backup) -> tuple[str, ...]:
    held = tuple("?" if count is None else str(count) for count in (one.schema, one.units, one.lines))
    made = f"{one.when:%Y-%m-%d %H:%M}"
    return (made, size_words(one.size_bytes), *held, why_words(one.why), one.name)


def _padded(row: tuple[str, ...], widths: Sequence[int]) -> list[str]:
    return [
        cell.rjust(width) if 0 < place <= _NUMBERS else cell.ljust(width)
        for place, (cell, width) in enumerate(zip(row, widths, strict=True))
    ]
