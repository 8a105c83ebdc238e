"""What the quick commands load, seen in a process of their own."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.desks import with_spears

HEAVY = (
    "numpy", "scipy", "pandas", "sqlite_utils", "textual", "rich", "plotly", "dateutil", "jinja2",
    "icalendar", "asyncio", "rapidfuzz", "platformdirs", "tomlkit", "tomllib",
)  # fmt: skip
RUN = """
import os, sys
from tracker.cli.main import main
try:
    main(sys.argv[2:], prog_name="lastcoat")
except SystemExit as end:
    assert end.code in (0, None), end.code
print("LOADED", *sorted({name.partition(".")[0] for name in sys.modules}))
print("ROOMS", *sorted(name for name in sys.modules if name.startswith("tracker.")))
"""


def loaded(path: str, *words: str, **env: str) -> tuple[set[str], set[str]]:
    """Top-level modules, and our own, after the command ran."""
    done = subprocess.run(
        [sys.executable, "-c", RUN, "", *words],
        env=os.environ | {"LASTCOAT_DB": path} | env, capture_output=True, text=True, check=True,
    )  # fmt: skip
    lines = done.stdout.splitlines()
    modules = next(line for line in lines if line.startswith("LOADED"))
    rooms = next(line for line in lines if line.startswith("ROOMS"))
    return set(modules.split()[1:]), set(rooms.split()[1:])


@pytest.mark.parametrize(
    "words",
    [
        ("log", "--unit", "Spears", "--step", "cleaning"),
        ("log", "cleaned 2 spears, 5 min"),
        ("log", "cleaned 2 spears; 5 min; 20 min in all"),
        ("lamp", "on"),
        ("lamp",),
        ("undo",),
        ("evening", "--minutes", "5"),
        ("--help",),
        ("log", "--help"),
        ("completion", "bash"),
    ],
)
def test_quick_commands_load_nothing_heavy(tmp_path: Path, words: tuple[str, ...]) -> None:
    modules, _ = loaded(with_spears(tmp_path).path, *words)
    assert modules.isdisjoint(HEAVY)


def test_help_loads_no_command(tmp_path: Path) -> None:
    _, rooms = loaded(with_spears(tmp_path).path, "--help")
    commands = {room for room in rooms if room.startswith("tracker.cli.")}
    assert commands == {"tracker.cli.common", "tracker.cli.main"}
    assert not any(room.startswith("tracker.store") for room in rooms)


def test_completing_a_name_loads_nothing_heavy(tmp_path: Path) -> None:

    code = RUN.replace("main(sys.argv[2:]", "main([]").replace("try:", "import atexit\ntry:")
    # Completion leaves through the exit of its own, so the list is printed from an exit handler.
    code = code.replace(
        "import atexit\n", "import atexit\natexit.register(lambda: print('END', *sys.modules))\n"
    )
    env = os.environ | {
        "LASTCOAT_DB": with_spears(tmp_path).path, "_LASTCOAT_COMPLETE": "bash_complete",
        "COMP_WORDS": "lastcoat lo", "COMP_CWORD": "1",
    }  # fmt: skip
    done = subprocess.run([sys.executable, "-c", code], env=env, check=False, capture_output=True, text=True)
    assert "plain,log" in done.stdout
    modules = {name.partition(".")[0] for name in done.stdout.partition("END ")[2].split()}
    assert "click" in modules
    assert modules.isdisjoint(HEAVY)


def test_only_a_pending_migration_loads_the_migration_tool(tmp_path: Path) -> None:
    modules, _ = loaded(str(tmp_path / "new.db"), "add", "--unit", "Spears", "--models", "2")
    assert "sqlite_utils" in modules
    modules, _ = loaded(str(tmp_path / "new.db"), "add", "--unit", "Riders", "--models", "2")
    assert modules.isdisjoint(HEAVY)
