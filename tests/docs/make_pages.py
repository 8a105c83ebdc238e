"""Writes the pages that are generated: python -m tests.docs.make_pages; --check only compares."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path

from tests.docs.commands_page import commands_page
from tests.docs.guess_pictures import guess_page
from tests.docs.places import DOCS, README, ROOT
from tests.docs.schema_page import schema_page
from tests.docs.screens_page import screens_page, stale_pictures, write_pictures
from tests.docs.settings_page import settings_page
from tests.docs.tour import shape, tour, words_of

PAGES: dict[Path, Callable[[], str]] = {
    DOCS / "commands.md": commands_page,
    DOCS / "schema.md": schema_page,
    DOCS / "how-it-guesses.md": guess_page,
    DOCS / "screens.md": screens_page,
    DOCS / "settings.md": settings_page,
    README: tour,
}
"""File -> what should stand in it."""


def is_stale(page: Path) -> bool:
    """Whether the file says something else than the program."""
    stands = page.read_text(encoding="utf-8") if page.exists() else ""
    should = PAGES[page]()
    if page == README:
        return shape(stands) != shape(should)
    if page == DOCS / "how-it-guesses.md":
        return words_of(stands) != words_of(should)
    if page == DOCS / "screens.md":
        return stands != should or bool(stale_pictures())
    return stands != should


def main(words: list[str]) -> int:
    """Write the stale pages and name them, or only name them; the exit status."""
    if words not in ([], ["--check"]):
        sys.stderr.write("Say nothing, or --check.\n")
        return 2
    if words:
        stale = [page for page in PAGES if is_stale(page)]
        sys.stderr.writelines(f"{page.relative_to(ROOT)} is not up to date\n" for page in stale)
        return 1 if stale else 0
    for page, write in PAGES.items():
        page.write_text(write(), encoding="utf-8")
    write_pictures()
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
