"""Photos beside the log: copied, named, shown, undone, tidied, packed; before and after on the page."""

from __future__ import annotations

import os
import stat
import zipfile
from datetime import date
from hashlib import sha256
from pathlib import Path

import pytest

from tests.desks import a_desk, with_spears
from tests.pictures import as_bytes, drawn, with_place
from tracker.domain.problems import DataError, LastcoatError, UsageError
from tracker.report.page import page_html, parts_of
from tracker.report.photo_words import photos_text
from tracker.workbench.desk import Desk
from tracker.workbench.past import redo, undo
from tracker.workbench.photo_files import photo_folder
from tracker.workbench.photo_out import copy_out, tidy_photos
from tracker.workbench.photo_pack import pack_photos, unpack_photos
from tracker.workbench.photos import PhotoWish, add_photos, drop_photo, photos
from tracker.workbench.photos_seen import before_and_after
from tracker.workbench.report_out import page_answers
from tracker.workbench.units_plan import rename
from tracker.workbench.units_shape import split, to_spares
from tracker.workbench.whole import export_document, import_document

SPEARS = PhotoWish("Spears")


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    """Five spears."""
    return with_spears(tmp_path, 5)


def a_picture(folder: Path, name: str = "spears.png", width: int = 80) -> str:
    """A file with a picture."""
    (folder / name).write_bytes(as_bytes("PNG", drawn(width, 60)))
    return str(folder / name)


def files(desk: Desk) -> list[str]:
    """Names in the photo folder."""
    folder = photo_folder(desk.path)
    return sorted(file.name for file in folder.iterdir()) if folder.exists() else []


def test_a_photo_is_copied_named_by_its_content_and_shown(desk: Desk, tmp_path: Path) -> None:
    path = with_place(tmp_path / "spears.jpg")
    wish = SPEARS._replace(model="3", step="primed", note="first <coat>")
    assert add_photos(desk, [str(path)], wish).sentence() == "Stored: 1 photo of Spears 3 after priming."
    (name,) = files(desk)
    kept = photo_folder(desk.path) / name
    assert sha256(kept.read_bytes()).hexdigest() + ".jpg" == name
    assert stat.S_IMODE(kept.stat().st_mode) == 0o600
    assert stat.S_IMODE(kept.parent.stat().st_mode) == 0o700
    (photo,) = photos(desk, "spears").photos
    assert (photo.model, photo.step, photo.taken_on) == (3, "priming", date(2026, 3, 4))
    assert "  1  4 Mar 2026  Spears 3, after priming: first <coat>" in photos_text(photos(desk), 80)


def test_a_clock_that_is_ahead_is_not_believed(desk: Desk, tmp_path: Path) -> None:
    add_photos(desk, [str(with_place(tmp_path / "a.jpg", day="2031:01:01 00:00:00"))], SPEARS)
    assert photos(desk).photos[0].taken_on == date(2026, 3, 10)


def test_the_same_picture_twice_is_one_file(desk: Desk, tmp_path: Path) -> None:
    path = a_picture(tmp_path)
    add_photos(desk, [path, path], SPEARS)
    assert len(files(desk)) == 1
    assert len(photos(desk).photos) == 2


def test_one_that_is_no_picture_and_none_is_stored(desk: Desk, tmp_path: Path) -> None:
    with pytest.raises(DataError, match="no such file"):
        add_photos(desk, [a_picture(tmp_path), str(tmp_path / "nothing.png")], SPEARS)
    assert photos(desk).photos == ()
    assert files(desk) == []


def test_undo_and_tidy_lose_nothing_that_can_come_back(desk: Desk, tmp_path: Path) -> None:
    add_photos(desk, [a_picture(tmp_path)], SPEARS)
    undo(desk)
    assert tidy_photos(desk).startswith("Nothing to remove")
    redo(desk)
    assert photos(desk).photos[0].is_there
    drop_photo(desk, 1)
    assert tidy_photos(desk).startswith("Nothing to remove")
    undo(desk)
    assert photos(desk).photos[0].is_there
    undo(desk)
    rename(desk, "Spears", "Pikes")  # a new change: what was taken back cannot come back
    (photo_folder(desk.path) / "mine.txt").write_text("mine", encoding="utf-8")
    assert tidy_photos(desk).startswith("Removed: 1 file")
    assert files(desk) == ["mine.txt"]


