"""Files that are written for others to read: whole or not at all, and never over something else."""

from __future__ import annotations

import os
from pathlib import Path

from tracker.domain.problems import Problem, UsageError
from tracker.workbench.desk import Desk


def where_to_write(desk: Desk, path: str, what: str, starts: tuple[bytes, ...], example: str) -> Path:
    """Where a file goes; a file that does not begin as a `what` does is never written over.

    `starts` are the ways such a file begins, in small letters.
    """
    if "\0" in path:
        raise UsageError(Problem(path, "no file can have this name", "Give another name"))
    target = Path(path)
    if target.is_dir():
        raise UsageError(Problem(path, "it is a folder", f"Give a file, like {example}"))
    if target.exists():
        if not target.is_file():
            raise UsageError(Problem(path, "it is no ordinary file", "Give another name"))
        with target.open("rb") as old:
            start = old.read(64).removeprefix(b"\xef\xbb\xbf").lstrip().lower()
        if start and not start.startswith(starts):
            raise UsageError(Problem(path, f"it holds something else than {what}", "Give another name"))
    if target.absolute() == Path(desk.path).absolute():
        raise UsageError(Problem(path, "it is the log itself", "Give another name"))
    return target


def write_whole(target: Path, data: bytes) -> None:
    """The file appears whole or stays as it was; a link keeps pointing to it."""
    target = Path(os.path.realpath(target))
    half_written = target.with_name(f".{target.name[:60]}.{os.getpid()}")
    try:
        with half_written.open("wb") as out:
            out.write(data)
            out.flush()
            os.fsync(out.fileno())  # else a loss of power could leave the name with nothing in it
        half_written.replace(target)
    finally:
        half_written.unlink(missing_ok=True)
