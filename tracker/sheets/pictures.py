"""A picture that a person names, as clean bytes: decoded, bounded, and written anew with no metadata.

Whatever a file carries beside its picture (place, camera, thumbnails, comments) stays behind, since only the
decoded picture is written. Files of other people may be damaged or made to harm: sizes are looked at before
anything is decoded, and every fault of the decoder is one problem.
"""

from __future__ import annotations

import io
import stat
import warnings
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple, TypeVar

from tracker.domain.problems import Problem
from tracker.sheets.files import unreadable

if TYPE_CHECKING:
    from PIL import Image

Made = TypeVar("Made")
BYTES_MOST = 64 * 1024 * 1024
PIXELS_MOST = 50_000_000
"""A camera's picture has 8 to 50 million; decoded it takes three bytes each."""
SIDE_MOST_PIXELS = 1600
"""Enough to see a brush stroke; a year of evenings still fits on any disk."""
QUALITY = 85
FORMATS = ("JPEG", "PNG", "WEBP", "GIF", "BMP", "TIFF")
_TAKEN_TAGS = ((0x8769, 0x9003), (0, 0x0132))
"""(part, tag) of the moment a picture was taken, then changed: Exif 2.32, DateTimeOriginal and DateTime."""
_MEND = "Give a picture: JPEG, PNG, WebP, GIF, BMP or TIFF"


class Picture(NamedTuple):
    """A picture ready to be kept: a JPEG without metadata."""

    data: bytes
    width_pixels: int
    height_pixels: int
    taken_on: date | None = None
    """What the file said of the day it was taken; None = nothing that is a day."""


def read_picture(path: str) -> Picture | Problem:
    """The picture in a file, upright, at most `SIDE_MOST_PIXELS` wide and high; or one problem."""
    raw = _bytes_of(path)
    return raw if isinstance(raw, Problem) else clean(raw, path)


def clean(raw: bytes, where: str) -> Picture | Problem:
    """The picture in these bytes, written anew."""
    from PIL import Image, UnidentifiedImageError

    with warnings.catch_warnings():
        # Our own bound on pixels comes first; what the decoder warns of is refused or does no harm.
        warnings.simplefilter("ignore")
        Image.init()
        try:
            with Image.open(io.BytesIO(raw), formats=FORMATS) as picture:
                width, height = picture.size
                if width * height > PIXELS_MOST:
                    return _too_large(where, width, height)
                return _written(picture)
        except Image.DecompressionBombError:
            return Problem(where, "the picture is far too large", "Make it smaller first")
        except UnidentifiedImageError:
            return Problem(where, "it is no picture that can be read", _MEND)
        except Exception as fault:
            # A decoder that is fed with damaged bytes may raise anything.
            return Problem(
                where, f"the picture is damaged ({_short(fault)})", "Copy it again from where it was"
            )


def _written(picture: Image.Image) -> Picture:
    from PIL import Image, ImageOps

    taken_on = _taken_on(picture)
    picture.seek(0)
    picture.draft("RGB", (SIDE_MOST_PIXELS, SIDE_MOST_PIXELS))
    upright = ImageOps.exif_transpose(picture)
    flat = _on_white(upright)
    flat.thumbnail((SIDE_MOST_PIXELS, SIDE_MOST_PIXELS), Image.Resampling.LANCZOS)
    # A fresh picture has no metadata that could be written along.
    fresh = Image.new("RGB", flat.size)
    fresh.paste(flat)
    out = io.BytesIO()
    fresh.save(out, "JPEG", quality=QUALITY)
    return Picture(out.getvalue(), *fresh.size, taken_on)


def _on_white(picture: Image.Image) -> Image.Image:
    """The picture in red, green, blue; what is transparent becomes white."""
    from PIL import Image

    if picture.mode in ("RGBA", "LA", "PA") or "transparency" in picture.info:
        see_through = picture.convert("RGBA")
        white = Image.new("RGBA", see_through.size, "white")
        return Image.alpha_composite(white, see_through).convert("RGB")
    return picture.convert("RGB")


def _taken_on(picture: Image.Image) -> date | None:
    said = picture.getexif()
    for part, tag in _TAKEN_TAGS:
        text = (said.get_ifd(part) if part else said).get(tag)
        try:
            return date.fromisoformat(str(text)[:10].replace(":", "-"))
        except ValueError:
            continue
    return None


def _bytes_of(path: str) -> bytes | Problem:
    try:
        found = Path(path).stat()
        if not stat.S_ISDIR(found.st_mode) and not stat.S_ISREG(found.st_mode):
            # A pipe would be waited for.
            return Problem(path, "it is no ordinary file", "Name a picture")
        with Path(path).open("rb") as file:
            raw = file.read(BYTES_MOST + 1)
    except (OSError, ValueError) as error:
        return unreadable(path, error)
    if len(raw) > BYTES_MOST:
        return Problem(path, f"it is larger than {BYTES_MOST >> 20} MB", "Make it smaller first")
    return raw or Problem(path, "it is empty", "Name a picture")


def _too_large(where: str, width: int, height: int) -> Problem:
    what = f"{width:,} x {height:,} pixels are too many (at most {PIXELS_MOST // 1_000_000} million)"
    return Problem(where, what, "Make it smaller first")


def _short(fault: Exception) -> str:
    """What the decoder said, as part of a line."""
    text = " ".join(str(fault).split()) or type(fault).__name__
    return text if len(text) <= 60 else text[:59] + "…"


Colour = tuple[int, int, int]
"""Red, green, blue, 0 to 255."""


def small_copy(path: str, side_pixels: int) -> Picture | Problem:
    """A kept picture at most so wide and high, as the page shows it."""
    return _of_kept(path, lambda picture: _shrunk(picture, side_pixels))


def points_of(path: str, columns: int, rows: int) -> tuple[tuple[Colour, ...], ...] | Problem:
    """A kept picture as rows of square points, at most so many across and down, its shape kept."""

    def points(picture: Image.Image) -> tuple[tuple[Colour, ...], ...]:
        picture = picture.convert("RGB")
        picture.thumbnail((max(columns, 1), max(rows, 1)))
        data, width = picture.tobytes(), picture.size[0]
        dots = [(data[i], data[i + 1], data[i + 2]) for i in range(0, len(data), 3)]
        return tuple(tuple(dots[i : i + width]) for i in range(0, len(dots), width))

    return _of_kept(path, points)


def _of_kept(path: str, make: Callable[[Image.Image], Made]) -> Made | Problem:
    """What is made of a picture that was kept; one that was damaged since is a problem."""
    from PIL import Image

    raw = _bytes_of(path)
    if isinstance(raw, Problem):
        return raw
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        try:
            with Image.open(io.BytesIO(raw), formats=("JPEG",)) as picture:
                if picture.size[0] * picture.size[1] > PIXELS_MOST:
                    return _too_large(path, *picture.size)
                return make(picture)
        except Exception as fault:
            return Problem(path, f"the picture is damaged ({_short(fault)})", "Put it back from a backup")


def _shrunk(picture: Image.Image, side_pixels: int) -> Picture:
    picture.thumbnail((side_pixels, side_pixels))
    out = io.BytesIO()
    picture.convert("RGB").save(out, "JPEG", quality=QUALITY)
    return Picture(out.getvalue(), *picture.size)
