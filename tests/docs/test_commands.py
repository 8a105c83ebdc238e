"""Every command has help with an example, and the examples work."""

from __future__ import annotations

import re
import shlex
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import click
import pytest
from click.testing import CliRunner

from tests.docs.commands_page import every_command, help_of
from tracker.cli.main import COMMANDS, main
from tracker.domain.rows import RosterRow
from tracker.workbench.adding import add_unit
from tracker.workbench.desk import Desk
from tracker.workbench.ranks_rules import RankWish, set_ranks

EXAMPLE = re.compile(r"(?m)^ +(?:eval \"\$\()?(lastcoat [^)|#\n]*)")
PLANNED = "unit,step,models\nSpears,priming,20\n"
EVENINGS = "date,unit,step,models,minutes\n2026-03-03,Spears,cleaning,2,20\n"
ROSTER = "unit,models\nWardens,5\n"


def commands() -> Iterator[tuple[str, click.Command]]:
    ctx = click.Context(main)
    for name in every_command():
        command: click.Command | None = main
        for word in name.split():
            assert isinstance(command, click.Group)
            command = command.get_command(ctx, word)
        assert command is not None
        yield name, command


def examples(name: str) -> list[str]:
    usage, _, rest = help_of(name).partition("\n\n")
    assert usage.startswith("Usage: ")
    return [found.strip() for found in EXAMPLE.findall(rest)]


@pytest.mark.parametrize("name", every_command())
def test_every_command_shows_an_example_of_itself(name: str) -> None:
    assert any(f"{example} ".startswith(f"lastcoat {name} ") for example in examples(name))


def test_every_option_is_explained() -> None:
    for name, command in commands():
        for option in command.params:
            if isinstance(option, click.Option):
                assert (option.help or "").rstrip().endswith((".", ")")), f"{name} {option.name}"


def test_every_command_is_in_the_table_with_its_line() -> None:
    assert main.get_command(click.Context(main), "dance") is None
    assert all(words.endswith(".") for _, words in COMMANDS.values())


GOAL = 'goal add "Spring game" 2027-03-13 --unit Spears --unit Riders'

ROLES = ["add --spares 3", "role add Spears captain", "role add Spears banner"]
"""Spares, and roles that they could fill."""


PHOTO = "photo add spears.jpg --unit Spears"
RECIPE = 'recipe add "Red cloaks" "cloth: dark red, wash, orange edge; trim: gold"'


def test_help_fits_eighty_columns() -> None:
    for name in ("", *every_command()):
        assert max(map(len, help_of(name).splitlines())) <= 80


def table(folder: Path) -> Desk:
    """What the examples speak of."""
    for file, content in (("planned", PLANNED), ("evenings", EVENINGS), ("roster", ROSTER)):
        (folder / f"{file}.csv").write_text(content, encoding="utf-8")
    desk = Desk(str(folder / "log.db"))
    for unit, models in (("Spears", 20), ("Riders", 8)):
        add_unit(desk, RosterRow(unit, models, added=date(2026, 3, 1)))
    return desk


def some_pictures(folder: Path) -> None:
    """Files that the examples of photos name."""
    from PIL import Image

    for file in ("spears.jpg", "front.png", "back.png"):
        Image.new("RGB", (40, 30), "brown").save(folder / file)


@pytest.mark.parametrize("name", [name for name in every_command() if name not in ("demo", "serve")])
def test_the_examples_work(name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("LASTCOAT_CONFIG", str(tmp_path / "config.toml"))
    desk = table(tmp_path)
    if name == "add":
        desk = desk._replace(path=str(tmp_path / "fresh.db"))
    ready = {
        "evening": ["log --unit Spears --step cleaning", "log 2026-03-03 cleaning 1 spears"],
        "redo": ["undo"],
        "curing done": ['curing begin "putty on the captain"', 'log "varnished 2 spears"'],
        "caution": ["unit set Spears --material metal"],
        **{f"recipe {act}": [RECIPE] for act in ("show", "change", "step", "copy", "use", "rename", "drop")},
        "recipe sheet": [RECIPE],
        "recipe unuse": [RECIPE, 'recipe use "Red cloaks" --unit Spears'],
        "recipe from": ['log --unit Spears --step cleaning --note "cloth: dark red, wash"'],
        "paint needs": [RECIPE],
        "paint back": ['paint out "dark red"'],
        "plan drop": ["plan away 2027-04-01"],
        **{act: [GOAL] for act in ("goal set", "goal cut", "goal pick", "goal drop")},
        **{act: ["add --spares 3"] for act in ("unit role", "spare note", "spare take", "role")},
        **dict.fromkeys(("role match", "role fill", "role drop"), ROLES),
        "role free": [*ROLES, "role fill captain 1", "role fill banner 2"],
        "restore": ["backup"],
        "import": ["export all everything.json"],
        "merge": ["export all everything.json", "add --unit Bows --models 5 --db laptop.db"],
        **{act: ["source add bought --unit Spears"] for act in ("source set", "source drop")},
        **{f"photo {act}": [PHOTO] for act in ("show", "out", "drop", "tidy", "pack")},
        "photo unpack": [PHOTO, "photo pack photos.zip"],
        "ranks clear": ["ranks filler Spears 40x40 --at C3"],
    }
    if name.startswith("photo"):
        some_pictures(tmp_path)
    if name.startswith("ranks"):
        set_ranks(desk, "Spears", RankWish(5, 4, "20x20"))
    for line in [f"lastcoat {line}" for line in ready.get(name, [])] + examples(name):
        said = CliRunner().invoke(main, shlex.split(line)[1:], obj=desk)
        assert said.exit_code == 0, f"{line}: {said.output}"
