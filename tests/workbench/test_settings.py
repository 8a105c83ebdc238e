"""Settings: where they lie, what a file says, and that nothing the person wrote is lost (TOML 1.0)."""

from __future__ import annotations

import os
import tomllib
from pathlib import Path

import pytest

from tracker.domain.problems import DataError, UsageError
from tracker.tui.themes import THEMES as LOOKS
from tracker.workbench.settings import (
    THEMES,
    Settings,
    action_problems,
    read_settings,
    set_setting,
    settings_path,
)

OWN = """\
# my own
theme = "day"    # bright room

[keys]
lamp = "f2"  # out of the way
"""


def file(folder: Path, text: str) -> str:
    path = folder / "config.toml"
    path.write_text(text, encoding="utf-8")
    return str(path)


def test_where_they_lie(monkeypatch: pytest.MonkeyPatch) -> None:
    # XDG Base Directory Specification 0.8; our own variable wins.
    assert settings_path({"LASTCOAT_CONFIG": "a.toml", "XDG_CONFIG_HOME": "b"}) == "a.toml"
    assert settings_path({"XDG_CONFIG_HOME": "b"}) == os.path.join("b", "lastcoat", "config.toml")  # noqa: PTH118
    monkeypatch.delenv("XDG_CONFIG_HOME", raising=False)
    assert settings_path({}).endswith(os.path.join("lastcoat", "config.toml"))  # noqa: PTH118


def test_without_a_file_everything_is_ours(tmp_path: Path) -> None:
    read = read_settings(str(tmp_path / "none.toml"))
    assert (read.settings, read.problems) == (Settings(), ())
    assert {one.source for one in read.shown} == {"default"}


def test_the_looks_are_the_ones_that_there_are() -> None:
    assert set(THEMES) == set(LOOKS)


def test_each_value_says_where_it_is_from(tmp_path: Path) -> None:
    path = file(tmp_path, OWN)
    shown = {one.name: (one.value, one.source) for one in read_settings(path).shown}
    assert shown["theme"] == ("day", path)
    assert shown["animation"] == (False, "default")
    assert shown["keys.lamp"] == ("f2", path)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("theme = ", "it is not TOML"),
        ('them = "day"', 'no setting "them". Did you mean "theme"?'),
        ('theme = "dya"', 'Did you mean "day"?'),
        ("theme = 3", '"theme" cannot be 3'),
        ('animation = "yes"', "Say true or false"),
        ('week_start = "noday"', '"week_start" cannot be'),
        ('columns = ["hours", "weight"]', "Some of: models"),
        ("columns = []", "Some of: models"),
        ('[keys]\nlamp = ""', 'the key of "lamp" cannot be'),
        ("keys = 3", '"keys"'),
    ],
)
def test_what_is_wrong_is_one_line_and_ours_applies(tmp_path: Path, text: str, said: str) -> None:
    read = read_settings(file(tmp_path, text))
    (problem,) = read.problems
    assert said in str(problem)
    assert read.settings == Settings()


def test_what_is_right_beside_it_applies(tmp_path: Path) -> None:
    read = read_settings(file(tmp_path, 'theme = "stark"\nnonsense = 1\ncolumns = ["ready", "hours"]'))
    assert len(read.problems) == 1
    assert read.settings == Settings("stark", columns=("ready", "hours"))


@pytest.mark.parametrize("content", [b"\xff\xfe", b"theme = 'day'\x00", b"#" * 1_000_001])
def test_no_file_breaks_it(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "config.toml"
    path.write_bytes(content)
    read = read_settings(str(path))
    assert (len(read.problems), read.settings) == (1, Settings())
    assert read_settings(str(tmp_path)).problems


def test_setting_one_keeps_every_comment(tmp_path: Path) -> None:
    path = file(tmp_path, OWN)
    set_setting(path, "theme", "stark")
    set_setting(path, "keys.undo", "f9")
    set_setting(path, "animation", "yes")
    set_setting(path, "columns", "hours, ready")
    text = Path(path).read_text(encoding="utf-8")
    for kept in ("# my own", "# bright room", 'lamp = "f2"  # out of the way'):
        assert kept in text
    assert tomllib.loads(text) == {
        "theme": "stark", "animation": True, "columns": ["hours", "ready"],
        "keys": {"lamp": "f2", "undo": "f9"},
    }  # fmt: skip
    assert read_settings(path).problems == ()


def test_setting_makes_the_file_and_its_folder(tmp_path: Path) -> None:
    path = tmp_path / "deep" / "config.toml"
    set_setting(str(path), "keys.lamp", "f2,l")
    assert read_settings(str(path)).settings.keys == (("lamp", "f2,l"),)
    assert [one.name for one in path.parent.iterdir()] == ["config.toml"]


@pytest.mark.parametrize(
    ("name", "value"),
    [("theme", "pink"), ("nonsense", "1"), ("keys.", "x"), ("keys.lamp", "a b"), ("keys", "x")],
)
def test_what_cannot_be_set_is_not(tmp_path: Path, name: str, value: str) -> None:
    path = file(tmp_path, OWN)
    with pytest.raises(UsageError):
        set_setting(path, name, value)
    assert Path(path).read_text(encoding="utf-8") == OWN


def test_a_broken_file_is_not_written_over(tmp_path: Path) -> None:
    path = file(tmp_path, "theme = ")
    with pytest.raises(DataError, match="not TOML"):
        set_setting(path, "theme", "day")
    assert Path(path).read_text(encoding="utf-8") == "theme = "


def test_keys_for_actions_nobody_knows(tmp_path: Path) -> None:
    read = read_settings(file(tmp_path, '[keys]\nlmap = "f2"\nundo = "f9"'))
    (problem,) = action_problems(read, ["lamp", "undo"])
    assert 'no action "lmap". Did you mean "lamp"?' in str(problem)
