"""A page that is given away holds what it shows, and nothing else of the log or the machine.

Every secret here is a word that occurs nowhere else, put where the page in question does not show it.
"""

from __future__ import annotations

import base64
import getpass
import io
import os
import platform
import re
import shlex
import socket
import zipfile
from pathlib import Path
from typing import NamedTuple

import pytest
from click.testing import CliRunner
from PIL import Image

from tracker.cli.main import main
from tracker.workbench.desk import Desk
from tracker.workbench.drafts import save_draft

LINES = (
    "add --unit Spears --models 8",
    "add --unit Zqriders --models 3",
    "add --spares 3",
    "log --unit Spears --step cleaning --models 4 --minutes 50 --note zqlinenote",
    "spare note 1 --note zqsparenote --place zqspareplace --tag zqsparetag",
    'source add bought --unit Spears --from zqseller --cost "12.37 EUR" --note zqdealnote',
    "source add swapped --unit Zqriders --from zqseller --given zqgiven",
    'recipe add "Red cloaks" "cloth: dark red, wash"',
    'recipe add Zqrecipe "zqarea: zqpaint" --note zqrecipenote --primer zqprimer',
    "role add Spears zqrole",
    "curing begin zqputty --hours 5",
    "plan away 2027-04-01 --note zqawaynote",
    "paint out zqpaint --use zqinstead",
    "photo add zqfirst.jpg --unit Spears --date 2026-03-01",
    "photo add zqmiddle.jpg --unit Spears --date 2026-03-02 --note zqphotonote",
    "photo add zqlast.jpg --unit Spears --date 2026-03-03",
    "add --unit Zqtakenback --models 2",
    "undo",
    "ranks set Spears --files 4 --ranks 2 --base 20x20",
)
NOTES = (
    "zqlinenote", "zqsparenote", "zqspareplace", "zqsparetag", "zqseller", "zqdealnote", "zqgiven", "12.37",
    "zqphotonote", "zqdraft", "zqtakenback", "zqexif", "zqrole", "zqfirst", "zqmiddle", "zqlast",
)  # fmt: skip
"""What nobody but the person at the desk sees."""
BOOK = ("zqrecipe", "zqarea", "zqpaint", "zqrecipenote", "zqprimer", "zqinstead")
COLOURS = {"zqfirst": (250, 10, 10), "zqmiddle": (10, 250, 10), "zqlast": (10, 10, 250)}
MACHINE = ("zquser", "zqhost", "zqhome")


class Given(NamedTuple):
    """Something that is given away: how it is made, and what it does not show."""

    words: str
    hidden: tuple[str, ...]


GIVEN = {
    "page.html": Given("report page.html --draws 100", (*NOTES, *BOOK, "zqputty", "zqawaynote")),
    "plain.html": Given(
        "report plain.html --plain --draws 100 --figures figures", (*NOTES, *BOOK, "zqputty", "zqawaynote")
    ),
    "cloaks.html": Given(
        'recipe sheet "Red cloaks" cloaks.html',
        (*NOTES, *(word for word in BOOK), "zqputty", "zqawaynote", "zqriders", "spears"),
    ),
    "spears.html": Given(
        "ranks sheet Spears spears.html", (*NOTES, *BOOK, "zqputty", "zqawaynote", "zqriders")
    ),
    "spears.svg": Given(
        "ranks sheet Spears spears.svg", (*NOTES, *BOOK, "zqputty", "zqawaynote", "zqriders")
    ),
    "desk.ics": Given("calendar desk.ics --draws 100", (*NOTES, *BOOK)),
    "evenings.csv": Given("export evenings evenings.csv", (*NOTES[1:], *BOOK, "zqputty", "zqawaynote")),
    "roster.csv": Given("export roster roster.csv", (*NOTES, *BOOK, "zqputty", "zqawaynote")),
    "all.json": Given("export all all.json", ("zqdraft", "zqtakenback", "zqexif", "zqfirst", "zqmiddle")),
}


