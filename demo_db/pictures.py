"""Two drawn pictures, which stand for photos of one unit: before its paint and after."""

from __future__ import annotations

import io
from datetime import date
from typing import TYPE_CHECKING, NamedTuple

from demo_db.army import MUSTER

if TYPE_CHECKING:
    from PIL.ImageDraw import ImageDraw

WIDTH_PIXELS, HEIGHT_PIXELS = 640, 400
_GROUND, _TABLE = (205, 210, 214), (120, 96, 70)
_BARE = ((176, 178, 180), (160, 162, 164), (176, 178, 180), (176, 178, 180))
_PAINTED = ((217, 210, 192), (107, 74, 47), (185, 129, 100), (92, 96, 102))
Colour = tuple[int, int, int]


class Drawn(NamedTuple):
    """A picture and what it shows."""

    army: str
    unit: str
    step: str
    day: date
    png: bytes


def drawn() -> tuple[Drawn, ...]:
    """The Mill Spears on their desk, bare and painted."""
    return (
        Drawn(MUSTER, "Mill Spears", "assembly", date(2024, 12, 7), _picture(_BARE)),
        Drawn(MUSTER, "Mill Spears", "varnish", date(2025, 6, 14), _picture(_PAINTED)),
    )


def _picture(colours: tuple[Colour, Colour, Colour, Colour]) -> bytes:
    from PIL import Image
    from PIL.ImageDraw import Draw

    picture = Image.new("RGB", (WIDTH_PIXELS, HEIGHT_PIXELS), _GROUND)
    pen = Draw(picture)
    pen.rectangle((0, 300, WIDTH_PIXELS, HEIGHT_PIXELS), fill=_TABLE)
    for place in range(5):
        _spearman(pen, 90 + 110 * place, colours)
    out = io.BytesIO()
    picture.save(out, "PNG")
    return out.getvalue()


def _spearman(pen: ImageDraw, x: int, colours: tuple[Colour, Colour, Colour, Colour]) -> None:
    cloth, leather, skin, metal = colours
    pen.line((x + 38, 60, x + 38, 322), fill=leather, width=6)
    pen.polygon([(x + 30, 76), (x + 38, 30), (x + 46, 76)], fill=metal)
    pen.polygon([(x - 30, 322), (x - 18, 170), (x + 18, 170), (x + 30, 322)], fill=cloth)
    pen.ellipse((x - 18, 126, x + 18, 166), fill=skin)
    pen.pieslice((x - 22, 112, x + 22, 160), 180, 360, fill=metal)
    pen.ellipse((x - 44, 190, x + 12, 270), fill=leather)
    pen.ellipse((x - 36, 322, x + 36, 338), fill=leather)
