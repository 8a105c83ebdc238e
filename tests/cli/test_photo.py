"""`lastcoat photo`: added, shown, told as JSON, refused in one line that no name can steer."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from tests.desks import a_desk, with_spears
from tests.pictures import as_bytes, drawn, with_place
from tracker.cli.main import main
from tracker.workbench.desk import Desk
from tracker.workbench.photos import photos


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    """Five spears, and a photo's file."""
    with_place(tmp_path / "spears.jpg")
    return with_spears(tmp_path, 5)


@pytest.fixture
def in_its_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Files are named without their folder."""
    monkeypatch.chdir(tmp_path)


def run(desk: Desk, *words: str) -> Result:
    return CliRunner().invoke(main, ["photo", *words], obj=desk)


def said(desk: Desk, *words: str) -> str:
    done = run(desk, *words)
    assert done.exit_code == 0, done.output
    return done.stdout


def test_a_photo_is_added_and_told(desk: Desk, tmp_path: Path) -> None:
    assert said(desk, "show").startswith("There are no photos yet.")
    words = ("--unit", "spears", "--model", "3", "--step", "primed", "--note", "first \x1b[31mcoat")
    assert said(desk, "add", str(tmp_path / "spears.jpg"), *words) == (
        "Stored: 1 photo of Spears 3 after priming.\n"
    )
    shown = said(desk, "show", "--unit", "Spears").splitlines()
    assert shown[0] == "  1  4 Mar 2026  Spears 3, after priming: first \\x1b[31mcoat"
    assert shown[1].startswith("     400 x 300 pixels, ")
    assert shown[-1].startswith("1 photo in ")
    document = json.loads(said(desk, "show", "--json"))
    (photo,) = document["photos"]
    assert (document["as_of"], document["doubts"]) == ("2026-03-10", [])
    assert (photo["unit"], photo["model"], photo["step"], photo["date"], photo["missing"]) == (
        "Spears", 3, "priming", "2026-03-04", False,
    )  # fmt: skip
    assert Path(photo["file"]).read_bytes().startswith(b"\xff\xd8\xff")
    assert said(desk, "drop", "1") == "Stored: photo 1 of Spears (Wed 4 Mar) is forgotten.\n"
    assert said(desk, "tidy").startswith("Nothing to remove")


def test_the_day_that_is_said_comes_before_the_camera(desk: Desk, tmp_path: Path) -> None:
    said(desk, "add", str(tmp_path / "spears.jpg"), "--unit", "Spears", "--date", "2026-03-01")
    assert photos(desk).photos[0].taken_on.isoformat() == "2026-03-01"


@pytest.mark.parametrize(
    ("words", "status", "line"),
    [
        (("add", "spears.jpg"), 2, "photo: it is not said of what"),
        (("add", "nothing.jpg", "--unit", "Spears"), 1, "nothing.jpg: there is no such file"),
        (("add", ".", "--unit", "Spears"), 1, ".: it is a folder"),
        (("add", "words.txt", "--unit", "Spears"), 1, "words.txt: it is no picture that can be read"),
        (("add", "half.jpg", "--unit", "Spears"), 1, "half.jpg: the picture is damaged or cut short"),
        (("add", "\x1b]0;x\x07\nb.jpg", "--unit", "Spears"), 1, "\\x1b]0;x\\x07\\nb.jpg: it is no picture"),
        (("add", "spears.jpg", "--unit", "Spaers"), 1, 'Did you mean "Spears"'),
        (("add", "spears.jpg", "--unit", "Spears", "--note", "x" * 1001), 1, "--note: the note has 1001"),
        (("drop", "9"), 1, "there is no photo 9"),
        (("out", "1", "x.jpg"), 1, "there is no photo 1"),
        (("unpack", "words.txt"), 1, "words.txt: it is no whole archive of photos"),
        (("unpack", "nothing.zip"), 1, "nothing.zip: there is no such file"),
        (("pack", "words.txt"), 2, "words.txt: it holds something else than an archive"),
    ],
)
@pytest.mark.usefixtures("in_its_folder")
def test_a_mistake_is_one_line_and_stores_nothing(
    desk: Desk, words: tuple[str, ...], status: int, line: str
) -> None:
    for name in ("words.txt", "\x1b]0;x\x07\nb.jpg"):
        Path(name).write_text("words", encoding="utf-8")
    Path("half.jpg").write_bytes(as_bytes("JPEG", drawn())[:900])
    done = run(desk, *words)
    assert (done.exit_code, done.stdout) == (status, "")
    assert line in done.stderr
    assert done.stderr.count("\n") == 1
    assert "\x1b" not in done.stderr
    assert photos(desk).photos == ()
    assert not Path("log-photos").exists()


@pytest.mark.usefixtures("in_its_folder")
def test_copies_leave_and_photos_move(desk: Desk, tmp_path: Path) -> None:
    said(desk, "add", "spears.jpg", "--unit", "Spears")
    assert said(desk, "out", "1", "out.jpg") == "Written: out.jpg\n"
    assert "out.jpg: a file is there already" in run(desk, "out", "1", "out.jpg").stderr
    assert "it cannot be written" in run(desk, "out", "1", "nowhere/out.jpg").stderr
    assert said(desk, "pack", "photos.zip") == "Written: photos.zip, 1 photo file.\n"
    first = Path("photos.zip").read_bytes()
    said(desk, "pack", "photos.zip")
    assert Path("photos.zip").read_bytes() == first
    (tmp_path / "other").mkdir()
    assert said(a_desk(tmp_path / "other"), "unpack", "photos.zip") == "Taken in: 1 photo file.\n"
