"""Folders that are made for a person's own files."""

from __future__ import annotations

import os
from contextlib import suppress


def make_own_folder(folder: str) -> None:
    """Make a folder and those above it that are missing, each for its owner alone; else `OSError`.

    Mode 0700 for every one of them is asked by the XDG Base Directory Specification 0.8 (Referencing this
    specification); `os.makedirs` gives it to the last one only.
    """
    missing = []
    while folder and not os.path.isdir(folder):  # noqa: PTH112 - pathlib would cost the hot path
        missing.append(folder)
        folder = os.path.dirname(folder)  # noqa: PTH120
    for one in reversed(missing):
        with suppress(FileExistsError):  # by another process meanwhile; a file in its place is told later
            os.mkdir(one, 0o700)  # noqa: PTH102
