"""The tree holds the project and nothing of the machine it was made on."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.docs.places import ROOT

TOP = {"README.md", "DEVELOPERS.md", "pyproject.toml", "tracker", "tests", "demo_db", "docs"}
GROWN = {"__pycache__", "build", "dist", "node_modules"}
TEXT = {".py", ".md", ".toml", ".csv", ".json", ".html", ".css", ".tcss", ".txt", ".sql", ".svg", ""}
# One letter of each stands in a class of its own, so that this file does not find itself.
NOT_OURS = {
    "a path of one machine": r"(?<![\w.<])/(?:root|home|work|mnt|Users)/|/tm[p]/",
    "a package registry": r"pyp[i]\.org|python[h]osted\.org|registry\.np[m]js|deb\.debia[n]",
    "an unfinished place": r"\bTOD[O]\b|\bFIXM[E]\b|\bXX[X]\b|NotImplemente[d]Error",
    "a test that does not run": r"pytest\.(?:mark\.)?(?:ski[p]|xfai[l])|importorski[p]",
}


def files() -> list[Path]:
    """Every text file of the project; what tools leave behind and hidden folders apart."""
    tops = [ROOT / top for top in (*sorted(TOP), ".ci")]
    every = [path for top in tops for path in (sorted(top.rglob("*")) if top.is_dir() else [top])]
    return [p for p in every if p.is_file() and p.suffix in TEXT and not GROWN & set(p.parts)]


def test_the_top_level_is_the_house_and_nothing_else() -> None:
    shown = {path.name for path in ROOT.iterdir() if not path.name.startswith(".")}
    assert {name for name in shown - GROWN if not name.endswith(".egg-info")} == TOP


@pytest.mark.parametrize("what", NOT_OURS)
def test_nothing_is_in_the_tree_that_is_not_the_projects(what: str) -> None:
    pattern = re.compile(NOT_OURS[what])
    held = [
        f"{path.relative_to(ROOT)}: {found[0]}"
        for path in files()
        if (found := pattern.search(path.read_text(encoding="utf-8")))
    ]
    assert held == []


def test_every_folder_of_tests_is_a_package() -> None:
    folders = {path.parent for path in (ROOT / "tests").rglob("*.py")}
    assert [folder for folder in folders if not (folder / "__init__.py").exists()] == []