def test_a_photo_goes_with_its_model(desk: Desk, tmp_path: Path) -> None:
    add_photos(desk, [a_picture(tmp_path)], SPEARS._replace(model="5"))
    split(desk, "Spears", "5", "Captain")
    assert [photo.unit for photo in photos(desk).photos] == ["Captain"]
    to_spares(desk, "Spears", "4")
    add_photos(desk, [a_picture(tmp_path, "b.png", 90)], PhotoWish(spare=1))
    assert [(photo.unit, photo.model) for photo in photos(desk).photos] == [("Captain", 1), ("", 1)]
    assert len(photos(desk, "Captain").photos) == 1


WRONG: list[tuple[PhotoWish, str]] = [
    (PhotoWish(), "not said of what"),
    (PhotoWish("Riders"), 'no unit "Riders"'),
    (PhotoWish("Spears", model="9"), "no model 9"),
    (PhotoWish("Spears", model="1-3"), "one model or the unit"),
    (PhotoWish("Spears", step="freehand"), "not on the route"),
    (PhotoWish(spare=4), "no spare 4"),
    (PhotoWish("Spears", spare=4), "has no unit"),
    (PhotoWish("Spears", day=date(2027, 1, 1)), "future"),
]


@pytest.mark.parametrize(("wish", "says"), WRONG)
def test_what_cannot_be_meant_is_refused(desk: Desk, tmp_path: Path, wish: PhotoWish, says: str) -> None:
    with pytest.raises(LastcoatError, match=says):
        add_photos(desk, [a_picture(tmp_path)], wish)
    assert photos(desk).photos == ()


def test_a_missing_file_is_said_and_a_copy_is_never_put_over_another(desk: Desk, tmp_path: Path) -> None:
    add_photos(desk, [a_picture(tmp_path)], SPEARS)
    assert copy_out(desk, 1, str(tmp_path / "out.jpg")) == f"Written: {tmp_path / 'out.jpg'}"
    with pytest.raises(UsageError, match="is there already"):
        copy_out(desk, 1, str(tmp_path / "out.jpg"))
    (photo_folder(desk.path) / files(desk)[0]).unlink()
    assert "its file is missing" in photos_text(photos(desk), 100)
    with pytest.raises(DataError, match="is missing"):
        copy_out(desk, 1, str(tmp_path / "again.jpg"))
    assert before_and_after(desk, desk.today()) == ()


def test_photos_move_to_another_machine(desk: Desk, tmp_path: Path) -> None:
    add_photos(desk, [a_picture(tmp_path), a_picture(tmp_path, "b.png", 90)], SPEARS)
    pack_photos(desk, str(tmp_path / "photos.zip"))
    (tmp_path / "other").mkdir()
    other = a_desk(tmp_path / "other")
    import_document(other, export_document(desk))
    assert [photo.is_there for photo in photos(other).photos] == [False, False]
    assert unpack_photos(other, str(tmp_path / "photos.zip")) == "Taken in: 2 photo files."
    assert [photo.is_there for photo in photos(other).photos] == [True, True]
    assert unpack_photos(other, str(tmp_path / "photos.zip")) == "Taken in: 0 photo files."
    assert files(other) == files(desk)


