"""The text of a file that a person names, or one problem that says why there is none."""

from __future__ import annotations

import os
import stat
import sys
from pathlib import Path
from typing import BinaryIO

from tracker.domain.problems import Problem

BYTES_MOST = 64 * 1024 * 1024
"""About a million rows; more than that is not a sheet somebody keeps."""
_AS_UTF8 = "Save it again as UTF-8 (CSV with UTF-8 encoding)"


def read_text(path: str | Path, stdin: BinaryIO | None = None) -> str | Problem:
    """The text of a file; "-" reads standard input. A byte-order mark is dropped.

    Line ends stay as they are, since a cell may hold some. A missing or unreadable file, a folder, a named
    pipe, more than `BYTES_MOST` bytes and anything but UTF-8 are problems.
    """
    try:
        if str(path) == "-":
            raw = (stdin or sys.stdin.buffer).read(BYTES_MOST + 1)
        else:
            if _named_pipe(path):
                return Problem(str(path), "it is a pipe", 'Say "-" for its name and put it behind a "<"')
            with Path(path).open("rb") as file:
                raw = file.read(BYTES_MOST + 1)
    except (OSError, ValueError) as error:
        return unreadable(str(path), error)
    if len(raw) > BYTES_MOST:
        megabytes = BYTES_MOST // (1024 * 1024)
        return Problem(str(path), f"it is larger than {megabytes} MB", "Split it into smaller files")
    return decode(raw, str(path))


def _named_pipe(path: str | Path) -> bool:
    """Whether it would be waited for until somebody writes; a shell's own pipes have a writer."""
    if str(path).startswith(("/dev/", "/proc/")):
        return False
    try:
        return stat.S_ISFIFO(os.stat(path).st_mode)  # noqa: PTH116
    except (OSError, ValueError):  # opening it tells what is wrong
        return False


def decode(raw: bytes, where: str) -> str | Problem:
    """UTF-8 bytes as text, without the byte-order mark; a problem tells the first bad byte and row."""
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        if raw.startswith((b"\xff\xfe", b"\xfe\xff")):
            return Problem(where, "it is UTF-16, not UTF-8", _AS_UTF8)
        # The codec counts from behind the mark that it took away.
        at = error.start + (3 if raw.startswith(b"\xef\xbb\xbf") else 0)
        row = raw.count(b"\n", 0, at) + 1
        return Problem(where, f"it is not UTF-8: byte {at} (line {row}) is 0x{raw[at]:02x}", _AS_UTF8)


def unreadable(where: str, error: OSError | ValueError) -> Problem:
    """Why a file cannot be read, in plain words."""
    if isinstance(error, FileNotFoundError):
        return Problem(where, "there is no such file", "Check the name and the folder")
    if isinstance(error, IsADirectoryError):
        return Problem(where, "it is a folder", "Name a file in it")
    if isinstance(error, PermissionError):
        return Problem(where, "it may not be read", "Check who may read it")
    reason = (error.strerror or "it cannot be read") if isinstance(error, OSError) else "it is no file name"
    return Problem(where, reason[:1].lower() + reason[1:], "Check the name and the folder")
