"""What is told of photos."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple


class PhotoShown(NamedTuple):
    """One photo, with the names of what it shows."""

    number: int
    """How a person names it."""
    army: str
    unit: str
    """Empty = a spare."""
    model: int | None
    model_name: str
    step: str
    note: str
    taken_on: date
    width_pixels: int
    height_pixels: int
    path: str
    """Where its file lies."""
    is_there: bool


class PhotosAnswer(NamedTuple):
    """Photos, oldest first."""

    photos: tuple[PhotoShown, ...]
    folder: str
    as_of: date
