"""Imports that wait inside functions hide a misspelt name until they run: here every one of them runs."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path
from types import ModuleType

import pytest

import tracker
from tracker.cli.main import BARE, COMMANDS

ROOM = Path(tracker.__file__).parent
PLACES = [(ROOM, "tracker"), (ROOM.parent / "demo_db", "demo_db")]


def late_imports() -> Iterator[tuple[str, str, str]]:
    """Where it stands, module and name of every import below the top of a module."""
    for folder, _ in PLACES:
        for path in sorted(folder.rglob("*.py")):
            tree = ast.parse(path.read_text(encoding="utf-8"))
            tops = {id(node) for node in tree.body}
            for node in ast.walk(tree):
                if isinstance(node, ast.ImportFrom) and id(node) not in tops:
                    where = f"{path.relative_to(folder.parent)}:{node.lineno}"
                    yield from ((where, node.module or "", name.name) for name in node.names)
                elif isinstance(node, ast.Import) and id(node) not in tops:
                    yield from ((str(path), name.name, "") for name in node.names)


LATE = list(late_imports())


def test_there_are_some() -> None:
    assert len(LATE) > 50


@pytest.mark.parametrize("module", sorted({module for _, module, _ in LATE}))
def test_what_is_imported_late_is_there(module: str) -> None:
    found = import_module(module)
    for where, _, name in (late for late in LATE if late[1] == module):
        assert not name or hasattr(found, name) or _is_module(found, name), f"{where}: {module}.{name}"


def _is_module(package: ModuleType, name: str) -> bool:
    return import_module(f"{package.__name__}.{name}") is not None


@pytest.mark.parametrize("name", [*COMMANDS, BARE])
def test_every_command_of_the_table_is_there(name: str) -> None:
    command = import_module("tracker.cli." + COMMANDS[name][0]).command
    assert command.name in {name, "command"}
