"""What the program makes for itself is its owner's alone, even where the system would let all read it.

umask(2): with 0, a file is as open as the program asks for. XDG Base Directory Specification 0.8: folders
are made with mode 0700. Files that are written to be given away (pages, sheets, calendar, photos taken
out, packs) follow the umask, as every file a person saves does.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from PIL import Image

from tests.store.test_migrations import an_old_log

GIVEN_AWAY = ("page.html", "figures", "desk.ics", "all.json", "evenings.csv", "out.jpg", "photos.zip")
COMMANDS = (
    "add --unit Spears --models 5",
    "config set theme day",
    "lamp on",
    "log --unit Spears --step cleaning --models 2 --minutes 20",
    "lamp off",
    "photo add {folder}/spears.jpg --unit Spears",
    "photo out 1 {folder}/out.jpg",
    "photo pack {folder}/photos.zip",
    "export all {folder}/all.json",
    "export evenings {folder}/evenings.csv",
    "report {folder}/page.html --plain --draws 100 --figures {folder}/figures",
    "calendar {folder}/desk.ics --draws 100",
)
CHILD = """
import json, os, stat, sys
from pathlib import Path
os.umask(0)
from click.testing import CliRunner
from tracker.cli.common import default_path
from tracker.cli.main import main
from tracker.workbench.desk import Desk
from tracker.workbench.drafts import save_draft
for line in json.loads(sys.argv[1]):
    done = CliRunner().invoke(main, line.split())
    assert done.exit_code == 0, (line, done.output, done.exception)
modes = {}
def look(root):
    for path in (root, *root.rglob("*")):
        modes[str(path)] = oct(stat.S_IMODE(path.lstat().st_mode))
desk = Desk(sys.argv[3] if len(sys.argv) > 3 else default_path())
save_draft(desk, "half typed")
with desk.open() as store, store.change("x"):
    look(Path(sys.argv[2]))
print(json.dumps(modes))
"""


def modes_of(folder: Path, commands: tuple[str, ...], *log: str) -> dict[str, str]:
    """The modes of all that lies in the folder after the commands, while the log is still open."""
    env = {key: said for key, said in os.environ.items() if not key.startswith(("LASTCOAT", "XDG"))}
    told = [line.format(folder=folder) for line in commands]
    done = subprocess.run(
        [sys.executable, "-c", CHILD, json.dumps(told), str(folder), *log],
        env=env | {"HOME": str(folder)}, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    found: dict[str, str] = json.loads(done.stdout)
    return {path.removeprefix(f"{folder}/"): mode for path, mode in found.items() if path != str(folder)}


def is_given_away(name: str) -> bool:
    return name.partition("/")[0] in (*GIVEN_AWAY, "spears.jpg")


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    folder = tmp_path_factory.mktemp("home")
    Image.new("RGB", (40, 30), "brown").save(folder / "spears.jpg")
    return modes_of(folder, COMMANDS)


def test_the_programs_own_files_are_the_owners(made: dict[str, str]) -> None:
    own = {name: mode for name, mode in made.items() if not is_given_away(name)}
    names = {Path(name).name for name in own}
    assert names >= {"lastcoat.db", "lastcoat.db-wal", "lastcoat.db-shm", "lastcoat-photos", "config.toml"}
    assert {name: mode for name, mode in own.items() if mode not in ("0o600", "0o700")} == {}


def test_folders_on_the_way_are_the_owners_too(made: dict[str, str]) -> None:
    ways = [name for name in made if not is_given_away(name) and "." not in Path(name).name[1:]]
    assert len(ways) >= 3
    assert {made[name] for name in ways} == {"0o700"}


def test_what_is_given_away_follows_the_umask(made: dict[str, str]) -> None:
    assert {name: made[name] for name in GIVEN_AWAY} == {
        name: "0o777" if name == "figures" else "0o666" for name in GIVEN_AWAY
    }


def test_nothing_half_written_is_left(made: dict[str, str]) -> None:
    assert not [name for name in made if "unready" in name or Path(name).name.startswith(".spears")]


@pytest.mark.parametrize("schema", [1, 5])
def test_the_copy_before_a_migration_is_the_owners(tmp_path: Path, schema: int) -> None:
    folder = tmp_path / "home"
    desk = an_old_log(folder, schema)
    Path(desk.path).chmod(0o600)
    modes = modes_of(folder, (), desk.path)
    assert any("schema" in name or "backup" in name for name in modes)
    assert {name: mode for name, mode in modes.items() if mode not in ("0o600", "0o700")} == {}


def test_the_folder_of_the_demo_is_the_owners(tmp_path: Path) -> None:
    child = (
        "import os, sys; os.umask(0)\n"
        "from pathlib import Path\nimport tracker.workbench.demo as demo\n"
        "demo._fill = lambda desk: None\ndemo.make_demo(Path(sys.argv[1]))"
    )
    folder = tmp_path / "above" / "demo"
    subprocess.run([sys.executable, "-c", child, str(folder)], check=True)
    assert {oct(one.stat().st_mode & 0o777) for one in (folder, folder.parent)} == {"0o700"}
