"""Photos of work in progress: which file, of what, after which step."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple


class Photo(NamedTuple):
    """A picture that was copied beside the log; the same content is one file."""

    id: int
    file: str
    """Its name in the photo folder: the hash of its content (SHA-256, hex) and what it is."""
    unit_id: int | None
    model_id: int | None = None
    step: str = ""
    """The step it shows the end of; empty = not said."""
    width_pixels: int = 0
    height_pixels: int = 0
    note: str = ""
    taken_on: date = date(1970, 1, 1)