def test_nothing_else_comes_in_with_an_archive(desk: Desk, tmp_path: Path) -> None:
    with zipfile.ZipFile(tmp_path / "evil.zip", "w") as archive:
        archive.writestr("../../evil.jpg", b"x")
        archive.writestr("/etc/evil", b"x")
    assert unpack_photos(desk, str(tmp_path / "evil.zip")) == (
        "Taken in: 0 photo files. 2 other files in it were left alone."
    )
    with zipfile.ZipFile(tmp_path / "bomb.zip", "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("0" * 64 + ".jpg", bytes(80_000_000))
    (tmp_path / "half.zip").write_bytes((tmp_path / "bomb.zip").read_bytes()[:500])
    placed = with_place(tmp_path / "home.jpg").read_bytes()
    for name, data in (("other.zip", b"words"), ("placed.zip", placed), ("text.zip", b"words, no picture")):
        known = "0" * 64 if name == "other.zip" else sha256(data).hexdigest()
        with zipfile.ZipFile(tmp_path / name, "w") as archive:
            archive.writestr(f"{known}.jpg", data)
    damaged = bytearray((tmp_path / "placed.zip").read_bytes())
    damaged[200] ^= 255
    (tmp_path / "damaged.zip").write_bytes(damaged)
    os.mkfifo(tmp_path / "pipe.zip")
    for name, says in (
        ("bomb", "would unpack to 80 MB"), ("half", "no whole archive"), ("damaged", "no whole archive"),
        ("other", "not what its name says"), ("placed", "more than the picture"), ("text", "no picture"),
        ("pipe", "no ordinary file"), ("nothing", "no such file"),
    ):  # fmt: skip
        with pytest.raises(DataError, match=says):
            unpack_photos(desk, str(tmp_path / f"{name}.zip"))
    assert files(desk) == []


def test_a_file_that_was_cut_short_is_mended(desk: Desk, tmp_path: Path) -> None:
    add_photos(desk, [a_picture(tmp_path)], SPEARS)
    pack_photos(desk, str(tmp_path / "photos.zip"))
    kept = photo_folder(desk.path) / files(desk)[0]
    whole = kept.read_bytes()
    for mend in ("unpack", "add"):
        kept.write_bytes(whole[:100])
        if mend == "unpack":
            assert unpack_photos(desk, str(tmp_path / "photos.zip")) == "Taken in: 1 photo file."
        else:
            add_photos(desk, [a_picture(tmp_path)], SPEARS)
        assert kept.read_bytes() == whole


def test_every_file_that_is_no_picture_is_told(desk: Desk, tmp_path: Path) -> None:
    (tmp_path / "words.txt").write_text("words", encoding="utf-8")
    with pytest.raises(DataError) as refusal:
        add_photos(
            desk, [str(tmp_path / "none.png"), a_picture(tmp_path), str(tmp_path / "words.txt")], SPEARS
        )
    assert [problem.what for problem in refusal.value.problems] == [
        "there is no such file", "it is no picture that can be read",
    ]  # fmt: skip
    assert files(desk) == []


def test_a_log_that_refuses_keeps_no_row(desk: Desk, tmp_path: Path) -> None:
    """Where the photo folder cannot be made, nothing is stored."""
    photo_folder(desk.path).write_text("a file in its place", encoding="utf-8")
    with pytest.raises(DataError, match="a file, not a folder"):
        add_photos(desk, [a_picture(tmp_path)], SPEARS)
    assert photos(desk).photos == ()


def test_a_log_that_is_not_there_has_no_photos(tmp_path: Path) -> None:
    nowhere = a_desk(tmp_path)
    assert photos(nowhere).photos == ()
    assert before_and_after(nowhere, nowhere.today()) == ()
    with pytest.raises(DataError, match="no log here yet"):
        add_photos(nowhere, [a_picture(tmp_path)], SPEARS)
    assert not photo_folder(nowhere.path).exists()


def test_the_page_shows_the_first_and_the_newest(desk: Desk, tmp_path: Path) -> None:
    before = page_answers(desk, draws=100)
    assert "photos" not in [part.name for part in parts_of(before)]
    # Without photos the page is as it was, scripts or not.
    assert not any(".pair {" in page_html(before, live=live) for live in (False, True))
    for day, width in ((1, 80), (5, 90), (9, 100)):
        path = a_picture(tmp_path, f"{day}.png", width)
        add_photos(desk, [path], SPEARS._replace(day=date(2026, 3, day), note=f"<day {day}>"))
    (shown,) = before_and_after(desk, desk.today())
    assert [picture.words for picture in shown.pictures] == [
        "1 Mar 2026  Spears: <day 1>", "9 Mar 2026  Spears: <day 9>",
    ]  # fmt: skip
    assert len(before_and_after(desk, date(2026, 3, 3))[0].pictures) == 1
    (part,) = [part for part in parts_of(page_answers(desk, draws=100)) if part.name == "photos"]
    assert len(part.pictures[0]) == 2
    page = page_html(page_answers(desk, draws=100))
    assert "1 Mar 2026  Spears: &lt;day 1&gt;" in page
    assert "<day" not in page
    assert page.count('src="data:image/jpeg;base64,') == 2
    # Content Security Policy Level 3 (W3C): what the page may load is named; pictures only from itself.
    assert "default-src 'none'; style-src 'unsafe-inline'; img-src data:\"" in page
    (photo_folder(desk.path) / files(desk)[0]).write_bytes(b"damaged")
    (photo_folder(desk.path) / files(desk)[2]).write_bytes(b"damaged")
    assert sum(len(one.pictures) for one in before_and_after(desk, desk.today())) <= 1
