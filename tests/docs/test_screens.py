"""The pictures load nothing, are well formed, and are the same wherever they are drawn."""

from __future__ import annotations

import re
import shlex
import tomllib
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest
from click.testing import CliRunner
from rich.segment import Segment
from rich.style import Style

from tests.docs.places import DOCS
from tests.docs.screens import SCREENS, Screen
from tests.docs.screens_drawn import CLOCK, drawn
from tests.docs.screens_page import FOLDER
from tests.docs.screens_svg import CELL, EDGE, svg
from tests.docs.settings_page import MEANING, plain_names
from tracker.cli.main import main
from tracker.tui.actions import ACTIONS, HELP, action_id
from tracker.workbench.demo import make_demo
from tracker.workbench.desk import Desk
from tracker.workbench.settings import Settings, action_problems, read_settings

SVG = "{http://www.w3.org/2000/svg}"
LARGEST_BYTES = 20_000
GROUND = Style(color="#d9d4c7", bgcolor="#14171c")


@pytest.mark.parametrize("screen", SCREENS, ids=lambda one: one.name)
def test_a_picture_is_small_and_loads_nothing(screen: Screen) -> None:
    text = (FOLDER / f"{screen.name}.svg").read_text(encoding="utf-8")
    assert len(text.encode()) < LARGEST_BYTES
    assert re.findall(r"https?:[^\"]*", text) == ["http://www.w3.org/2000/svg"]
    assert not re.search(r"url\(|href|<style|<script|@", text)
    # SVG 2 (W3C), section 5.7: the title names the picture to those who do not see it.
    assert ET.fromstring(text).findtext(f"{SVG}title") == screen.title  # noqa: S314 - our own text


def test_the_same_bytes_are_drawn_in_another_terminal_time_zone_and_look(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    (tmp_path / "mine.toml").write_text('theme = "day"\n', encoding="utf-8")
    here = drawn("entry", "lamp_out")
    for name, value in {
        "TZ": "Pacific/Auckland",
        "NO_COLOR": "1",
        "TERM": "dumb",
        "COLUMNS": "60",
        "TEXTUAL_THEME": "day",
        "LASTCOAT_CONFIG": str(tmp_path / "mine.toml"),
    }.items():
        monkeypatch.setenv(name, value)
    monkeypatch.delenv("COLORTERM", raising=False)
    assert drawn("entry", "lamp_out") == here
    assert set(here) == {"entry", "lamp_out"}


def test_columns_stay_columns_and_signs_are_escaped() -> None:
    lines = [
        [Segment("<a & b>", GROUND), Segment("   ", GROUND), Segment("火 c", GROUND + Style(bold=True))],
        [Segment("   ", GROUND)],
    ]
    texts = list(ET.fromstring(svg(lines, "A <title>")).iter(f"{SVG}tspan"))  # noqa: S314 - our own text
    # UAX 11 (Unicode): the sign for fire is wide and takes two cells.
    assert [(t.text, t.get("x"), t.get("textLength")) for t in texts] == [
        ("<a & b>", str(EDGE), str(7 * CELL)),
        ("火 c", str(EDGE + 10 * CELL), str(4 * CELL)),
    ]
    assert [t.get("font-weight") for t in texts] == [None, "bold"]


def test_what_is_turned_round_has_its_colours_changed_over() -> None:
    lines = [[Segment("on", GROUND + Style(reverse=True))], [Segment("  ", GROUND)]]
    picture = ET.fromstring(svg(lines, "Turned"))  # noqa: S314 - our own text
    grounds = [rect.get("fill") for rect in picture.iter(f"{SVG}rect")]
    assert grounds == ["#14171c", "#d9d4c7"]
    assert next(picture.iter(f"{SVG}tspan")).get("fill") == "#14171c"


def test_the_commands_beside_the_pictures_work_on_the_demo_one_after_the_other(tmp_path: Path) -> None:
    desk = Desk(make_demo(tmp_path / "demo").path, now=lambda: CLOCK)
    assert CliRunner().invoke(main, ["lamp", "on"], obj=desk).exit_code == 0
    for screen in SCREENS:
        program, *words = shlex.split(screen.command)
        assert program == "lastcoat"
        said = CliRunner().invoke(main, words, obj=desk)
        assert said.exit_code == 0, f"{screen.command}: {said.output}"
        assert said.stdout.strip()


def test_the_settings_file_of_the_page_is_what_applies_without_it(tmp_path: Path) -> None:
    assert set(MEANING) == set(plain_names())
    page = (DOCS / "settings.md").read_text(encoding="utf-8")
    blocks = re.findall(r"(?m)(?:^    (?!lastcoat ).*\n)+", page)
    whole = "".join(block.replace("    ", "") for block in blocks)
    assert set(tomllib.loads(whole)) == {*plain_names(), "keys"}
    path = tmp_path / "config.toml"
    path.write_text(whole, encoding="utf-8")
    read = read_settings(str(path))
    assert read.problems == ()
    assert read.settings._replace(keys=()) == Settings()
    assert read.settings.keys
    assert action_problems(read, map(action_id, (*ACTIONS, HELP))) == ()
