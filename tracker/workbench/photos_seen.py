"""Photos as they are looked at: on the page before and after, on the screens as points."""

from __future__ import annotations

import os
from base64 import b64encode
from datetime import date
from typing import TYPE_CHECKING

from tracker.domain.answers_photos import PhotoShown
from tracker.domain.problems import DataError, Problem
from tracker.sheets.kept_pictures import Colour, points_of, small_copy
from tracker.sheets.pictures import SIDE_MOST_PIXELS
from tracker.workbench.desk import Desk

if TYPE_CHECKING:
    from tracker.report.parts.part import PagePicture
    from tracker.report.parts.photos import BeforeAfter


def before_and_after(desk: Desk, day: date) -> tuple[BeforeAfter, ...]:
    """The first picture of each unit up to a day and its newest, units with the newest pictures first.

    Pictures whose file is missing or damaged are left out.
    """
    from tracker.report.parts.photos import UNITS_MOST, BeforeAfter
    from tracker.workbench.photos import photos

    if not os.path.lexists(desk.path):
        return ()
    of_unit: dict[tuple[str, str], list[PhotoShown]] = {}
    for photo in photos(desk).photos:
        if photo.unit and photo.is_there and photo.taken_on <= day:
            of_unit.setdefault((photo.army, photo.unit), []).append(photo)
    units = sorted(of_unit.values(), key=lambda found: found[-1].taken_on, reverse=True)[:UNITS_MOST]
    shown = [
        BeforeAfter(found[0].unit, tuple(filter(None, map(_picture, dict.fromkeys((found[0], found[-1]))))))
        for found in units
    ]
    return tuple(one for one in shown if one.pictures)


def _picture(photo: PhotoShown) -> PagePicture | None:
    from tracker.report.parts.part import PagePicture
    from tracker.report.parts.photos import SIDE_PIXELS
    from tracker.report.photo_words import photo_words

    copy = small_copy(photo.path, SIDE_PIXELS)
    if isinstance(copy, Problem):
        return None
    uri = "data:image/jpeg;base64," + b64encode(copy.data).decode()
    return PagePicture(uri, copy.width_pixels, copy.height_pixels, photo_words(photo))


def picture_points(path: str, columns: int, rows: int) -> tuple[tuple[Colour, ...], ...]:
    """A picture as rows of square points, for screens that draw it themselves."""
    found = points_of(path, columns, rows)
    if isinstance(found, Problem):
        raise DataError(found)
    return found


def picture_data(path: str) -> bytes:
    """A picture's file that is known to be whole, for terminals that draw it themselves."""
    found = small_copy(path, SIDE_MOST_PIXELS)
    if isinstance(found, Problem):
        raise DataError(found)
    return found.data
