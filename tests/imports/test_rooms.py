"""What a room loads, seen from outside: in a process of its own, by the list of its modules."""

from __future__ import annotations

import json
import subprocess
import sys
import tomllib
from importlib import import_module
from pathlib import Path
from pkgutil import iter_modules, walk_packages

import pytest

from tests.desks import with_spears

HEAVY = {"plotly", "textual", "rich", "jinja2", "icalendar", "pandas", "sqlite_utils", "asyncio"}
_SHOW = "\nimport json, sys\nprint(json.dumps(sorted(sys.modules)), file=sys.stderr)"


def loaded(script: str) -> set[str]:
    """Top names of all modules that a script has loaded at its end."""
    return {name.partition(".")[0] for name in modules(script)}


def modules(script: str) -> set[str]:
    """All modules that a script has loaded at its end."""
    done = subprocess.run([sys.executable, "-c", script + _SHOW], capture_output=True, text=True, check=True)
    names: list[str] = json.loads(done.stderr.splitlines()[-1])
    return set(names)


def every_module_of(room: str) -> str:
    """A script that imports a whole room."""
    package = import_module(f"tracker.{room}")
    names = [found.name for found in walk_packages(package.__path__, f"{package.__name__}.")]
    return "\n".join(f"import {name}" for name in [package.__name__, *names])


def bare() -> set[str]:
    """What the interpreter of this environment loads before any line of a program."""
    return loaded("")


def test_the_domain_loads_the_standard_library_only() -> None:
    grown = loaded(every_module_of("domain")) - bare() - set(sys.stdlib_module_names)
    assert grown == {"tracker"}


def test_the_domain_loads_no_other_room() -> None:
    rooms = {name.split(".")[1] for name in modules(every_module_of("domain")) if name.startswith("tracker.")}
    assert rooms == {"domain"}


@pytest.mark.parametrize(
    ("room", "may"),
    [
        ("sheets", {"rapidfuzz"}),
        ("pace", {"numpy", "scipy", "cython_runtime"}),
        ("forecast", {"numpy", "scipy", "cython_runtime", "dateutil", "six"}),
    ],
)
def test_a_middle_room_loads_what_it_may(room: str, may: set[str]) -> None:
    grown = loaded(every_module_of(room)) - bare() - set(sys.stdlib_module_names)
    assert {name for name in grown if not name.startswith("_")} - may == {"tracker"}


def test_no_room_loads_the_slow_part_of_scipy() -> None:
    rooms = [every_module_of(room) for room in ("pace", "forecast", "report", "workbench")]
    assert not {"scipy.stats", "scipy.optimize"} & modules("\n".join(rooms))


@pytest.mark.parametrize("words", ["forecast", "backlog", "pace"])
def test_an_answer_in_words_loads_nothing_for_pages_or_screens(words: str, tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    script = (
        "from tracker.cli.main import main\n"
        f"try: main({['--db', desk.path, words]!r})\n"
        "except SystemExit as end: assert not end.code, end.code\n"
    )
    assert not HEAVY & loaded(script)


def test_the_contract_about_the_database_names_every_other_room() -> None:
    read = tomllib.loads((Path(__file__).parents[2] / "pyproject.toml").read_text(encoding="utf-8"))
    contracts = read["tool"]["importlinter"]["contracts"]
    (named,) = (
        set(c["source_modules"]) for c in contracts if c.get("forbidden_modules") == ["tracker.store"]
    )
    rooms = {f"tracker.{found.name}" for found in iter_modules(import_module("tracker").__path__)}
    assert named == rooms - {"tracker.domain", "tracker.store", "tracker.workbench"}
