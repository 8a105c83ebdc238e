"""Pictures of other people's making: what they say of a place is gone, damage and bombs do no harm."""

from __future__ import annotations

import io
import os
import tracemalloc
import zlib
from datetime import date
from pathlib import Path
from random import Random

import exifread
import pytest
from PIL import Image, PngImagePlugin

from tests.pictures import ORIENTATION, as_bytes, claimed_png, damaged, drawn, wide_profile, with_place
from tracker.domain.problems import Problem
from tracker.sheets.jpeg import SCAN, markers, says_more
from tracker.sheets.kept_pictures import fault_of_kept, points_of, small_copy
from tracker.sheets.pictures import (
    PIXELS_MOST,
    SCANS_MOST,
    SIDE_MOST_PIXELS,
    Picture,
    clean,
    read_picture,
)

FORMATS = ("JPEG", "PNG", "WEBP", "GIF", "BMP", "TIFF")


def good(found: Picture | Problem) -> Picture:
    assert isinstance(found, Picture), found
    return found


def test_the_place_is_gone(tmp_path: Path) -> None:
    """Read with ExifRead, which shares no code with the writer."""
    path = with_place(tmp_path / "home.jpg")
    assert any("GPS" in tag for tag in exifread.process_file(io.BytesIO(path.read_bytes())))
    kept = good(read_picture(str(path)))
    assert exifread.process_file(io.BytesIO(kept.data)) == {}
    for mark in (b"Exif", b"GPS", b"http://ns.adobe.com", b"taken at home", b"ICC_PROFILE"):
        assert mark not in kept.data
    assert path.stat().st_size > 0  # the person's own file stays


def test_text_within_a_png_is_gone(tmp_path: Path) -> None:
    said = PngImagePlugin.PngInfo()
    said.add_text("Comment", "taken at home")
    drawn().save(tmp_path / "home.png", pnginfo=said)
    assert b"taken at home" not in good(read_picture(str(tmp_path / "home.png"))).data


# Exif 2.32, 4.6.4, Orientation: which side of the seen picture row 0 and column 0 of the file are.
SEEN_AT = {1: "left", 2: "right", 3: "right", 4: "left", 5: "top", 6: "top", 7: "bottom", 8: "bottom"}
PLACES = {"left": (50, 100), "right": (250, 100), "top": (100, 50), "bottom": (100, 250)}


@pytest.mark.parametrize("held", range(1, 9))
def test_it_is_turned_upright_and_its_day_is_read(tmp_path: Path, held: int) -> None:
    kept = good(read_picture(str(with_place(tmp_path / "side.jpg", orientation=held))))
    assert (kept.width_pixels, kept.height_pixels) == ((400, 300) if held < 5 else (300, 400))
    # Column 0 of the file is red; it is seen at this side.
    with Image.open(io.BytesIO(kept.data)) as picture:
        pixel = picture.convert("RGB").getpixel(PLACES[SEEN_AT[held]])
    assert isinstance(pixel, tuple)
    assert pixel[0] > pixel[2]
    assert kept.taken_on == date(2026, 3, 4)


@pytest.mark.parametrize("kind", ["PNG", "WEBP", "TIFF"])
def test_other_formats_are_turned_upright_once(kind: str) -> None:
    said = Image.Exif()
    said[ORIENTATION] = 6
    out = io.BytesIO()
    drawn(40, 30).save(out, kind, exif=said)
    kept = good(clean(out.getvalue(), "it"))
    assert (kept.width_pixels, kept.height_pixels) == (30, 40)


def test_notes_that_cannot_be_read_do_not_matter() -> None:
    for notes in (b"XXXX", b"MM\0*\0\0\0\x08\xff\xff\x01\x12 and so on"):
        out = io.BytesIO()
        drawn(40, 30).save(out, "JPEG", exif=b"Exif\0\0" + notes, icc_profile=b"no profile")
        kept = good(clean(out.getvalue(), "it"))
        assert (kept.width_pixels, kept.taken_on) == (40, None)
        assert not says_more(kept.data)


def test_colours_of_a_wider_space_are_seen_as_they_were() -> None:
    """CSS Color Module Level 4 (W3C), the samples: color(display-p3 .917488 .200287 .138561) is red."""
    out = io.BytesIO()
    Image.new("RGB", (16, 16), (234, 51, 35)).save(out, "PNG", icc_profile=wide_profile())
    with Image.open(io.BytesIO(good(clean(out.getvalue(), "it")).data)) as picture:
        assert picture.convert("RGB").getpixel((8, 8)) == pytest.approx((255, 0, 0), abs=4)


def test_several_pictures_in_one_are_the_first() -> None:
    out = io.BytesIO()
    drawn(40, 30).save(out, "MPO", save_all=True, append_images=[drawn(20, 20)])
    kept = good(clean(out.getvalue(), "it"))
    assert (kept.width_pixels, kept.height_pixels) == (40, 30)


