"""Where the pages lie."""

from __future__ import annotations

from pathlib import Path

ROOT = Path(__file__).parents[2]
DOCS = ROOT / "docs"
README = ROOT / "README.md"
DEVELOPERS = ROOT / "DEVELOPERS.md"
NOTE = "<!-- Generated: python -m tests.docs.make_pages -->"


def pages() -> list[Path]:
    """Every page of the project, in a fixed order."""
    return [README, DEVELOPERS, *sorted(DOCS.rglob("*.md"))]
