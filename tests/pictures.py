"""Pictures for tests: drawn, with a place in them, damaged, or made to harm."""

from __future__ import annotations

import io
import struct
import zlib
from pathlib import Path
from random import Random

from PIL import Image, ImageDraw

ORIENTATION, EXIF, GPS, TAKEN = 0x0112, 0x8769, 0x8825, 0x9003
"""Tags of Exif 2.32 (CIPA DC-008-2019)."""


def drawn(width: int = 400, height: int = 300) -> Image.Image:
    """Left half red, right half blue, with noise enough that no two are alike."""
    picture = Image.new("RGB", (width, height), (160, 40, 40))
    ImageDraw.Draw(picture).rectangle((width // 2, 0, width, height), fill=(40, 60, 140))
    return picture


def with_place(path: Path, *, day: str = "2026:03:04 21:00:00", orientation: int = 1) -> Path:
    """A JPEG that says where and when it was taken, as a telephone writes it."""
    said = Image.Exif()
    said[ORIENTATION] = orientation
    said[EXIF] = {TAKEN: day}
    said[GPS] = {1: "N", 2: (52.0, 30.0, 0.0), 3: "E", 4: (13.0, 20.0, 0.0)}
    drawn().save(path, exif=said, comment=b"taken at home")
    return path


def as_bytes(kind: str, picture: Image.Image | None = None) -> bytes:
    """A picture in a format."""
    out = io.BytesIO()
    (picture or drawn(80, 60)).save(out, kind)
    return out.getvalue()


def damaged(raw: bytes, random: Random) -> bytes:
    """The bytes with some of them changed, cut off, doubled or left out."""
    data = bytearray(raw)
    for _ in range(random.choice((1, 3, 20))):
        data[random.randrange(len(data))] = random.randrange(256)
    cut = random.randrange(len(data))
    act = random.choice(("as it is", "cut", "doubled", "left out"))
    if act == "cut":
        del data[cut:]
    elif act == "doubled":
        data[cut:cut] = data[: cut // 2]
    elif act == "left out":
        del data[cut : cut + random.randrange(1, 50)]
    return bytes(data)


def claimed_png(width: int, height: int, rows: int = 0) -> bytes:
    """A PNG that says it is so large, with `rows` of it in fact (PNG specification, W3C, third edition)."""

    def chunk(kind: bytes, body: bytes) -> bytes:
        return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    body = zlib.compress(bytes((1 + 3 * width) * rows), 9)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", body) + chunk(b"IEND", b"")


def wide_profile() -> bytes:
    """A profile of the Display P3 space (ICC.1:2010, 7 and 10): its primaries, sRGB's curve.

    The primaries, adapted to D50, are written from memory.
    """

    def fixed(*values: float) -> bytes:
        return b"".join(struct.pack(">i", round(value * 65536)) for value in values)

    curve = b"para\0\0\0\0\0\3\0\0" + fixed(2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045)
    bodies = {
        b"wtpt": b"XYZ \0\0\0\0" + fixed(0.96420, 1.0, 0.82491),
        b"rXYZ": b"XYZ \0\0\0\0" + fixed(0.51512, 0.24120, -0.00105),
        b"gXYZ": b"XYZ \0\0\0\0" + fixed(0.29198, 0.69225, 0.04189),
        b"bXYZ": b"XYZ \0\0\0\0" + fixed(0.15710, 0.06657, 0.78407),
        b"rTRC": curve, b"gTRC": curve, b"bTRC": curve,
    }  # fmt: skip
    place, table, data = 128 + 4 + 12 * len(bodies), b"", b""
    for name, body in bodies.items():
        table += name + struct.pack(">II", place + len(data), len(body))
        data += body
    head = bytearray(128)
    head[0:4] = struct.pack(">I", place + len(data))
    head[8:12], head[12:24], head[36:40] = b"\x04\x20\0\0", b"mntrRGB XYZ ", b"acsp"
    head[68:80] = fixed(0.96420, 1.0, 0.82491)
    return bytes(head) + struct.pack(">I", len(bodies)) + table + data