@pytest.mark.parametrize("kind", FORMATS)
def test_every_format_becomes_a_bounded_jpeg(kind: str) -> None:
    kept = good(clean(as_bytes(kind, drawn(2 * SIDE_MOST_PIXELS, SIDE_MOST_PIXELS)), "it"))
    assert (kept.width_pixels, kept.height_pixels) == (SIDE_MOST_PIXELS, SIDE_MOST_PIXELS // 2)
    assert kept.data.startswith(b"\xff\xd8\xff")  # ISO/IEC 10918-1: start of image


def test_what_is_transparent_becomes_white() -> None:
    kept = good(clean(as_bytes("PNG", Image.new("RGBA", (8, 8), (0, 0, 0, 0))), "it"))
    with Image.open(io.BytesIO(kept.data)) as picture:
        assert picture.getpixel((4, 4)) == (255, 255, 255)


def test_a_hundred_damaged_files_do_no_harm() -> None:
    """Each is a picture all the same, or one line."""
    random = Random(7)
    refused = 0
    for turn in range(100):
        found = clean(damaged(as_bytes(FORMATS[turn % len(FORMATS)]), random), "a file")
        if isinstance(found, Problem):
            refused += 1
            assert "\n" not in str(found)
        else:
            assert good(clean(found.data, "again"))
    assert 20 < refused < 100


@pytest.mark.parametrize(
    ("side", "rows", "says"),
    [(60_000, 0, "far too large"), (60_000, 50, "far too large"), (9_000, 9_000, "9,000 x 9,000 pixels")],
)
def test_a_picture_bomb_is_refused_before_it_is_decoded(side: int, rows: int, says: str) -> None:
    bomb = claimed_png(side, side, rows)
    tracemalloc.start()
    try:
        found = clean(bomb, "bomb.png")
        most = tracemalloc.get_traced_memory()[1]
    finally:
        tracemalloc.stop()
    assert isinstance(found, Problem)
    assert says in found.what
    assert most < 20_000_000
    assert side * side > PIXELS_MOST


def test_a_picture_of_a_great_many_scans_is_refused() -> None:
    """Each scan costs a pass over all of it (ITU-T T.81, G.1); here the last one is there a hundred times."""
    out = io.BytesIO()
    drawn(64, 64).save(out, "JPEG", progressive=True)
    raw = out.getvalue()
    scans = sum(marker == SCAN for marker in markers(raw))
    assert 1 < scans <= SCANS_MOST
    last = raw[raw.rindex(b"\xff\xda") : raw.rindex(b"\xff\xd9")]
    found = clean(raw[:-2] + 100 * last + raw[-2:], "slow.jpg")
    assert isinstance(found, Problem)
    assert "takes too long" in found.what


def test_what_comes_from_elsewhere_is_no_kept_picture_unless_it_is_clean(tmp_path: Path) -> None:
    kept = good(clean(as_bytes("PNG"), "it")).data
    assert fault_of_kept(kept) == ""
    assert "more than the picture" in fault_of_kept(with_place(tmp_path / "a.jpg").read_bytes())
    assert fault_of_kept(as_bytes("JPEG", drawn(1700, 20))) == "it is too large"
    assert fault_of_kept(as_bytes("PNG")) == fault_of_kept(b"") == "it is no picture"


def test_a_bomb_of_text_is_refused() -> None:
    """A text chunk that unpacks to 100 MB."""
    said = PngImagePlugin.PngInfo()
    said.add(b"zTXt", b"Comment\0\0" + zlib.compress(bytes(100_000_000), 9))
    out = io.BytesIO()
    drawn(8, 8).save(out, "PNG", pnginfo=said)
    assert isinstance(clean(out.getvalue(), "it"), Problem)


@pytest.mark.parametrize(
    ("name", "says"),
    [("nothing", "there is no such file"), ("folder", "it is a folder"), ("pipe", "no ordinary file"),
     ("empty", "it is empty"), ("text", "no picture that can be read"), ("a\0b", "no file name")],
)  # fmt: skip
def test_what_is_no_picture_gets_one_line(tmp_path: Path, name: str, says: str) -> None:
    (tmp_path / "folder").mkdir()
    os.mkfifo(tmp_path / "pipe")
    (tmp_path / "empty").write_bytes(b"")
    (tmp_path / "text").write_text("these are words", encoding="utf-8")
    found = read_picture(str(tmp_path / name))
    assert isinstance(found, Problem)
    assert says in found.what


def test_a_kept_picture_is_shown_small_and_as_points(tmp_path: Path) -> None:
    path = tmp_path / "kept.jpg"
    path.write_bytes(good(clean(as_bytes("PNG"), "it")).data)
    copy = small_copy(str(path), 40)
    assert isinstance(copy, Picture)
    assert (copy.width_pixels, copy.height_pixels) == (40, 30)
    points = points_of(str(path), 20, 100)
    assert not isinstance(points, Problem)
    assert (len(points), {len(row) for row in points}) == (15, {20})
    (left, _, left_blue), (right, _, right_blue) = points[7][2], points[7][17]
    assert left > left_blue
    assert right_blue > right
    path.write_bytes(path.read_bytes()[:200])
    assert isinstance(points_of(str(path), 20, 20), Problem)
