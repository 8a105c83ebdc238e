"""A picture that a person names, as clean bytes: decoded, bounded, and written anew with no metadata.

Whatever a file carries beside its picture (place, camera, thumbnails, comments) stays behind, since only the
decoded picture is written. Files of other people may be damaged or made to harm: sizes are looked at before
anything is decoded, and every fault of the decoder is one problem.
"""

from __future__ import annotations

import io
import os
import stat
import warnings
from contextlib import suppress
from datetime import date
from typing import TYPE_CHECKING, NamedTuple

from tracker.domain.problems import Problem
from tracker.sheets.files import unreadable
from tracker.sheets.jpeg import SCAN, markers

if TYPE_CHECKING:
    from PIL import Image

BYTES_MOST = 64 * 1024 * 1024
PIXELS_MOST = 52_000_000
"""50 million and a little: a camera sold as 50 megapixels gives 50.3 (8192 x 6144)."""
SCANS_MOST = 50
"""A progressive JPEG has about ten scans; each costs a pass over the whole picture."""
SIDE_MOST_PIXELS = 1600
"""Enough to see a brush stroke; a year of evenings still fits on any disk."""
QUALITY = 85
FORMATS = ("JPEG", "PNG", "WEBP", "GIF", "BMP", "TIFF")
"""A picture of several (MPO, as telephones write it) begins as a JPEG and is read as one."""
_EXIF, _TAKEN, _HELD = 0x8769, 0x9003, 0x0112
"""Tags of Exif 2.32: its own part, DateTimeOriginal within it, Orientation."""
_UPRIGHT = {2: 0, 3: 3, 4: 1, 5: 5, 6: 4, 7: 6, 8: 2}
"""What makes a picture upright, by its orientation (Exif 2.32): the number of the decoder's own turn."""
_MEND = "Give a picture: JPEG, PNG, WebP, GIF, BMP or TIFF"
_SMALLER = "Make it smaller first"
_AGAIN = "Copy it again from where it was"


class Picture(NamedTuple):
    """A picture ready to be kept: a JPEG without metadata."""

    data: bytes
    width_pixels: int
    height_pixels: int
    taken_on: date | None = None
    """What the file said of the day it was taken; None = nothing that is a day."""


def read_picture(path: str) -> Picture | Problem:
    """The picture in a file, upright, at most `SIDE_MOST_PIXELS` wide and high; or one problem."""
    raw = bytes_of(path)
    return raw if isinstance(raw, Problem) else clean(raw, path)


def clean(raw: bytes, where: str) -> Picture | Problem:
    """The picture in these bytes, written anew."""
    from PIL import Image, UnidentifiedImageError

    if sum(marker == SCAN for marker in markers(raw)) > SCANS_MOST:
        return Problem(where, "the picture is made so that reading it takes too long", _MEND)
    with warnings.catch_warnings():
        # Our own bound on pixels comes first; what the decoder warns of is refused or does no harm.
        warnings.simplefilter("ignore")
        Image.init()
        try:
            with Image.open(io.BytesIO(raw), formats=FORMATS) as picture:
                return too_large(where, *picture.size) or _written(picture)
        except Image.DecompressionBombError:
            return Problem(where, "the picture is far too large", _SMALLER)
        except UnidentifiedImageError:
            return Problem(where, "it is no picture that can be read", _MEND)
        except Exception:  # a decoder that is fed with damaged bytes may raise anything
            return Problem(where, "the picture is damaged or cut short", _AGAIN)


def too_large(where: str, width: int, height: int) -> Problem | None:
    """A problem where a picture has too many pixels to be decoded."""
    if width * height <= PIXELS_MOST:
        return None
    what = f"{width:,} x {height:,} pixels are too many (at most {PIXELS_MOST // 1_000_000} million)"
    return Problem(where, what, _SMALLER)


def bytes_of(path: str) -> bytes | Problem:
    """The bytes of an ordinary file; a pipe or a device is refused and never waited for."""
    try:
        # Opened without waiting: a pipe would be waited for until somebody writes into it.
        with open(path, "rb", opener=_without_waiting) as file:
            if not stat.S_ISREG(os.fstat(file.fileno()).st_mode):
                return Problem(path, "it is no ordinary file", "Name a picture")
            raw = file.read(BYTES_MOST + 1)
    except (OSError, ValueError) as error:
        return unreadable(path, error)
    if len(raw) > BYTES_MOST:
        return Problem(path, f"it is larger than {BYTES_MOST >> 20} MB", _SMALLER)
    return raw or Problem(path, "it is empty", "Name a picture")


def _without_waiting(path: str, flags: int) -> int:
    return os.open(path, flags | getattr(os, "O_NONBLOCK", 0))


def fresh_jpeg(picture: Image.Image) -> bytes:
    """A JPEG file of the pixels alone: a fresh picture has no metadata that could be written along."""
    from PIL import Image

    fresh = Image.new("RGB", picture.size)
    fresh.paste(picture)
    out = io.BytesIO()
    fresh.save(out, "JPEG", quality=QUALITY)
    return out.getvalue()


def _written(picture: Image.Image) -> Picture:
    from PIL import Image

    taken_on = _taken_on(picture)
    width, height = picture.size
    # A JPEG is decoded at a half or a quarter of its size where that is still large enough.
    shrink = SIDE_MOST_PIXELS / max(width, height)
    picture.draft("RGB", (max(int(width * shrink), 1), max(int(height * shrink), 1)))
    picture.load()
    held, profile = _held(picture), picture.info.get("icc_profile")
    small = _in_srgb(_on_white(picture), profile)
    if held in _UPRIGHT:
        small = small.transpose(Image.Transpose(_UPRIGHT[held]))
    return Picture(fresh_jpeg(small), *small.size, taken_on)


def _on_white(picture: Image.Image) -> Image.Image:
    """The picture in red, green, blue, made small; what is transparent becomes white."""
    from PIL import Image

    side = (SIDE_MOST_PIXELS, SIDE_MOST_PIXELS)
    if picture.mode in ("RGBA", "LA", "PA", "La", "RGBa") or "transparency" in picture.info:
        see_through = picture if picture.mode == "RGBA" else picture.convert("RGBA")
        see_through.thumbnail(side, Image.Resampling.LANCZOS)
        white = Image.new("RGBA", see_through.size, "white")
        return Image.alpha_composite(white, see_through).convert("RGB")
    flat = picture if picture.mode == "RGB" else picture.convert("RGB")
    flat.thumbnail(side, Image.Resampling.LANCZOS)
    return flat


def _in_srgb(picture: Image.Image, profile: bytes | None) -> Image.Image:
    """The colours as every screen shows them; a profile that cannot be followed is left out."""
    from PIL import ImageCms

    if profile:
        with suppress(Exception):  # a damaged profile is no reason to refuse the picture
            source = ImageCms.ImageCmsProfile(io.BytesIO(profile))
            if source.profile.xcolor_space.strip() == "RGB":
                screen = ImageCms.createProfile("sRGB")
                return ImageCms.profileToProfile(picture, source, screen, outputMode="RGB") or picture
    return picture


def _held(picture: Image.Image) -> int:
    """How the camera was held, 1 to 8; 1 (upright) where nothing readable says so."""
    with suppress(Exception):  # damaged notes are no reason to refuse the picture
        return int(picture.getexif().get(_HELD, 1))
    return 1


def _taken_on(picture: Image.Image) -> date | None:
    with suppress(Exception):  # likewise
        said = picture.getexif().get_ifd(_EXIF).get(_TAKEN)
        return date.fromisoformat(str(said)[:10].replace(":", "-"))
    return None
