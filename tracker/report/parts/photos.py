"""The page's photos: of each unit the first picture and the newest, side by side."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from tracker.report.parts.part import PagePicture, Part, shown

SIDE_PIXELS = 480
UNITS_MOST = 12
_WORDS = "Before and after: the first photo of each unit and its newest."


class BeforeAfter(NamedTuple):
    """A unit's first picture and its newest; one alone where there is only one."""

    unit: str
    pictures: tuple[PagePicture, ...]


def photos_part(units: Sequence[BeforeAfter]) -> Part | None:
    """A row of pictures for every unit that has some; nothing where none has."""
    if not units:
        return None
    rows = [
        tuple(picture._replace(words=shown(picture.words, 200)) for picture in unit.pictures)
        for unit in units
    ]
    return Part("photos", "Photos", [_WORDS], pictures=rows)
