"""Pictures that were kept: looked at small or as points, and checked where they come from another machine."""

from __future__ import annotations

import io
import warnings
from collections.abc import Callable
from typing import TYPE_CHECKING, TypeVar

from tracker.domain.problems import Problem
from tracker.sheets.jpeg import says_more
from tracker.sheets.pictures import SIDE_MOST_PIXELS, Picture, bytes_of, fresh_jpeg, too_large

if TYPE_CHECKING:
    from PIL import Image

Made = TypeVar("Made")
Colour = tuple[int, int, int]
"""Red, green, blue, 0 to 255."""
KEPT_BYTES_MOST = 16 * 1024 * 1024
"""A kept picture of pure noise has about 4 MB."""


def small_copy(path: str, side_pixels: int) -> Picture | Problem:
    """A kept picture at most so wide and high, as the page shows it."""

    def small(picture: Image.Image) -> Picture:
        picture.thumbnail((side_pixels, side_pixels))
        return Picture(fresh_jpeg(picture), *picture.size)

    return _of_kept(path, small)


def points_of(path: str, columns: int, rows: int) -> tuple[tuple[Colour, ...], ...] | Problem:
    """A kept picture as rows of square points, at most so many across and down, its shape kept."""

    def points(picture: Image.Image) -> tuple[tuple[Colour, ...], ...]:
        picture.thumbnail((max(columns, 1), max(rows, 1)))
        data, width = picture.convert("RGB").tobytes(), picture.size[0]
        dots = [(data[i], data[i + 1], data[i + 2]) for i in range(0, len(data), 3)]
        return tuple(tuple(dots[i : i + width]) for i in range(0, len(dots), width))

    return _of_kept(path, points)


def fault_of_kept(data: bytes) -> str:
    """Why bytes from elsewhere are no kept picture: not such a JPEG, or it says more than its picture."""
    from PIL import Image

    if says_more(data):
        return "it carries more than the picture"
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        try:
            with Image.open(io.BytesIO(data), formats=("JPEG",)) as picture:
                return "" if max(picture.size) <= SIDE_MOST_PIXELS else "it is too large"
        except Exception:  # a decoder that is fed with damaged bytes may raise anything
            return "it is no picture"


def _of_kept(path: str, make: Callable[[Image.Image], Made]) -> Made | Problem:
    """What is made of a picture that was kept; one that was damaged since is a problem."""
    from PIL import Image

    raw = bytes_of(path)
    if isinstance(raw, Problem):
        return raw
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        try:
            with Image.open(io.BytesIO(raw), formats=("JPEG",)) as picture:
                return too_large(path, *picture.size) or make(picture)
        except Exception:  # likewise
            return Problem(path, "the picture is damaged", "Put it back from a backup of the photo folder")