def picture(file: Path, colour: tuple[int, int, int]) -> None:
    """A picture that carries a place, a comment and the name of a camera (Exif 2.32: 270, 271, 37510)."""
    exif = Image.Exif()
    exif[270] = exif[271] = "zqexif"
    exif.get_ifd(0x8825)[1] = "N"
    Image.new("RGB", (60, 40), colour).save(file, exif=exif, comment=b"zqexif")


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A log full of secrets, and everything that can be given away of it."""
    home = tmp_path_factory.mktemp("zqhome")
    for name, colour in COLOURS.items():
        picture(home / f"{name}.jpg", colour)
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(home)
        for name in ("USER", "LOGNAME", "USERNAME", "LNAME"):
            patch.setenv(name, "zquser")
        patch.setenv("HOME", str(home))
        patch.setenv("HOSTNAME", "zqhost")
        patch.setenv("LASTCOAT_CONFIG", str(home / "config.toml"))
        patch.setattr(socket, "gethostname", lambda: "zqhost")
        patch.setattr(platform, "node", lambda: "zqhost")
        assert getpass.getuser() == "zquser"
        desk = Desk(str(home / "log.db"))
        for line in LINES:
            said(desk, line)
        save_draft(desk, "zqdraft")
        for given in GIVEN.values():
            said(desk, given.words)
        said(desk, "photo pack photos.zip")
    return home


def said(desk: Desk, line: str) -> None:
    done = CliRunner().invoke(main, shlex.split(line), obj=desk)
    assert done.exit_code == 0, (line, done.output, done.exception)


def unpacked(data: bytes) -> str:
    """The text, and behind it what lies in it as base64: pictures, columns of figures (RFC 4648)."""
    text = data.decode("utf-8", "replace")
    inner = [
        base64.b64decode(part[: len(part) // 4 * 4])
        for part in re.findall(r"[A-Za-z0-9+/]{40,}", text)[:20000]
    ]
    return (text + "".join(part.decode("latin-1") for part in inner)).casefold()


@pytest.mark.parametrize("file", sorted(GIVEN))
def test_what_is_not_shown_is_not_in_it(folder: Path, file: str) -> None:
    held = unpacked((folder / file).read_bytes())
    assert [word for word in GIVEN[file].hidden if word.casefold() in held] == []
    assert [word for word in (*MACHINE, str(folder).casefold(), os.getcwd().casefold()) if word in held] == []  # noqa: PTH109


def test_the_secrets_would_have_been_found(folder: Path) -> None:
    held = unpacked((folder / "all.json").read_bytes())
    shown = {"zqlinenote", "zqsparenote", "zqseller", "zqrecipenote", "zqputty", "zqawaynote", "12.37"}
    assert {word for word in shown if word in held} == shown


def test_figures_hold_no_more_than_the_page(folder: Path) -> None:
    files = list((folder / "figures").iterdir())
    assert files
    for file in files:
        held = unpacked(file.read_bytes())
        assert [word for word in (*NOTES, *BOOK, *MACHINE, str(folder)) if word in held] == [], file.name


def test_pictures_on_the_page_are_the_first_and_the_newest(folder: Path) -> None:
    page = (folder / "page.html").read_text(encoding="utf-8")
    uris = set(re.findall(r"data:image/jpeg;base64,([A-Za-z0-9+/=]+)", page))
    colours = []
    for uri in uris:
        with Image.open(io.BytesIO(base64.b64decode(uri))) as shown:
            assert not shown.getexif()
            pixel = shown.convert("RGB").getpixel((5, 5))
            assert isinstance(pixel, tuple)
            colours.append(max(range(3), key=lambda part, seen=pixel: seen[part]))  # type: ignore[misc]
    assert sorted(colours) == [0, 2]


def test_packed_photos_carry_nothing_but_the_picture(folder: Path) -> None:
    with zipfile.ZipFile(folder / "photos.zip") as pack:
        held = [(one.filename, pack.read(one)) for one in pack.infolist()]
    assert held
    for name, data in held:
        assert not any(word in name for word in ("zq", "/home", ".."))
        assert b"zqexif" not in data


def test_the_page_loads_nothing_from_elsewhere(folder: Path) -> None:
    # HTML: src, href and url() are what a browser would fetch. The library of the figures is in the page.
    for file in ("page.html", "plain.html", "cloaks.html", "spears.html"):
        text = re.sub(r"(?s)<script\b.*?</script>", "", (folder / file).read_text(encoding="utf-8"))
        links = re.findall(r"""(?:src|href|action)\s*=\s*["']?([^"'\s>]+)|url\(["']?([^"')]+)""", text)
        assert [link for link in map("".join, links) if not link.startswith(("data:", "#"))] == []
        assert not re.search(r"<script[^>]+src=", (folder / file).read_text(encoding="utf-8"))
